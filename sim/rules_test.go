package sim_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// example says a form with amounts that any axle of the family takes.
func example(t testing.TB, u act.Usage) act.Act {
	t.Helper()
	line := u.Line
	for blank, value := range map[string]string{"{length}": "0.030in", "{torque}": "150lb-ft", "{angle}": "5deg",
		"{turns}": "3", "{places}": "2", "{notches}": "1.5", "{amount}": "0.165mm"} {
		if strings.Contains(line, "side-shims") && blank == "{length}" {
			value = "0.072in"
		}
		line = strings.ReplaceAll(line, blank, value)
	}
	for strings.Contains(line, "{") {
		open, closed := strings.Index(line, "{"), strings.Index(line, "}")
		first, _, _ := strings.Cut(line[open+1:closed], "|")
		line = line[:open] + first + line[closed+1:]
	}
	return parse(t, line)
}

// wholeJob is a job that does every act of the catalogue at least once.
func wholeJob() []string {
	return []string{
		"inspect cups", "inspect bearings", "inspect spacer", "inspect cones", "inspect caps", "inspect seal", "inspect shim-seat", "inspect bolts", "inspect gears",
		"measure bearings", "measure pinion-runout", "test indicator", "test string", "test gauge", "clean shim-seat", "replace slinger", "replace gears", "replace bearings", "seat cups", "grease bearings", "wash bearings", "seat cones", "replace side-bearings", "match caps", "clean ring-gear", "measure case-runout",
		"replace case", "replace seal", "replace spacer",
		"fit depth-shim 0.030in", "measure depth-shim", "fit pinion mock-up", "turn pinion 3", "measure depth",
		"measure torque rotating wrench", "remove pinion", "fit pinion final", "tighten nut to 150lb-ft", "tighten nut 100deg",
		"turn pinion 5", "measure torque rotating string", "measure torque breakaway wrench", "loosen nut 2deg", "tighten nut 30deg", "measure pinion-end-play",
		"fit side-shims ring-gear 0.074in opposite 0.074in", "measure side-shims", "fit case", "inspect axle-shafts", "remove axle-shafts", "measure end-play", "torque caps", "measure spread", "measure runout", "measure radial-runout",
		"mount indicator heel square pinion-held", "expect 0.0065in", "measure backlash 4", "paint teeth thin", "roll gears braked",
		"measure torque rotating wrench", "record backlash 0.165mm", "remove case",
		"fit side-shims ring-gear 0.072in opposite 0.076in", "fit case", "torque caps", "sign off",
	}
}

// An axle where every inspection has something to find, so that a refused act has
// something to spoil.
func allWrong() truth.Axle {
	x := handMade()
	x.InnerCupGapMM, x.OuterCupGapMM, x.InnerCupHoldN, x.OuterCupHoldN = 0.1, 0.1, 12_000, 12_000
	x.RingGearConeGapMM, x.IndicatorLoose, x.PackedInGrease = 0.1, true, true
	x.Effects = []truth.Effect{{Of: fault.CapsSwapped, CaseNmm: 2500, CaseWanderMM: 0.03}, {Of: fault.CapTurned, CaseNmm: 1500, CaseWanderMM: 0.03}}
	x.SealDragNmm, x.WrenchGain, x.DepthLotMM, x.SetUpTallMM = 1200, 0.2, 0.05, 0.07
	x.GearDirtTIRMM, x.FlangeTIRMM = 0.12, 0.11
	x.Spacers[0].AlreadyCrushedMM = 0.5
	x.OppositeConeGapMM, x.ShimDirtMM, x.NutGripGone = 0.1, 0.06, true
	x.GritNmm, x.MixedShare, x.GearShortMM, x.WarpTIRMM, x.WarpWaves, x.RadialTIRMM, x.PinionTIRMM = 400, 0.3, 0.2, 0.15, 2, 0.3, 0.1
	x.SlingerOutMM, x.GaugeOffMM, x.NextMarkMM, x.GearLooseMM, x.Spacers[0].ShorterMM = 0.1, 0.1, 0.02, 0.04, 0.3
	x.NotchNmm, x.StringGain, x.BoltsTIRMM, x.BrakeNmm, x.NextTallerMM = 500, 0.2, 0.1, 5000, 0.03
	return x
}

// At every step of a whole job each form that cannot be done now is tried. It must
// be refused in words, change nothing that can be seen, and leave every later
// reading as on a stand where nobody tried.
func TestARefusedActChangesNothing(t *testing.T) {
	tried, calm := bench(t, allWrong(), 11), bench(t, allWrong(), 11)
	refused, done := map[act.Form]bool{}, map[act.Form]bool{}
	tryAll := func() {
		t.Helper()
		possible := tried.Possible()
		for _, u := range act.Usages() {
			if slices.Contains(possible, u.Form) {
				assert.Nil(t, tried.WhyNot(u.Form), u.Line)
				continue
			}
			refused[u.Form] = true
			before := tried.Status()
			out, err := tried.Do(example(t, u))
			var no *history.Refusal
			require.ErrorAs(t, err, &no, u.Line)
			assert.NotEmpty(t, no.Why)
			assert.Equal(t, tried.WhyNot(u.Form).Why, no.Why)
			assert.Equal(t, example(t, u), no.Act)
			assert.Zero(t, out, u.Line)
			assert.Equal(t, before, tried.Status(), u.Line)
		}
	}
	for _, line := range wholeJob() {
		tryAll()
		done[parse(t, line).Form] = true
		a, b := do(t, tried, line), do(t, calm, line)
		require.Equal(t, codes(b), codes(a), line)
		assert.Equal(t, b, a, line)
	}
	tryAll()
	assert.Equal(t, calm.Status(), tried.Status())
	assert.Equal(t, finish(calm), finish(tried))
	for _, u := range act.Usages() {
		assert.Equal(t, sim.NotOnThisAxle(family.Beech().Design, u.Form).IsZero(), done[u.Form], "%s", u.Line)
		assert.True(t, refused[u.Form], "%s is never refused", u.Line)
	}
	assert.Empty(t, tried.Possible(), "a signed axle is closed")
}

// What the stand lists as possible can be done.
func TestWhatIsPossibleCanBeDone(t *testing.T) {
	job := wholeJob()
	for _, steps := range []int{0, 24, 26, 31, 43, 50} {
		s := bench(t, handMade(), 3)
		do(t, s, job[:steps]...)
		possible := s.Possible()
		require.NotEmpty(t, possible)
		for _, f := range possible {
			if f == act.SignOff {
				continue
			}
			twin := bench(t, handMade(), 3)
			do(t, twin, job[:steps]...)
			_, err := twin.Do(example(t, f.Usage()))
			assert.NoError(t, err, "after %d steps: %s", steps, f)
		}
	}
}

func codes(o history.Step) []string {
	out := make([]string, len(o.Readings))
	for i, r := range o.Readings {
		out[i] = r.Code()
	}
	return out
}

// An amount that cannot be is refused and told what would do.
func TestAmountsThatCannotBe(t *testing.T) {
	s := bench(t, handMade(), 1)
	refused := func(line, says string) {
		t.Helper()
		before := s.Status()
		_, err := s.Do(parse(t, line))
		var no *history.Refusal
		require.ErrorAs(t, err, &no, line)
		assert.Contains(t, english(no.Why), says, line)
		assert.Equal(t, before, s.Status(), line)
	}
	refused("fit depth-shim 0.0295in", "in steps of 0.0010 in")
	refused("fit depth-shim 0.041in", "the nearest is 0.0400 in")
	refused("fit depth-shim 0.001mm", "from 0.0200 in (0.508 mm)")
	refused("fit depth-shim 1000000in", "to 0.0400 in (1.016 mm)")
	refused("fit side-shims ring-gear 0.071in opposite 0.070in", "no ring-gear-side shim")
	refused("fit side-shims ring-gear 0.070in opposite 0.102in", "no opposite-side shim")
	do(t, s, "fit depth-shim 0.030in", "fit pinion final")
	refused("tighten nut 721deg", "turn less")
	refused("loosen nut 3 turns", "turn less")
	refused("tighten nut to 701lb-ft", "700 lb-ft")
	refused("turn pinion 101", "100 turns")
	do(t, s, "tighten nut 720deg", "loosen nut 720deg", "tighten nut to 700lb-ft", "turn pinion 100")
}

// An act that no line of text can say is an error, not a crash.
func TestMalformedActs(t *testing.T) {
	s := bench(t, handMade(), 1)
	do(t, s, "fit depth-shim 0.030in", "fit pinion final", "fit side-shims ring-gear 0.074in opposite 0.074in", "fit case",
		"mount indicator heel square pinion-held")
	n := func(x float64, u quantity.Unit) []quantity.Entered { return []quantity.Entered{{Number: x, Unit: u}} }
	for what, a := range map[string]act.Act{
		"no such form":            {Form: 999},
		"form below zero":         {Form: -1},
		"no amount":               {Form: act.TightenNutAngle},
		"one amount of two":       {Form: act.FitSideShims, Amounts: n(0.07, quantity.UnitInch)},
		"no choice":               {Form: act.MeasureTorque},
		"one choice of two":       {Form: act.MeasureTorque, Choices: []act.Option{"rotating"}},
		"strange choice":          {Form: act.PaintTeeth, Choices: []act.Option{"sideways"}},
		"not a number":            {Form: act.TightenNutAngle, Amounts: n(math.NaN(), quantity.UnitDegree)},
		"no end":                  {Form: act.TightenNutTorque, Amounts: n(math.Inf(1), quantity.UnitFootLb)},
		"a torque for an angle":   {Form: act.TightenNutAngle, Amounts: n(10, quantity.UnitFootLb)},
		"an angle for a torque":   {Form: act.TightenNutTorque, Amounts: n(10, quantity.UnitDegree)},
		"an angle below zero":     {Form: act.LoosenNut, Amounts: n(-10, quantity.UnitDegree)},
		"half a place":            {Form: act.MeasureBacklash, Amounts: n(2.5, quantity.UnitTurn)},
		"no places":               {Form: act.MeasureBacklash, Amounts: n(0, quantity.UnitTurn)},
		"more places than 8":      {Form: act.MeasureBacklash, Amounts: n(1e6, quantity.UnitTurn)},
		"unit nobody knows":       {Form: act.TurnPinion, Amounts: n(1, "furlong")},
		"a mount with no details": {Form: act.MountIndicator, Choices: []act.Option{"heel"}},
	} {
		before := s.Status()
		out, err := s.Do(a)
		require.Error(t, err, what)
		assert.Zero(t, out, what)
		assert.Equal(t, before, s.Status(), what)
		assert.True(t, isNotAnAct(err), "%s: %v", what, err)
	}
}

// A nut backed off by millimetres lets the pinion out of the mesh. The bench says
// so, changes nothing, and the readings go on when the nut is taken up again.
func TestGearsOutOfReachAreRefused(t *testing.T) {
	lost := func() *sim.Stand {
		s := bench(t, handMade(), 1)
		do(t, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 100deg", "fit side-shims ring-gear 0.074in opposite 0.074in",
			"fit case", "torque caps", "mount indicator heel square pinion-held", "paint teeth thin")
		for range 10 {
			do(t, s, "loosen nut 720deg")
		}
		return s
	}
	tried, calm := lost(), lost()
	gone := 0
	// With the pinion anywhere within its end play some readings still come off.
	for range 12 {
		for _, line := range []string{"measure backlash 1", "roll gears braked"} {
			before := tried.Status()
			out, err := tried.Do(parse(t, line))
			if err == nil {
				assert.Equal(t, codes(do(t, calm, line)), codes(out))
				do(t, tried, "paint teeth thin")
				do(t, calm, "paint teeth thin")
				continue
			}
			var no *history.Refusal
			require.ErrorAs(t, err, &no, line)
			assert.Contains(t, english(no.Why), "take up the nut")
			assert.Equal(t, before, tried.Status())
			gone++
			for range 6 {
				_, err := tried.Do(parse(t, line))
				assert.ErrorAs(t, err, &no, "trying again is no other draw")
			}
			// Something else changes hands before the next try.
			do(t, tried, "tighten nut 0.01deg")
			do(t, calm, "tighten nut 0.01deg")
		}
	}
	assert.Positive(t, gone)
	for range 10 {
		assert.Equal(t, codes(do(t, calm, "tighten nut 720deg")), codes(do(t, tried, "tighten nut 720deg")))
	}
	assert.Equal(t, codes(do(t, calm, "measure backlash 8")), codes(do(t, tried, "measure backlash 8")))
}

func TestNewSaysWhatIsWrong(t *testing.T) {
	x := handMade()
	x.Spacers = nil
	_, err := sim.New(family.Beech(), truth.Seal(x, truth.Finish{}), 1)
	assert.ErrorContains(t, err, "no collapsible spacer")
	x = handMade()
	x.Drive.LengthMM = -1
	_, err = sim.New(family.Beech(), truth.Seal(x, truth.Finish{}), 1)
	assert.ErrorContains(t, err, "BEECH")
}

// A caution comes with the first act that needs it and not again.
func TestCautionsComeOnce(t *testing.T) {
	s := bench(t, handMade(), 1)
	assert.NotEmpty(t, do(t, s, "seat cups").Caution)
	assert.Empty(t, do(t, s, "seat cups").Caution)
	assert.Empty(t, do(t, s, "inspect cups").Caution)
}

// Whatever leaves the bench is a copy.
func TestStatusIsACopy(t *testing.T) {
	s := bench(t, handMade(), 1)
	lines := wholeJob()
	do(t, s, lines[:slices.Index(lines, "record backlash 0.165mm")+1]...)
	st := s.Status()
	require.NotNil(t, st.Indicator)
	require.NotEmpty(t, st.Sheet)
	require.NotEmpty(t, st.Parts)
	want := s.Status()
	st.Indicator.Plunger, st.Sheet[0].Item, st.Parts[0] = "x", "x", "x"
	assert.Equal(t, want, s.Status())
}

// A value written twice stands once.
func TestTheBuildSheetKeepsTheLastValue(t *testing.T) {
	s := bench(t, handMade(), 1)
	do(t, s, "record backlash 0.007in", "record runout 0.05mm", "record backlash 0.006in")
	assert.Equal(t, []history.Entry{
		{Item: "backlash", Value: quantity.Entered{Number: 0.006, Unit: quantity.UnitInch}},
		{Item: "runout", Value: quantity.Entered{Number: 0.05, Unit: quantity.UnitMM}},
	}, s.Status().Sheet)
}

// A unit is how an amount is said. The same shim, torque or angle in another unit
// is the same act, to the last digit of every reading.
func TestUnitsDoNotChangeReadings(t *testing.T) {
	run := func(depth, back, tooth, torque, angle string) []string {
		s := bench(t, allWrong(), 5)
		var out []string
		for _, line := range []string{"fit depth-shim " + depth, "measure depth-shim", "fit pinion mock-up", "measure depth", "remove pinion",
			"replace spacer", "fit pinion final", "tighten nut to " + torque, "tighten nut " + angle, "turn pinion 5", "measure torque rotating wrench",
			"fit side-shims ring-gear " + back + " opposite " + tooth, "measure side-shims", "fit case", "torque caps",
			"mount indicator heel square pinion-held", "measure backlash 4", "paint teeth thin", "roll gears braked"} {
			out = append(out, codes(do(t, s, line))...)
		}
		return out
	}
	inch := run("0.030in", "0.068in", "0.076in", "250lb-ft", "90deg")
	// 0.755 6 mm is a quarter of a step, 0.006 35 mm, below 0.762 mm.
	assert.Equal(t, inch, run("0.762mm", "1.7272mm", "1.9304mm", "3000lb-in", "0.25 turns"))
	assert.Equal(t, inch, run("30thou", "68thou", "76thou", "338.9544870828501Nm", "90deg"))
	assert.Equal(t, inch, run("0.76mm", "1.73mm", "1.93mm", "250lb-ft", "90deg"))
	assert.Equal(t, inch, run("0.7557mm", "1.7146mm", "1.9430mm", "250lb-ft", "90deg"))
	s := bench(t, handMade(), 5)
	_, err := s.Do(parse(t, "fit depth-shim 0.7555mm"))
	assert.Error(t, err, "more than a quarter of a step off")
}

// What is said of a reading beforehand takes no time and moves nothing: the job reads the
// same with it as without.
func TestSayingWhatIsExpectedChangesNothing(t *testing.T) {
	said, silent := bench(t, allWrong(), 11), bench(t, allWrong(), 11)
	for _, line := range wholeJob() {
		if parse(t, line).Form == act.ExpectValue {
			continue
		}
		for _, expected := range []string{"expect 0.01in", "expect 2 Nm"} {
			o := do(t, said, expected)
			assert.Zero(t, o.Minutes)
			assert.Empty(t, o.Readings)
			assert.Empty(t, o.Feels)
		}
		quiet, loud := do(t, silent, line), do(t, said, line)
		loud.Before.Acts, loud.After.Acts = quiet.Before.Acts, quiet.After.Acts
		assert.Equal(t, quiet, loud, line)
	}
	a, b := silent.Status(), said.Status()
	assert.Greater(t, b.Acts, a.Acts)
	b.Acts = a.Acts
	assert.Equal(t, a, b)
	assert.Equal(t, finish(silent), finish(said))
}
