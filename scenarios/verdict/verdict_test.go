package verdict_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// good is a finish in the middle of every window.
func good(fam family.Family) (truth.Axle, truth.Finish) {
	sh := fam.Sheet
	x := truth.Axle{Family: fam.Code, Spacers: []truth.Spacer{{YieldN: 70_000}}}
	f := truth.Finish{SignedOff: true, PinionFitted: true, CaseFitted: true, CapsTight: true,
		BacklashMeanMM: sh.Backlash.Mid(), BacklashMinMM: sh.Backlash.Mid(), SideFitMM: sh.SidePreload.Mid(),
		SealNmm: 400, PinionTorqueNmm: sh.PinionTorque(false).Mid() + 400, PinionPreloadN: 7000, ClampN: 77_000,
		PatternDrive: sh.PatternHeight.Mid(), PatternCoast: sh.PatternHeight.Mid()}
	return x, f
}

func met(t *testing.T, items []verdict.Item, line verdict.Line) bool {
	t.Helper()
	for _, i := range items {
		if i.Line == line {
			return i.Met
		}
	}
	require.Fail(t, "no line "+string(line))
	return false
}

func TestGoodAxleMeetsEveryLine(t *testing.T) {
	fam := family.Beech()
	x, f := good(fam)
	items := verdict.Check(fam, false, truth.Seal(x, f))
	assert.True(t, verdict.Met(items))
	for _, i := range items {
		assert.True(t, i.Met, i.Line)
	}
}

// A value counts as met out to the window widened by twice the instrument's standard
// uncertainty and no further. The limits of the guard band are the expanded
// uncertainty, k = 2, of JCGM 100:2008.
func TestSpecEdges(t *testing.T) {
	fam := family.Beech()
	sh := fam.Sheet
	const hair = 1e-6
	guard := func(tool gauge.Tool, at float64) float64 {
		c, ok := gauge.ClassOf(tool)
		require.True(t, ok)
		return 2 * c.StandardUncertainty(at, 1)
	}
	dial, depth := guard(gauge.DialIndicator, 0), guard(gauge.DepthGauge, 0)
	for _, c := range []struct {
		line verdict.Line
		put  func(*truth.Finish, float64)
		edge float64
		out  float64 // direction out of the window
		g    float64
	}{
		{verdict.PinionDepth, func(f *truth.Finish, v float64) { f.DepthErrorMM = v }, sh.DepthToleranceMM, 1, depth},
		{verdict.PinionDepth, func(f *truth.Finish, v float64) { f.DepthErrorMM = v }, -sh.DepthToleranceMM, -1, depth},
		{verdict.Backlash, func(f *truth.Finish, v float64) { f.BacklashMeanMM = v }, sh.Backlash.LowMM, -1, dial},
		{verdict.Backlash, func(f *truth.Finish, v float64) { f.BacklashMeanMM = v }, sh.Backlash.HighMM, 1, dial},
		{verdict.BacklashVariation, func(f *truth.Finish, v float64) { f.BacklashSpreadMM = v }, sh.BacklashSpreadMM, 1, dial},
		{verdict.Runout, func(f *truth.Finish, v float64) { f.RunoutTIRMM = v }, sh.RunoutMM, 1, dial},
		{verdict.SidePreload, func(f *truth.Finish, v float64) { f.SideFitMM = v }, sh.SidePreload.LowMM, -1, dial},
		{verdict.SidePreload, func(f *truth.Finish, v float64) { f.SideFitMM = v }, sh.SidePreload.HighMM, 1, dial},
	} {
		at := func(v float64) bool {
			x, f := good(fam)
			c.put(&f, v)
			return met(t, verdict.Check(fam, false, truth.Seal(x, f)), c.line)
		}
		assert.True(t, at(c.edge), "%s on its limit", c.line)
		assert.True(t, at(c.edge+c.out*(c.g-hair)), "%s just inside the guard band", c.line)
		assert.False(t, at(c.edge+c.out*(c.g+hair)), "%s just outside it", c.line)
		assert.Greater(t, c.g, 0.0)
	}
}

// The drag window moves up by the seal that is in the axle, is another for used
// bearings, and its guard band grows with the reading, as a wrench's does.
func TestTorqueSpec(t *testing.T) {
	fam := family.Beech()
	c, _ := gauge.ClassOf(gauge.LowRangeWrench)
	for _, used := range []bool{false, true} {
		w := fam.Sheet.PinionTorque(used)
		for _, seal := range []float64{300, 500, 1400} {
			at := func(v float64) bool {
				x, f := good(fam)
				f.SealNmm, f.PinionTorqueNmm = seal, v
				return met(t, verdict.Check(fam, used, truth.Seal(x, f)), verdict.PinionTorque)
			}
			low, high := w.LowNmm+seal, w.HighNmm+seal
			assert.True(t, at(low))
			assert.True(t, at(high))
			assert.True(t, at(low-1.8*c.StandardUncertainty(low, 1)))
			assert.False(t, at(low-2.0*c.StandardUncertainty(low, 1)))
			assert.True(t, at(high+2.0*c.StandardUncertainty(high, 1)))
			assert.False(t, at(high+2.4*c.StandardUncertainty(high, 1)))
		}
	}
}

// The contact pattern is judged by the mean of its sides, as closely as an eye can place it.
func TestPatternLine(t *testing.T) {
	fam := family.Beech()
	w := fam.Sheet.PatternHeight
	eye := 2 * sim.EyeStd(gauge.Method{Coat: act.Thin, Load: act.Braked}) / math.Sqrt2
	const hair = 1e-9
	for _, c := range []struct {
		drive, coast float64
		want         bool
	}{
		{w.HighMM, w.HighMM, true}, {w.HighMM + eye - hair, w.HighMM + eye - hair, true}, {w.HighMM + eye + hair, w.HighMM + eye + hair, false},
		{w.LowMM - eye + hair, w.LowMM - eye + hair, true}, {w.LowMM - eye - hair, w.LowMM - eye - hair, false},
		{w.Mid() + 0.1, w.Mid() - 0.1, true}, {0, 0, false},
	} {
		x, f := good(fam)
		f.PatternDrive, f.PatternCoast = c.drive, c.coast
		assert.Equal(t, c.want, met(t, verdict.Check(fam, false, truth.Seal(x, f)), verdict.Pattern), "%v", c)
	}
}

func TestConditions(t *testing.T) {
	fam := family.Beech()
	for line, spoil := range map[verdict.Line]func(*truth.Finish){
		verdict.PinionBuilt: func(f *truth.Finish) { f.PinionFitted = false },
		verdict.CaseBuilt:   func(f *truth.Finish) { f.CapsTight = false },
		verdict.PinionClamp: func(f *truth.Finish) { f.ClampN = 0.5 * f.ClampN },
		verdict.NothingLeft: func(f *truth.Finish) { f.Remaining = []fault.ID{fault.SealTight} },
	} {
		x, f := good(fam)
		spoil(&f)
		items := verdict.Check(fam, false, truth.Seal(x, f))
		assert.False(t, met(t, items, line), line)
		assert.False(t, verdict.Met(items))
		for _, i := range items {
			if i.Line != line {
				assert.True(t, i.Met, "%s spoils %s", line, i.Line)
			}
		}
	}
}

// An axle whose nut was tightened past the window and backed off until the drag
// reads right again fails for its clamp, however little it was overtightened: it is
// the mistake that no drag reading shows (TM 9-2320-387-24-2 p. 30-17 wants a new
// spacer instead).
func TestBackedOffNutFailsTheClampLine(t *testing.T) {
	tried := 0
	for seed := uint64(1); seed <= 12; seed++ {
		over := []float64{4, 10, 25}[seed%3] // degrees past the window
		j, err := scenariostest.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		s, err := j.Stand()
		require.NoError(t, err)
		b := &backsOff{Stand: s, over: over, spec: j.Card.Known.PinionTorqueSpec()}
		require.NoError(t, technician.Work(b, j.Card.Known, technician.Competent()), "seed %d", seed)
		_, f := truth.Open(s.Sealed())
		if !b.done || !f.BackedOff {
			continue
		}
		tried++
		x, _ := truth.Open(s.Sealed())
		t.Logf("seed %d: backed off %.0f deg, clamp %.2f of what it should be, drag %.0f N·mm", seed, b.turned, f.ClampN/verdict.ExpectedClampN(x, f), f.PinionTorqueNmm)
		items := verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed())
		assert.False(t, met(t, items, verdict.PinionClamp), "seed %d", seed)
		assert.True(t, met(t, items, verdict.PinionTorque), "seed %d: the drag alone would have passed", seed)
	}
	assert.GreaterOrEqual(t, tried, 6)
}

// backsOff tightens the finished pinion past its window and loosens it again until
// the drag is back inside.
type backsOff struct {
	*sim.Stand
	over   float64
	spec   family.TorqueSpec
	done   bool
	turned float64
}

func (b *backsOff) Do(a act.Act) (history.Step, error) {
	if final := b.Status().Pinion == history.PinionFinal; final && (a.Form == act.FitSideShims || a.Form == act.FitCase) && !b.done {
		b.done = true
		deg := func(f act.Form, n float64) error {
			_, err := b.Stand.Do(act.Act{Form: f, Amounts: []quantity.Entered{{Number: n, Unit: quantity.UnitDegree}}})
			return err
		}
		if err := deg(act.TightenNutAngle, b.over); err != nil {
			return history.Step{}, err
		}
		for range 40 {
			if err := deg(act.LoosenNut, 2); err != nil {
				return history.Step{}, err
			}
			b.turned += 2
			if _, f := truth.Open(b.Sealed()); f.PinionTorqueNmm < b.spec.Mid() {
				break
			}
		}
	}
	return b.Stand.Do(a)
}

// texts prints an item's value and spec.
func texts(i verdict.Item, units quantity.System) (value, spec string) {
	v, s := i.Text()
	p := text.NewPrinter(units, text.Overlay{})
	return p.Print(v), p.Print(s)
}

func TestTextHasTheUnitsAskedFor(t *testing.T) {
	fam := family.Beech()
	x, f := good(fam)
	for _, i := range verdict.Check(fam, false, truth.Seal(x, f)) {
		in, inSpec := texts(i, quantity.Inch)
		mm, mmSpec := texts(i, quantity.Metric)
		switch i.Kind {
		case verdict.Length, verdict.Fit:
			assert.Regexp(t, ` in$`, in)
			assert.Regexp(t, ` mm to .* mm$`, mmSpec)
		case verdict.Share:
			assert.Equal(t, "0.50 (drive 0.50, coast 0.50)", in)
			assert.Equal(t, "0.47 to 0.53", mmSpec)
		case verdict.Rotating:
			assert.Regexp(t, ` lb-in to .* lb-in$`, inSpec)
			assert.Regexp(t, ` N·m$`, mm)
		default:
			assert.Empty(t, in+mm+inSpec+mmSpec, i.Line)
		}
	}
}

// A value within the guard of a limit is named as near it, on the side it is on; one
// well inside is not, and nothing can be near a lower limit of zero.
func TestEdges(t *testing.T) {
	const guard = 0.02
	spec := verdict.Item{Kind: verdict.Length, Low: 0.10, High: 0.20, Guard: guard}
	toZero := verdict.Item{Kind: verdict.Length, Low: 0, High: 0.05, Guard: guard}
	for _, c := range []struct {
		item  verdict.Item
		value float64
		want  verdict.Edge
	}{
		{spec, 0.15, verdict.NotNear}, {spec, 0.119, verdict.JustInside}, {spec, 0.181, verdict.JustInside},
		{spec, 0.121, verdict.NotNear}, {spec, 0.10, verdict.JustInside}, {spec, 0.20, verdict.JustInside},
		{spec, 0.081, verdict.JustOutside}, {spec, 0.219, verdict.JustOutside},
		{spec, 0.079, verdict.NotNear}, {spec, 0.221, verdict.NotNear},
		{toZero, 0.001, verdict.NotNear}, {toZero, 0.04, verdict.JustInside}, {toZero, 0.06, verdict.JustOutside},
		{verdict.Item{Kind: verdict.Condition}, 0, verdict.NotNear},
	} {
		c.item.Value = c.value
		assert.Equal(t, c.want, c.item.Edge(), "%+v", c.item)
	}
}

// Below zero end play there is no preload but end play.
func TestNegativeFitIsEndPlay(t *testing.T) {
	fam := family.Beech()
	x, f := good(fam)
	f.SideFitMM = -0.127
	for _, i := range verdict.Check(fam, false, truth.Seal(x, f)) {
		if i.Kind != verdict.Fit {
			continue
		}
		in, _ := texts(i, quantity.Inch)
		mm, _ := texts(i, quantity.Metric)
		assert.Equal(t, "0.0050 in of end play", in)
		assert.Equal(t, "0.127 mm of end play", mm)
		assert.False(t, i.Met)
		return
	}
	assert.Fail(t, "no line is a fit")
}
