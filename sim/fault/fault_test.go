package fault_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

func TestEveryFaultIsComplete(t *testing.T) {
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	seen, names, codes := map[fault.ID]bool{}, map[string]bool{}, map[string]bool{}
	areas := map[fault.Area]int{}
	for _, f := range fault.All() {
		name := p.Print(f.Name)
		assert.NotEmpty(t, f.ID)
		assert.False(t, seen[f.ID], "%s stands twice", f.ID)
		assert.False(t, names[name], "%s stands twice", name)
		seen[f.ID], names[name] = true, true
		assert.LessOrEqual(t, len(name), 33, "a card has two columns of them: %s", name)
		areas[f.Area]++
		for what, m := range map[string]text.Message{"name": f.Name, "cause": f.Cause, "shows": f.Shows, "taken-for": f.TakenFor,
			"told": f.Told, "remedy": f.Remedy, "missed": f.Missed} {
			assert.Equal(t, "fault."+string(f.ID)+"."+what, m.Code())
			assert.False(t, codes[m.Code()])
			codes[m.Code()] = true
			english := p.Print(m)
			first, _ := utf8.DecodeRuneInString(english)
			if phrase := what == "name" || what == "taken-for"; phrase {
				assert.True(t, unicode.IsLower(first), english)
				assert.False(t, strings.HasSuffix(english, "."), english)
			} else {
				assert.True(t, unicode.IsUpper(first), english)
				assert.True(t, strings.HasSuffix(english, "."), english)
			}
		}
		assert.NotEqual(t, name, p.Print(f.TakenFor), "%s looks like itself", f.ID)
		for _, l := range f.Alikes {
			assert.NotEqual(t, string(f.ID), l.With)
			for _, m := range []text.Message{l.Agree, l.Apart} {
				assert.True(t, strings.HasPrefix(m.Code(), "fault."+string(f.ID)+"."), m.Code())
				assert.False(t, codes[m.Code()], m.Code())
				codes[m.Code()] = true
				assert.True(t, strings.HasSuffix(p.Print(m), "."), m.Code())
			}
		}
		assert.Greater(t, f.Rate, 0.0, f.ID)
		assert.Less(t, f.Rate, 0.2, f.ID)
		assert.Positive(t, f.Late.Average, f.ID)
		assert.Greater(t, f.Late.Back, 0.0, f.ID)
		assert.LessOrEqual(t, f.Late.Back, 0.5, f.ID)
		assert.LessOrEqual(t, f.Size.Low, f.Size.High, f.ID)
		assert.Greater(t, f.Size.Low, 0.0, f.ID)
		assert.Equal(t, f.Size.Unit == fault.ThereOrNot, f.Size.Low == 1 && f.Size.High == 1, "%s: a size has a unit", f.ID)
		assert.GreaterOrEqual(t, f.Difficulty, 1, f.ID)
		assert.LessOrEqual(t, f.Difficulty, 5, f.ID)
		assert.Equal(t, f.Strength == fault.Manual || f.Strength == fault.Standard, !f.Source.IsZero(), "%s: a source and no strength, or the reverse", f.ID)
		for _, form := range append([]act.Form{f.Test, f.Cure}, f.Also...) {
			assert.NotEmpty(t, form.String(), "%s names an act that does not exist", f.ID)
			assert.True(t, form == f.Test || f.CuredBy(form) != f.Allowed, f.ID)
			assert.True(t, !f.Allowed || f.Outlasts && f.Mend == nil, f.ID)
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
	for _, a := range fault.Areas() {
		assert.Positive(t, areas[a], "no fault in the area %q", a)
		assert.NotEqual(t, string(a), "", p.Print(a.Name()))
	}
	assert.Len(t, areas, len(fault.Areas()), "a fault in an area that is not named")
}

func TestFindSaysWhatThereIs(t *testing.T) {
	_, err := fault.Find("bent-flange")
	said := text.Printer{}.Error(err)
	assert.Contains(t, said, `"bent-flange" is not in the catalogue`)
	assert.Contains(t, said, string(fault.BentFlange))
}

// Every function of the package that writes a fault is listed, and every ID has one: a fault
// that nobody lists could never come up, and would never be missed.
func TestEveryFaultIsListed(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	written, named := 0, []fault.ID{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if r := d.Type.Results; d.Recv == nil && !d.Name.IsExported() && len(d.Type.Params.List) == 0 && r != nil && len(r.List) == 1 {
					if x, ok := r.List[0].Type.(*ast.Ident); ok && x.Name == "Fault" {
						written++
					}
				}
			case *ast.GenDecl:
				for _, sp := range d.Specs {
					v, ok := sp.(*ast.ValueSpec)
					if !ok || d.Tok != token.CONST {
						continue
					}
					if id, ok := v.Type.(*ast.Ident); ok && id.Name == "ID" {
						text, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
						require.NoError(t, err)
						named = append(named, fault.ID(text))
					}
				}
			}
		}
	}
	var listed []fault.ID
	for _, f := range fault.All() {
		listed = append(listed, f.ID)
	}
	assert.Equal(t, len(listed), written)
	assert.ElementsMatch(t, named, listed)
}

// What runs out by a fault is beyond what an axle of any family may run out by.
func TestFaultsAreBeyondTheLimits(t *testing.T) {
	const read = 0.01 // mm, what a dial indicator may be off by
	for _, fam := range family.Shelf() {
		sh := fam.Sheet
		for id, limit := range map[fault.ID]float64{fault.PinionBent: fault.PinionRunoutLimitMM(sh), fault.GearOffCenter: sh.RunoutMM, fault.DirtBehindGear: sh.RunoutMM,
			fault.BoltsUneven: sh.RunoutMM, fault.GearWarped: sh.RunoutMM, fault.BentFlange: sh.CaseFlangeRunoutMM} {
			f, err := fault.Find(id)
			require.NoError(t, err)
			low, _ := f.Size.Of(sh)
			assert.Greater(t, low, limit+read, "%s: %s", fam.Code, id)
		}
	}
}

// Streams are identities: with another name every job would carry other faults.
func TestStreams(t *testing.T) {
	other := map[fault.ID]string{fault.InnerCupHigh: "head-cup-high", fault.OuterCupHigh: "tail-cup-high", fault.RingGearConeHigh: "side-cone-high",
		fault.OppositeConeHigh: "tooth-cone-high", fault.StringOff: "cord-on-wrong-radius", fault.GearOffCenter: "ring-gear-off-centre"}
	seen := map[string]bool{}
	for _, f := range fault.All() {
		want := other[f.ID]
		if want == "" {
			want = string(f.ID)
		}
		assert.Equal(t, want, f.Stream())
		assert.False(t, seen[f.Stream()])
		seen[f.Stream()] = true
	}
}

// clean is an axle that carries nothing.
func clean(t *testing.T) (scenarios.Job, truth.Axle) {
	t.Helper()
	for seed := uint64(1); ; seed++ {
		j, err := scenariostest.Sketch(family.Beech(), seed)
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
			size := rapid.Float64Range(f.Size.Low, f.Size.High).Draw(t, "size")
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
// there. Faults of an instrument or at the wheels are not in the axle, and some are allowed for
// instead of cured.
func TestCureTakesItOut(t *testing.T) {
	j, base := clean(t)
	const seed = 5
	for _, f := range fault.All() {
		if f.Remains == nil {
			continue
		}
		build := func(cured bool) []fault.ID {
			x := apart(base)
			f.Apply(&x, f.Size.High, rng.Stream(seed, "test"))
			s, err := sim.New(j.Card.Family, truth.Seal(x, truth.Finish{}), seed)
			require.NoError(t, err)
			if cured {
				_, err = s.Do(act.Act{Form: f.Cure})
				require.NoError(t, err, f.ID)
			}
			_, err = s.Do(act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{{Number: 0.030, Unit: quantity.UnitInch}}})
			require.NoError(t, err)
			_, err = s.Do(act.Act{Form: act.FitPinion, Choices: []act.Option{"final"}})
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
		for _, size := range []float64{0, f.Size.Low, f.Size.High} {
			x := apart(base)
			if size > 0 {
				f.Apply(&x, size, rng.Stream(3, "test"))
			}
			s, err := sim.New(fam, truth.Seal(x, truth.Finish{}), j.Card.Seed)
			require.NoError(t, err)
			o, err := s.Do(act.Act{Form: f.Test})
			require.NoError(t, err)
			found := slices.ContainsFunc(o.Readings, func(r gauge.Reading) bool { return r.Wrong() })
			assert.Equal(t, size > 0, found, "%s of size %v", f.ID, size)
		}
	}
	assert.Equal(t, 25, tried, "faults that a look settles")
}
