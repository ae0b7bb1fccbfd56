package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/carrier/axletest"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The marked shims of the hand-made axle below, in inches. With them its pinion
// stands at its place and its side shims press with 0.008 in.
const (
	placeShimIn = 0.030
	lineSideIn  = 0.070 // each side, line-to-line
)

func middle(r family.Range) float64 { return (r.Low + r.High) / 2 }

// handMade is an axle in the middle of every spread of its family, without any
// fault: a test changes one field of it at a time.
func handMade() truth.Axle {
	fam := family.Beech()
	m, sh := fam.Model, fam.Sheet
	yield := middle(m.SpacerYieldN)
	spacer := truth.Spacer{StiffnessNPerMM: middle(m.SpacerNPerMM), YieldN: yield, PeakN: yield * middle(m.SpacerPeakPart),
		PeakDecayMM: middle(m.SpacerPeakDecayMM), HardeningNPerMM: middle(m.SpacerHardening), UsableCrushMM: m.SpacerUsableMM}
	return truth.Axle{
		Family: fam.Code, Drive: m.EaseOff, Coast: m.EaseOff, DesignLashMM: sh.Backlash.Mid(),
		NextDrive: m.EaseOff, NextCoast: m.EaseOff, CheckingDistanceMM: sh.CheckingDistanceMM, IdealShimMM: quantity.Inches(placeShimIn).MM(),
		InnerCupHoldN: middle(m.CupHoldN), OuterCupHoldN: middle(m.CupHoldN),
		RingGearZeroMM: quantity.Inches(lineSideIn).MM(), OppositeZeroMM: quantity.Inches(lineSideIn).MM(),
		RingGearPedestalNPerMM: middle(m.PedestalNPerMM), OppositePedestalNPerMM: middle(m.PedestalNPerMM),
		HouseNPerMM: middle(m.HouseNPerMM), NutNPerMM: middle(m.NutNPerMM),
		EndPlayAtContactMM: middle(m.EndPlayAtContactMM),
		ThreadFriction:     middle(m.ThreadFriction), FaceFriction: middle(m.ThreadFriction),
		PrevailingNmm:    quantity.FootPounds(middle(m.PrevailingLbFt)).Nmm(),
		Spacers:          []truth.Spacer{spacer, spacer, spacer, spacer},
		BoundaryFriction: middle(m.NewFriction), BreakawayFactor: middle(m.Breakaway),
		SealDragNmm: middle(m.SealNmm), NewSealDragNmm: middle(m.SealNmm),
	}
}

// bench puts an axle on a stand.
func bench(t testing.TB, x truth.Axle, seed uint64) *sim.Stand {
	t.Helper()
	s, err := sim.New(family.Beech(), truth.Seal(x, truth.Finish{}), seed)
	require.NoError(t, err)
	return s
}

func parse(t testing.TB, line string) act.Act {
	t.Helper()
	a, err := act.Parse(line, quantity.Inch)
	require.NoError(t, err, line)
	return a
}

// do carries out acts that must be possible and returns the last outcome.
func do(t testing.TB, s *sim.Stand, lines ...string) history.Step {
	t.Helper()
	var out history.Step
	for _, line := range lines {
		var err error
		out, err = s.Do(parse(t, line))
		require.NoError(t, err, line)
	}
	return out
}

// reading returns the reading of that kind, which must be there.
func reading(t testing.TB, o history.Step, what gauge.Kind) gauge.Reading {
	t.Helper()
	for _, r := range o.Readings {
		if r.Kind == what {
			return r
		}
	}
	require.Failf(t, "reading missing", "%s gave no %s", o.Act, what)
	return gauge.Reading{}
}

// mm returns the mean of the lengths of a reading.
func mm(t testing.TB, o history.Step, what gauge.Kind) float64 {
	t.Helper()
	r := reading(t, o, what)
	require.NotEmpty(t, r.Lengths)
	sum := 0.0
	for _, l := range r.Lengths {
		sum += l.MM()
	}
	return sum / float64(len(r.Lengths))
}

// nmm returns the mean of the torques of a reading.
func nmm(t testing.TB, o history.Step, what gauge.Kind) float64 {
	t.Helper()
	r := reading(t, o, what)
	require.NotEmpty(t, r.Torques)
	sum := 0.0
	for _, q := range r.Torques {
		sum += q.Nmm()
	}
	return sum / float64(len(r.Torques))
}

// mean repeats an act and returns the mean of what it read.
func mean(t testing.TB, s *sim.Stand, n int, line string, what gauge.Kind, value func(testing.TB, history.Step, gauge.Kind) float64) float64 {
	t.Helper()
	sum := 0.0
	for range n {
		sum += value(t, do(t, s, line), what)
	}
	return sum / float64(n)
}

func finish(s *sim.Stand) truth.Finish {
	_, f := truth.Open(s.Sealed())
	return f
}

// checkValue reads one row of the check table on trade practice.
func checkValue(t testing.TB, id string) float64 {
	t.Helper()
	return axletest.Expected(t, "trade-practice.csv", id)
}

func entered(mm float64) []quantity.Entered {
	return []quantity.Entered{{Number: mm, Unit: quantity.UnitMM}}
}

// english is a message in inch units.
func english(m text.Message) string {
	return text.NewPrinter(quantity.Inch, text.Overlay{}).Print(m)
}
