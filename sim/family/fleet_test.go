package family_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/solve"
)

// params draws one axle of a family from its spreads: a pinion with a new spacer, or
// with a solid one and a pack drawn from the shelf, rollers and cups home, and the case
// in its housing, caps torqued. film is the pinion's, at the speed the sheet's figures
// are for.
func drawAxle(r rng.Source, f family.Family, used bool) (p pinion.Params, c carrier.Params, film bearing.Film) {
	m := f.Model
	in := func(s family.Range) float64 { return r.Uniform(s.Low, s.High) }
	film = m.Film
	film.BoundaryFriction = in(m.NewFriction)
	if used {
		film.BoundaryFriction = in(m.UsedFriction)
	}
	p = pinion.Params{Head: m.Head, Tail: m.Tail, HouseStiffnessNPerMM: in(m.HouseNPerMM), NutStiffnessNPerMM: in(m.NutNPerMM),
		Thread:       m.Thread(in(m.ThreadFriction), in(m.ThreadFriction), quantity.FootPounds(in(m.PrevailingLbFt)).Nmm()),
		HeadCupHoldN: in(m.CupHoldN), TailCupHoldN: in(m.CupHoldN)}
	if f.Design.Preload == family.SolidSpacer {
		p.SolidStiffnessNPerMM = in(f.Design.Solid.StiffnessNPerMM)
		p.LineToLinePackMM = in(f.Design.Solid.LineToLineMM)
		p.PackMM = f.Design.Solid.Pack.Nearest(p.LineToLinePackMM)
	} else {
		yield := in(m.SpacerYieldN)
		p.Spacer = &pinion.Spacer{StiffnessNPerMM: in(m.SpacerNPerMM), YieldN: yield, PeakN: yield * in(m.SpacerPeakPart),
			PeakDecayMM: in(m.SpacerPeakDecayMM), HardeningNPerMM: in(m.SpacerHardening), UsableCrushMM: m.SpacerUsableMM}
		p.EndPlayAtContactMM = in(m.EndPlayAtContactMM)
	}
	c = carrier.Params{Back: m.Side, Tooth: m.Side, BackPedestalNPerMM: in(m.PedestalNPerMM), ToothPedestalNPerMM: in(m.PedestalNPerMM), CapsTight: true}
	return p, c, film
}

// amounts are what a fleet is asked for, in the order of the table.
var amounts = []struct{ name, unit string }{
	{"preload", "kN"}, {"nut torque", "N·m"}, {"drag per 0.001 in", "N·m"}, {"clamp", "kN"},
	{"side preload", "kN"}, {"housing spread", "mm"}, {"added at pinion", "N·m"}, {"backlash change", "mm"},
}

// A band is the 5th, 50th and 95th percentile of a fleet.
type band [3]float64

// fleet draws axles of a family, brings each pinion to the middle of its drag window
// and presses its side bearings by equal shims somewhere in their window. It returns a
// band for each of amounts.
func fleet(t *testing.T, f family.Family, used bool) []band {
	t.Helper()
	const axles = 2000
	gains, err := sim.NominalGains(f, used)
	require.NoError(t, err)
	ratio, target := f.Sheet.Ratio(), f.Sheet.PinionDrag(used).Mid()
	values := make([][]float64, len(amounts))
	for k := range uint64(axles) {
		r := rng.Stream(k, fmt.Sprintf("fleet/%s/%v", f.Code, used))
		p, c, film := drawAxle(r, f, used)
		drag := func(n float64) float64 { return p.Head.RunningTorqueNmm(n, film) + p.Tail.RunningTorqueNmm(n, film) }
		preload, err := solve.Bracketed(func(n float64) float64 { return drag(n) - target }, 1, 100_000, 0.01)
		require.NoError(t, err)
		set, err := p.AtPreload(preload.X)
		require.NoError(t, err)

		// The slope of the drag against the approach of the cones, by a small step.
		const half = 10.0 // N
		perN := (drag(preload.X+half) - drag(preload.X-half)) / (2 * half)
		pair := bearing.InSeries(p.Head, p.Tail).With(p.HouseStiffnessNPerMM)

		total := r.Uniform(f.Sheet.SidePreload.LowMM, f.Sheet.SidePreload.HighMM)
		side, err := carrier.Solve(c, total/2, total/2)
		require.NoError(t, err)
		atCase := film
		atCase.SpeedRPM /= ratio
		added := carrier.AtPinionNmm(c.TorqueNmm(side.ForceN, atCase), ratio, f.Model.MeshEfficiency) + carrier.MeshDragNmm(f.Sheet.Backlash.Mid())
		for i, v := range []float64{
			set.PreloadN / 1000, set.TorqueNmm / 1000, perN * pair.StiffnessNPerMM(preload.X) * quantity.Thou(1).MM() / 1000, set.StemN / 1000,
			side.ForceN / 1000, side.SpreadMM, added / 1000, math.Abs(side.ShiftToPinionMM) * gains.BacklashPerRing,
		} {
			values[i] = append(values[i], v)
		}
	}
	out := make([]band, len(amounts))
	for i, v := range values {
		slices.Sort(v)
		out[i] = band{v[axles*5/100], v[axles*50/100], v[axles*95/100]}
	}
	return out
}
