package fault_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/fault"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/truth"
)

func TestEveryRowIsComplete(t *testing.T) {
	seen := map[truth.FaultID]bool{}
	areas := map[fault.Area]int{}
	names := map[string]bool{}
	for _, f := range fault.All() {
		assert.NotEmpty(t, f.ID)
		assert.False(t, seen[f.ID], "%s stands twice", f.ID)
		assert.False(t, names[f.Name], "%s stands twice", f.Name)
		seen[f.ID], names[f.Name] = true, true
		areas[f.Area]++
		for what, text := range map[string]string{"name": f.Name, "cause": f.Cause, "shows": f.Shows, "taken for": f.TakenFor,
			"told": f.Told, "remedy": f.Remedy, "missed": f.Missed} {
			assert.NotEmpty(t, strings.TrimSpace(text), "%s: %s", f.ID, what)
			// Sentences for the middle of a line hold no name of a maker, a
			// person or a model, and so no capital letter.
			assert.False(t, strings.ContainsFunc(text, unicode.IsUpper), "%s: a proper name in %q?", f.ID, text)
			assert.False(t, strings.HasSuffix(text, "."), "%s: %s", f.ID, what)
		}
		assert.NotEqual(t, f.Name, f.TakenFor, "%s looks like itself", f.ID)
		assert.Greater(t, f.BaseRate, 0.0, f.ID)
		assert.Less(t, f.BaseRate, 0.2, f.ID)
		assert.Greater(t, float64(f.Late), 0.0, f.ID)
		assert.LessOrEqual(t, f.Low, f.High, f.ID)
		assert.Greater(t, f.Low, 0.0, f.ID)
		assert.Equal(t, f.Unit == "", f.Low == 1 && f.High == 1, "%s: a size has a unit", f.ID)
		for _, form := range []act.Form{f.Test, f.Cure} {
			assert.NotEmpty(t, form.String(), "%s names an act that does not exist", f.ID)
		}
		_, err := lessons.Find(f.Lesson)
		assert.NoError(t, err, f.ID)
		require.NotNil(t, f.Apply, f.ID)

		for _, id := range f.Not {
			rival, err := fault.Find(id)
			require.NoError(t, err)
			assert.Contains(t, rival.Not, f.ID, "%s and %s cannot stand side by side, and both have to say so", f.ID, id)
		}
		again, err := fault.Find(f.ID)
		require.NoError(t, err)
		assert.Equal(t, f.Name, again.Name)
	}
	assert.GreaterOrEqual(t, len(seen), 8, "fault states in all")
	for _, a := range []fault.Area{fault.Depth, fault.Spacer, fault.SideShims, fault.Runout, fault.GearSet, fault.Seating, fault.Measuring} {
		assert.Positive(t, areas[a], "no fault in the area %q", a)
	}
	assert.Len(t, areas, 7, "a fault in an area that is not named")
}

func TestFindSaysWhatThereIs(t *testing.T) {
	_, err := fault.Find("bent-flange")
	assert.ErrorContains(t, err, `"bent-flange" is not in the catalogue`)
	assert.ErrorContains(t, err, string(truth.BentFlange))
}

// Every fault state that package truth names has a row: a constant without one
// could never turn up, and would never be missed.
func TestEveryNamedFaultHasARow(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "../../sim/truth/truth.go", nil, 0)
	require.NoError(t, err)
	var named []truth.FaultID
	for _, d := range file.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.CONST {
			continue
		}
		for _, sp := range g.Specs {
			v := sp.(*ast.ValueSpec)
			if id, ok := v.Type.(*ast.Ident); !ok || id.Name != "FaultID" {
				continue
			}
			for _, x := range v.Values {
				text, err := strconv.Unquote(x.(*ast.BasicLit).Value)
				require.NoError(t, err)
				named = append(named, truth.FaultID(text))
			}
		}
	}
	require.NotEmpty(t, named, "the constants have moved")
	var rows []truth.FaultID
	for _, f := range fault.All() {
		rows = append(rows, f.ID)
	}
	assert.ElementsMatch(t, named, rows)
}

// clean is an axle that carries nothing.
func clean(t *testing.T) (scenarios.Job, truth.Axle) {
	t.Helper()
	for seed := uint64(1); ; seed++ {
		j, err := scenarios.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		if x, _ := truth.Open(j.Sealed()); len(x.Faults) == 0 {
			return j, x
		}
	}
}

func apart(x truth.Axle) truth.Axle {
	x.Spacers = slices.Clone(x.Spacers)
	x.Faults = slices.Clone(x.Faults)
	return x
}

// A fault changes the hidden state, whatever its size and its chance, and the same
// size and chance change it the same way.
func TestApplyChangesTheState(t *testing.T) {
	_, base := clean(t)
	for _, f := range fault.All() {
		rapid.Check(t, func(t *rapid.T) {
			size := rapid.Float64Range(f.Low, f.High).Draw(t, "size")
			seed := rapid.Uint64().Draw(t, "seed")
			put := func() truth.Axle {
				x := apart(base)
				f.Apply(&x, size, rng.Stream(seed, "test"))
				return x
			}
			x := put()
			if reflect.DeepEqual(x, base) {
				t.Fatalf("%s of size %v leaves the axle as it was", f.ID, size)
			}
			if !reflect.DeepEqual(x, put()) {
				t.Fatalf("%s is not the same twice", f.ID)
			}
		})
	}
}

// The named cure takes a fault out of the axle; until then the axle says that it is
// there. Faults of an instrument or at the wheels are not in the axle, and two of the depth
// and one of the housing are allowed for instead of cured.
func TestCureTakesItOut(t *testing.T) {
	j, base := clean(t)
	const seed = 5
	for _, f := range fault.All() {
		switch f.ID {
		case truth.IndicatorLoose, truth.WrenchOut, truth.StringOff, truth.SetUpBearingOff, truth.ShimsRunThick, truth.HousingSpread, truth.BrakesOn, truth.GaugeOff:
			continue
		}
		build := func(cured bool) []truth.FaultID {
			x := apart(base)
			f.Apply(&x, f.High, rng.Stream(seed, "test"))
			s, err := sim.New(j.Card.Family, truth.Seal(x, truth.Finish{}), seed)
			require.NoError(t, err)
			if cured {
				_, err = s.Do(act.Act{Form: f.Cure})
				require.NoError(t, err, f.ID)
			}
			_, err = s.Do(act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{{Number: 0.030, Unit: quantity.UnitInch}}})
			require.NoError(t, err)
			_, err = s.Do(act.Act{Form: act.FitPinion, Choices: []string{"final"}})
			require.NoError(t, err, f.ID)
			_, finish := truth.Open(s.Sealed())
			return finish.Remaining
		}
		assert.Contains(t, build(false), f.ID)
		assert.NotContains(t, build(true), f.ID)
	}
}

// A look that is named as the test finds the fault when it is there and finds
// nothing when it is not.
func TestLooksFindWhatIsThere(t *testing.T) {
	j, base := clean(t)
	fam := family.Beech()
	looks := []act.Form{act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectSeal, act.InspectCones, act.InspectCaps,
		act.InspectShimSeat, act.InspectBolts, act.InspectGears, act.TestIndicator, act.TestString, act.TestGauge}
	tried := 0
	for _, f := range fault.All() {
		if !slices.Contains(looks, f.Test) {
			continue
		}
		tried++
		for _, size := range []float64{0, f.Low, f.High} {
			x := apart(base)
			if size > 0 {
				f.Apply(&x, size, rng.Stream(3, "test"))
			}
			s, err := sim.New(fam, truth.Seal(x, truth.Finish{}), j.Card.Seed)
			require.NoError(t, err)
			o, err := s.Do(act.Act{Form: f.Test})
			require.NoError(t, err)
			found := slices.ContainsFunc(o.Readings, func(r gauge.Reading) bool { return r.Found })
			assert.Equal(t, size > 0, found, "%s of size %v", f.ID, size)
		}
	}
	assert.Equal(t, 22, tried, "faults that a look settles")
}
