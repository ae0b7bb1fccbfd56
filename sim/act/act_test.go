package act_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/act"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func TestCatalogueRowsAreInFormOrder(t *testing.T) {
	for i, u := range act.Usages() {
		assert.Equal(t, act.Form(i), u.Form, "row %d: %s", i, u.Line)
		assert.Equal(t, u.Line, act.Form(i).String())
		assert.False(t, u.Help.IsZero())
	}
	assert.Equal(t, "sign off", act.SignOff.String())
}

func TestParse(t *testing.T) {
	in := func(n float64) quantity.Entered { return quantity.Entered{Number: n, Unit: quantity.UnitInch} }
	mm := func(n float64) quantity.Entered { return quantity.Entered{Number: n, Unit: quantity.UnitMM} }
	for text, want := range map[string]act.Act{
		"fit depth shim 0.030":                          {Form: act.FitDepthShim, Amounts: []quantity.Entered{in(0.030)}},
		"Fit Depth-Shim 0.76 mm":                        {Form: act.FitDepthShim, Amounts: []quantity.Entered{mm(0.76)}},
		"fit side shims ring-gear .070 opposite 1.8 mm": {Form: act.FitSideShims, Amounts: []quantity.Entered{in(.070), mm(1.8)}},
		"tighten nut 15":                                {Form: act.TightenNutAngle, Amounts: []quantity.Entered{{Number: 15, Unit: quantity.UnitDegree}}},
		"tighten nut to 250":                            {Form: act.TightenNutTorque, Amounts: []quantity.Entered{{Number: 250, Unit: quantity.UnitFootLb}}},
		"tighten nut 0.5 turns":                         {Form: act.TightenNutAngle, Amounts: []quantity.Entered{{Number: 180, Unit: quantity.UnitDegree}}},
		"measure torque breakaway string":               {Form: act.MeasureTorque, Choices: []act.Option{"breakaway", "string"}},
		"mount indicator heel square pinion held":       {Form: act.MountIndicator, Choices: []act.Option{"heel", "square", "pinion-held"}},
		"measure backlash 4":                            {Form: act.MeasureBacklash, Amounts: []quantity.Entered{{Number: 4, Unit: quantity.UnitTurn}}},
		"record total torque 24":                        {Form: act.RecordValue, Choices: []act.Option{"total-torque"}, Amounts: []quantity.Entered{{Number: 24, Unit: quantity.UnitInchLb}}},
		"sign-off":                                      {Form: act.SignOff},
		"turn pinion 5":                                 {Form: act.TurnPinion, Amounts: []quantity.Entered{{Number: 5, Unit: quantity.UnitTurn}}},
	} {
		got, err := act.Parse(text, quantity.Inch)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	// Other words of the shop mean the same acts.
	for said, want := range map[string]string{
		"look cup": "inspect cups", "check the caps": "inspect caps", "turn nut 10 deg": "tighten nut 10deg", "back off nut 5 deg": "loosen nut 5deg",
		"measure drag first pull cord": "measure torque breakaway string", "measure turning torque wrench": "measure torque rotating wrench",
		"install pack 0.050": "fit preload-shims 0.05in", "fit pinion trial": "fit pinion mock-up", "replace crush sleeve": "replace spacer",
		"turn ring gear adjuster in 3 slots": "turn ring-gear-adjuster in 3", "fit side shims back .070 tooth .072": "fit side-shims ring-gear 0.07in opposite 0.072in",
		"measure backlash 4 places": "measure backlash 4", "slacken caps": "loosen caps", "signoff": "sign off",
	} {
		got, err := act.Parse(said, quantity.Inch)
		require.NoError(t, err, said)
		assert.Equal(t, want, got.String(), said)
	}
	got, err := act.Parse("fit depth-shim 0.76", quantity.Metric)
	require.NoError(t, err)
	assert.Equal(t, []quantity.Entered{mm(0.76)}, got.Amounts)
}

func TestParseSaysWhatWouldBeRight(t *testing.T) {
	for line, want := range map[string]string{
		"":                               "empty",
		"weld housing":                   "acts begin with inspect, measure, wash",
		"fit":                            "depth-shim, preload-shims, pinion, side-shims or case",
		"fit wheel":                      "depth-shim, preload-shims, pinion, side-shims or case",
		"fit depth-shim":                 "the length is missing",
		"fit depth-shim 12 lb-ft":        "not a length",
		"fit depth-shim -0.030in":        "above zero",
		"fit pinion":                     "choose mock-up or final",
		"fit pinion half":                "none of mock-up and final",
		"fit case now":                   "more than the act takes",
		"measure backlash 2.5":           "whole number of places",
		"measure backlash 40":            "whole number of places",
		"turn ring-gear-adjuster in 0.3": "in halves",
		"turn opposite-adjuster 3":       "none of in and out",
		"tighten nut to 30deg":           "not a torque",
		strings.Repeat("fit case ", 100): "longer than",
	} {
		_, err := act.Parse(line, quantity.Inch)
		require.Error(t, err, line)
		assert.Contains(t, text.NewPrinter(quantity.Inch, text.Overlay{}).Error(err), want, line)
	}
}

// Whatever reads as an act writes as a line that reads as the same act, in either
// unit system: a record means the same wherever it is opened.
func FuzzParse(f *testing.F) {
	for _, u := range act.Usages() {
		line := u.Line
		for blank, value := range map[string]string{"{length}": "0.0305in", "{torque}": "250 lb-ft", "{angle}": "12.5deg",
			"{turns}": "6", "{places}": "4", "{notches}": "1.5", "{amount}": "0.165mm"} {
			line = strings.ReplaceAll(line, blank, value)
		}
		for strings.Contains(line, "{") {
			i, j := strings.Index(line, "{"), strings.Index(line, "}")
			line = line[:i] + strings.Split(line[i+1:j], "|")[0] + line[j+1:]
		}
		f.Add(line)
		_, err := act.Parse(line, quantity.Inch)
		require.NoError(f, err, "every row of the catalogue can be said")
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := act.Parse(text, quantity.Inch)
		if err != nil {
			return
		}
		for _, s := range []quantity.System{quantity.Inch, quantity.Metric} {
			again, err := act.Parse(a.String(), s)
			if err != nil || again.String() != a.String() {
				t.Fatalf("%q -> %q -> %v, %v", text, a.String(), again, err)
			}
			assert.Equal(t, a, again)
		}
	})
}
