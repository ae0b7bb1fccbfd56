package sim_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/scenarios/scenariostest"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

func isNotAnAct(err error) bool {
	return errors.Is(err, act.ErrNotAnAct) || errors.Is(err, act.ErrIncomplete)
}

// anAct draws an act of the form: mostly well formed, at times with an amount or a
// choice that makes no sense.
func anAct(t *rapid.T, f act.Form) act.Act {
	a := act.Act{Form: f}
	amount := func(kind string) quantity.Entered {
		if rapid.IntRange(0, 9).Draw(t, "odd amount") == 0 {
			number := rapid.SampledFrom([]float64{0, -1, 1e-9, 1e6, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(t, "number")
			unit := rapid.SampledFrom([]quantity.Unit{quantity.UnitInch, quantity.UnitMM, quantity.UnitFootLb, quantity.UnitDegree, quantity.UnitTurn, "", "ell"}).Draw(t, "unit")
			return quantity.Entered{Number: number, Unit: unit}
		}
		stock := family.Beech().Sheet.DepthShims
		if f == act.FitSideShims {
			stock = family.Beech().Sheet.SideShims
		}
		switch kind {
		case "length":
			return quantity.Entered{Number: rapid.SampledFrom(stock.Sizes()).Draw(t, "size"), Unit: quantity.UnitMM}
		case "torque":
			return quantity.Entered{Number: rapid.Float64Range(1, 700).Draw(t, "lb-ft"), Unit: quantity.UnitFootLb}
		case "angle":
			return quantity.Entered{Number: rapid.SampledFrom([]float64{0.01, 2, 5, 15, 60, 200, 720}).Draw(t, "deg"), Unit: quantity.UnitDegree}
		case "turns":
			return quantity.Entered{Number: rapid.Float64Range(0.1, 100).Draw(t, "turns"), Unit: quantity.UnitTurn}
		case "places":
			return quantity.Entered{Number: float64(rapid.IntRange(1, 8).Draw(t, "places")), Unit: quantity.UnitTurn}
		}
		return quantity.Entered{Number: rapid.Float64Range(0, 50).Draw(t, "amount"), Unit: quantity.UnitInchLb}
	}
	for word := range strings.FieldsSeq(f.String()) {
		inner, blank := strings.CutPrefix(word, "{")
		inner = strings.TrimSuffix(inner, "}")
		switch {
		case !blank:
		case strings.Contains(inner, "|"):
			choices := strings.Split(inner, "|")
			if rapid.IntRange(0, 29).Draw(t, "odd choice") == 0 {
				choices = []string{"", "sideways"}
			}
			a.Choices = append(a.Choices, act.Option(rapid.SampledFrom(choices).Draw(t, "choice")))
		default:
			a.Amounts = append(a.Amounts, amount(inner))
		}
	}
	return a
}

// consistent checks what must hold of any status.
func consistent(t require.TestingT, st history.Status) {
	var parts shop.Minutes
	for _, p := range st.Parts {
		parts += shop.PriceOf(p)
	}
	sheet := family.Beech().Sheet
	onShelf := func(stock family.Stock, l quantity.Length) bool {
		return slices.ContainsFunc(stock.Sizes(), func(mm float64) bool { return math.Abs(mm-l.MM()) < 1e-9 })
	}
	final := st.Pinion == history.PinionFinal
	for what, held := range map[string]bool{
		"caps need the case":            !st.CapsTight || st.CaseIn,
		"the indicator needs the case":  st.Indicator == nil || st.CaseIn,
		"compound needs the case":       st.Compound == "" || st.CaseIn,
		"a pinion needs a shim":         st.Pinion == history.PinionOut || st.DepthShim > 0,
		"the case needs shims":          !st.CaseIn || st.RingGearShim > 0 && st.OppositeShim > 0,
		"only a final nut is loosened":  !st.NutBackedOff || final,
		"a signed axle is whole":        !st.SignedOff || final && st.CaseIn,
		"the parts cost what they cost": parts == st.PartsMinutes,
		"the depth shim is on a shelf":  st.DepthShim == 0 || onShelf(sheet.DepthShims, st.DepthShim),
		"the back shim is on a shelf":   st.RingGearShim == 0 || onShelf(sheet.SideShims, st.RingGearShim),
		"the tooth shim is on a shelf":  st.OppositeShim == 0 || onShelf(sheet.SideShims, st.OppositeShim),
	} {
		require.True(t, held, "%s: %+v", what, st)
	}
}

// sensible checks the figures of an outcome.
func sensible(t require.TestingT, o history.Step) {
	finite := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
	for _, r := range o.Readings {
		require.True(t, finite(r.StdMM) && r.StdMM >= 0 && finite(r.StdNmm) && r.StdNmm >= 0 && finite(r.Degrees), "%s: %+v", o.Act, r)
		for _, l := range r.Lengths {
			require.True(t, finite(l.MM()) && math.Abs(l.MM()) < 100, "%s reads %v mm", o.Act, l.MM())
		}
		for _, q := range r.Torques {
			require.True(t, finite(q.Nmm()) && q >= 0, "%s reads %v N·mm", o.Act, q)
		}
		if len(r.Lengths) > 0 {
			require.Positive(t, r.StdMM, "%s gives a length without its uncertainty", o.Act)
		}
		if len(r.Torques) > 0 {
			require.Positive(t, r.StdNmm, "%s gives a torque without its uncertainty", o.Act)
		}
		for _, p := range r.Patterns {
			require.Len(t, p.Ink, p.Cols*p.Rows)
			for _, ink := range p.Ink {
				require.True(t, ink >= 0 && ink <= 1)
			}
			for _, share := range []float64{p.CenterS, p.CenterT, p.LengthPart, p.HeightPart, p.AreaPart} {
				require.True(t, share >= 0 && share <= 1, "%s: %+v", o.Act, share)
			}
			require.Positive(t, p.AreaPart, "a print that can be read has an area")
		}
	}
	require.GreaterOrEqual(t, float64(o.Minutes), 0.0)
}

// Any acts in any order on any axle: no crash, sound figures, time and parts that
// only grow, and the same seed and acts give the same again.
func TestAnythingAnyoneCanDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := uint64(rapid.IntRange(0, 1<<20).Draw(t, "seed"))
		job, err := scenariostest.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		s, err := job.Stand()
		if err != nil {
			t.Skip("a set that cannot mesh")
		}
		usages := act.Usages()
		var done []act.Act
		var seen [][]string
		// A head start, since chance alone would seldom get a case in.
		start := wholeJob()[18:]
		start = start[:rapid.SampledFrom([]int{0, 3, 8, 10, 18, 23, 25}).Draw(t, "head start")]
		for _, line := range start {
			a, err := act.Parse(line, quantity.Inch)
			require.NoError(t, err)
			if out, err := s.Do(a); err == nil { // a tight case does not enter, and what follows is refused
				done, seen = append(done, a), append(seen, codes(out))
			}
		}
		for range rapid.IntRange(1, 50).Draw(t, "acts") {
			f := rapid.SampledFrom(usages).Draw(t, "form").Form
			if possible := s.Possible(); len(possible) > 0 && rapid.IntRange(0, 3).Draw(t, "able") > 0 {
				f = rapid.SampledFrom(possible).Draw(t, "possible")
			}
			takesApart := f == act.SignOff || f == act.RemoveCase || f == act.RemovePinion
			if takesApart && rapid.IntRange(0, 4).Draw(t, "take apart") > 0 {
				continue
			}
			a := anAct(t, f)
			before := s.Status()
			out, err := s.Do(a)
			after := s.Status()
			consistent(t, after)
			if err != nil {
				var no *history.Refusal
				require.True(t, errors.As(err, &no) || isNotAnAct(err), "%s: %v", a, err)
				require.NotEmpty(t, err.Error())
				require.Zero(t, out)
				require.Equal(t, before, after, "%s", a)
				continue
			}
			sensible(t, out)
			require.Equal(t, before.Minutes+out.Minutes, after.Minutes)
			require.Equal(t, before.Acts+1, after.Acts)
			require.Equal(t, append(before.Parts, out.Parts...), after.Parts)
			require.GreaterOrEqual(t, after.SpacersUsed, before.SpacersUsed)
			done, seen = append(done, a), append(seen, codes(out))
		}
		f := finish(s)
		for _, x := range []float64{f.DepthErrorMM, f.BacklashMeanMM, f.BacklashSpreadMM, f.PinionTorqueNmm, f.TotalTorqueNmm, f.SidePreloadN, f.SideFitMM, f.PinionPreloadN, f.ClampN} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0), "%+v", f)
		}

		again, err := job.Stand()
		require.NoError(t, err)
		for i, a := range done {
			out, err := again.Do(a)
			require.NoError(t, err, "%s", a)
			require.Equal(t, seen[i], codes(out), "%s", a)
		}
		require.Equal(t, s.Status(), again.Status())
		require.Equal(t, f, finish(again))
	})
}

// A look at the finish is a look only.
func TestSealingChangesNothing(t *testing.T) {
	looked, calm := bench(t, allWrong(), 9), bench(t, allWrong(), 9)
	for _, line := range wholeJob() {
		finish(looked)
		assert.Equal(t, codes(do(t, calm, line)), codes(do(t, looked, line)), line)
	}
	assert.Equal(t, finish(calm), finish(looked))
}
