package catalogue_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/catalogue"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/truth"
)

// Sound work on the axle below, step by step.
var (
	inHand = []string{"fit depth-shim 0.030in"}
	mockUp = append(slices.Clone(inHand), "fit pinion mock-up", "turn pinion 20")
	final  = append(slices.Clone(inHand), "fit pinion final", "tighten nut 155deg", "turn pinion 30")
	over   = append(slices.Clone(inHand), "fit pinion final", "tighten nut 170deg", "turn pinion 30")
)

// sided puts the case in on a pair of shims, all at torque.
func sided(back, tooth string) []string {
	return append(slices.Clone(final), "fit side-shims ring-gear "+back+" opposite "+tooth, "fit case", "torque caps", "mount indicator heel square pinion-held")
}

// A side of a pair: a fault of a size, or none, and the work done on the axle.
type side struct {
	fault fault.ID
	size  float64
	work  []string
}

func sound(work []string) side { return side{work: work} }

// stand puts the side's axle on a bench, with its work done where that is wanted.
func (s side) stand(t *testing.T, worked bool) *sim.Stand {
	t.Helper()
	fam := family.Beech()
	x := assembly.Nominal(fam)
	x.IdealShimMM = quantity.Inches(0.030).MM()
	x.RingGearZeroMM, x.OppositeZeroMM = quantity.Inches(0.070).MM(), quantity.Inches(0.070).MM()
	if s.fault != "" {
		f, err := fault.Find(s.fault)
		require.NoError(t, err)
		f.Apply(&x, s.size, rng.Stream(7, "pair"))
	}
	b, err := sim.New(fam, truth.Seal(x, truth.Finish{}), 3)
	require.NoError(t, err)
	if worked {
		run(t, b, s.work)
	}
	return b
}

func run(t *testing.T, s *sim.Stand, lines []string) (out history.Step) {
	t.Helper()
	for _, line := range lines {
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(t, err, line)
		out, err = s.Do(a)
		require.NoError(t, err, line)
	}
	return out
}

// A number read from the last of some acts.
type number struct {
	lines   []string
	of      func(t *testing.T, o history.Step) float64
	against string // the same reading by another way, which it is divided by
}

const repeats = 9

func (n number) read(t *testing.T, s *sim.Stand) float64 {
	t.Helper()
	last := len(n.lines) - 1
	run(t, s, n.lines[:last])
	times := repeats
	if strings.HasPrefix(n.lines[last], "look") || strings.HasPrefix(n.lines[last], "test") || strings.HasPrefix(n.lines[last], "roll") {
		times = 1 // a second look finds the same, or what the first put right
	}
	mean := func(line string) (m float64) {
		for range times {
			m += n.of(t, run(t, s, []string{line})) / float64(times)
		}
		return m
	}
	m := mean(n.lines[last])
	if n.against != "" {
		m /= mean(n.against)
	}
	return m
}

func what(name gauge.Kind, read func(gauge.Reading) float64) func(*testing.T, history.Step) float64 {
	return func(t *testing.T, o history.Step) float64 {
		for _, r := range o.Readings {
			if r.Kind == name {
				return read(r)
			}
		}
		require.Fail(t, "no reading", "%s gave no %s", o.Act, name)
		return 0
	}
}

func lengths(r gauge.Reading) float64 { m, _, _ := r.Summary(); return m.MM() }
func scatters(r gauge.Reading) float64 {
	_, least, most := r.Summary()
	return (most - least).MM()
}
func torques(r gauge.Reading) float64 { return r.Torques[len(r.Torques)-1].Nmm() }
func swing(r gauge.Reading) float64 {
	return (r.Torques[len(r.Torques)-1] - r.Torques[0]).Nmm()
}
func found(name gauge.Kind) func(*testing.T, history.Step) float64 {
	return what(name, func(r gauge.Reading) float64 {
		if r.Wrong() {
			return 1
		}
		return 0
	})
}
func saw(f gauge.Finding) func(*testing.T, history.Step) float64 {
	return func(_ *testing.T, o history.Step) float64 {
		if o.Found(f) {
			return 1
		}
		return 0
	}
}

// print is how high the print on one flank stands, as the bench lists them.
func print(flank int) number {
	return number{lines: []string{"paint teeth thin", "roll gears braked"}, of: what(gauge.Pattern, func(r gauge.Reading) float64 { return r.Patterns[flank].CenterT })}
}

// An acted pair: on both sides the first reading is off from a sound axle's by at least
// off, to the same side, and the two sides do not differ by more than near; the second
// reading differs by more than apart. early takes the second before any work is done.
type acted struct {
	a, b      side
	sound     []string
	agree     number
	off, near float64
	decide    number
	apart     float64
	early     bool
}

func pairs() map[[2]string]acted {
	depth := number{lines: []string{"measure depth"}, of: what(gauge.Depth, lengths)}
	look := func(line string, name gauge.Kind) number { return number{lines: []string{line}, of: found(name)} }
	torque := number{lines: []string{"measure torque rotating string"}, of: what(gauge.PinionTorque, torques)}
	byWrench := number{lines: []string{"measure torque rotating wrench"}, of: what(gauge.PinionTorque, torques)}
	apartRatio := byWrench
	apartRatio.against = "measure torque rotating string"
	total := number{lines: []string{"measure torque rotating string"}, of: what(gauge.TotalTorque, torques)}
	lash := number{lines: []string{"measure backlash 8"}, of: what(gauge.Backlash, lengths)}
	restless := number{lines: []string{"measure backlash 8"}, of: what(gauge.Backlash, scatters)}
	runout := number{lines: []string{"measure runout"}, of: what(gauge.Runout, lengths)}
	nut := number{lines: []string{"tighten nut 0.5deg"}, of: what(gauge.NutTorque, torques)}
	usual := sided("0.074in", "0.074in")
	out := func(lines ...string) []string { return append([]string{"remove case"}, lines...) }
	const (
		asFar = 0.02 // mm, two depths with the same gauge and a refit
		looks = 0.5  // found against not found
	)
	id := func(f fault.ID) string { return string(f) }
	return map[[2]string]acted{
		{id(fault.InnerCupHigh), id(fault.DirtUnderShim)}: {a: side{fault.InnerCupHigh, 0.08, mockUp}, b: side{fault.DirtUnderShim, 0.08, mockUp}, sound: mockUp,
			agree: depth, off: -0.04, near: asFar, decide: look("inspect cups", gauge.CupSeats), apart: looks, early: true},
		{id(fault.InnerCupHigh), id(fault.OuterCupHigh)}: {a: side{fault.InnerCupHigh, 0.1, mockUp}, b: side{fault.OuterCupHigh, 0.1, mockUp}, sound: nil,
			agree: look("inspect cups", gauge.CupSeats), off: looks, near: 0, decide: number{lines: append(slices.Clone(mockUp), "measure depth"), of: what(gauge.Depth, lengths)}, apart: 0.05, early: true},
		{id(fault.DirtUnderShim), id(fault.ShimsRunThick)}: {a: side{fault.DirtUnderShim, 0.08, mockUp}, b: side{fault.ShimsRunThick, 0.08, mockUp}, sound: mockUp,
			agree: depth, off: -0.04, near: asFar, decide: number{lines: append(slices.Clone(inHand), "measure depth-shim"), of: what(gauge.DepthShimSize, lengths)}, apart: 0.05, early: true},
		{id(fault.SetUpBearingOff), id(fault.ShimsRunThick)}: {a: side{fault.SetUpBearingOff, -0.08, mockUp}, b: side{fault.ShimsRunThick, 0.08, mockUp}, sound: mockUp,
			agree: depth, off: -0.04, near: asFar, decide: number{lines: []string{"measure bearings"}, of: what(gauge.BearingHeights, lengths)}, apart: 0.05, early: true},
		{id(fault.SlingerOut), id(fault.GaugeOff)}: {a: side{fault.SlingerOut, 0.5, mockUp}, b: side{fault.GaugeOff, 0.11, mockUp}, sound: mockUp,
			agree: depth, off: 0.06, near: 0.6, decide: number{lines: []string{"inspect shim-seat"}, of: saw(gauge.SlingerMissing)}, apart: looks, early: true},
		{id(fault.GaugeOff), id(fault.SetUpBearingOff)}: {a: side{fault.GaugeOff, 0.08, mockUp}, b: side{fault.SetUpBearingOff, 0.08, mockUp}, sound: mockUp,
			agree: depth, off: 0.04, near: asFar, decide: look("test gauge", gauge.GaugeBlock), apart: looks},
		{id(fault.SetMixed), "mark-forgotten"}: {a: side{fault.SetMixed, 0.3, usual}, b: sound(append([]string{"fit depth-shim 0.038in"}, usual[1:]...)), sound: usual,
			agree: print(0), off: -0.06, near: 0.2, decide: print(1), apart: 0.15},
		{id(fault.GearForOther), id(fault.OppositeConeHigh)}: {a: side{fault.GearForOther, 0.9, usual}, b: side{fault.OppositeConeHigh, 0.1, usual}, sound: usual,
			agree: lash, off: 0.02, near: 0.9, decide: look("inspect gears", gauge.RingGearTag), apart: looks, early: true},
		{id(fault.SpacerCrushed), id(fault.SpacerShort)}: {a: side{fault.SpacerCrushed, 0.6, append(slices.Clone(inHand), "fit pinion final", "tighten nut 40deg")},
			b: side{fault.SpacerShort, 0.7, append(slices.Clone(inHand), "fit pinion final", "tighten nut 40deg")}, sound: append(slices.Clone(inHand), "fit pinion final", "tighten nut 40deg"),
			agree: nut, off: -8e3, near: 100e3, decide: number{lines: []string{"inspect spacer"}, of: saw(gauge.SpacerCrushed)}, apart: looks, early: true},
		{id(fault.SpacerCrushed), id(fault.NutUsed)}: {a: side{fault.SpacerCrushed, 0.6, append(slices.Clone(inHand), "fit pinion final", "tighten nut 40deg")},
			b: side{fault.NutUsed, 1, append(slices.Clone(inHand), "fit pinion final", "tighten nut 40deg")}, sound: append(slices.Clone(inHand), "fit pinion final", "tighten nut 40deg"),
			agree: nut, off: -8e3, near: 400e3, decide: number{lines: []string{"inspect spacer"}, of: what(gauge.SpacerCondition, lengths)}, apart: 0.4, early: true},
		{id(fault.NutUsed), "backed-off"}: {a: side{fault.NutUsed, 1, final}, b: sound(append(slices.Clone(over), "loosen nut 15deg")), sound: final,
			agree: nut, off: -8e3, near: 400e3, decide: look("inspect spacer", gauge.NutCondition), apart: looks, early: true},
		{id(fault.PackingGrease), id(fault.SealTight)}: {a: side{fault.PackingGrease, 1, final}, b: side{fault.SealTight, 800, final}, sound: final,
			agree: torque, off: 400, near: 200, decide: look("inspect seal", gauge.SealLip), apart: looks, early: true},
		{id(fault.PackingGrease), "overshot"}: {a: side{fault.PackingGrease, 1, final}, b: sound(over), sound: final,
			agree: torque, off: 400, near: 3000, decide: number{lines: []string{"remove pinion", "inspect bearings"}, of: found(gauge.BearingCondition)}, apart: looks},
		{id(fault.SealTight), "overshot"}: {a: side{fault.SealTight, 800, final}, b: sound(over), sound: final,
			agree: torque, off: 400, near: 3000, decide: number{lines: []string{"remove pinion", "inspect seal"}, of: found(gauge.SealLip)}, apart: looks},
		{id(fault.WrenchOut), id(fault.StringOff)}: {a: side{fault.WrenchOut, -0.2, final}, b: side{fault.StringOff, 0.2, final}, sound: final,
			agree: apartRatio, off: 0.1, near: 0.15, decide: look("test string", gauge.StringRadius), apart: looks},
		{id(fault.WrenchOut), "overshot"}: {a: side{fault.WrenchOut, -0.28, final}, b: sound(over), sound: final,
			agree: byWrench, off: 200, near: 5000, decide: number{lines: []string{"measure torque rotating string"}, of: what(gauge.PinionTorque, torques)}, apart: 300},
		{id(fault.BearingGritty), id(fault.BearingNotched)}: {a: side{fault.BearingGritty, 600, final}, b: side{fault.BearingNotched, 600, final}, sound: final,
			agree: number{lines: []string{"measure torque rotating string"}, of: what(gauge.PinionTorque, swing)}, off: 300, near: 200,
			decide: number{lines: []string{"remove pinion", "wash bearings", "inspect bearings"}, of: saw(gauge.RaceDented)}, apart: looks},
		{id(fault.BearingNotched), id(fault.CapsSwapped)}: {a: side{fault.BearingNotched, 700, usual}, b: side{fault.CapsSwapped, 2500, usual}, sound: usual,
			agree: total, off: 300, near: 500, decide: number{lines: out("measure torque rotating string"), of: what(gauge.PinionTorque, swing)}, apart: 300},
		{id(fault.CapsSwapped), id(fault.CapTurned)}: {a: side{fault.CapsSwapped, 2500, usual}, b: side{fault.CapTurned, 1500, usual}, sound: usual,
			agree: total, off: 200, near: 500, decide: number{lines: []string{"inspect caps"}, of: saw(gauge.CapReversed)}, apart: looks, early: true},
		{id(fault.CapsSwapped), "side-preload-high"}: {a: side{fault.CapsSwapped, 2500, usual}, b: sound(sided("0.076in", "0.076in")), sound: usual,
			agree: total, off: 150, near: 1500, decide: number{lines: []string{"inspect caps"}, of: saw(gauge.CapsSwapped)}, apart: looks, early: true},
		{id(fault.SideCupCracked), id(fault.CapsSwapped)}: {a: side{fault.SideCupCracked, 2000, usual}, b: side{fault.CapsSwapped, 2500, usual}, sound: usual,
			agree: total, off: 200, near: 500, decide: number{lines: []string{"inspect caps"}, of: saw(gauge.CapsSwapped)}, apart: looks, early: true},
		{id(fault.AdjusterCrossed), id(fault.CapsSwapped)}: {a: side{fault.AdjusterCrossed, 1500, usual}, b: side{fault.CapsSwapped, 2500, usual}, sound: usual,
			agree: total, off: 200, near: 500, decide: number{lines: []string{"inspect caps"}, of: saw(gauge.AdjusterCrooked)}, apart: looks, early: true},
		{id(fault.PinionCupLoose), id(fault.BearingGritty)}: {a: side{fault.PinionCupLoose, 0.06, final}, b: side{fault.BearingGritty, 600, final}, sound: final,
			agree: number{lines: []string{"measure torque rotating string"}, of: what(gauge.PinionTorque, swing)}, off: 300, near: 250,
			decide: number{lines: []string{"inspect cups"}, of: saw(gauge.CupTurns)}, apart: looks, early: true},
		{id(fault.RingGearConeHigh), "one-side-only"}: {a: side{fault.RingGearConeHigh, 0.1, sided("0.072in", "0.072in")}, b: sound(sided("0.076in", "0.072in")), sound: sided("0.072in", "0.072in"),
			agree: lash, off: -0.02, near: 0.03, decide: number{lines: out("inspect cones"), of: found(gauge.ConeSeats)}, apart: looks},
		{id(fault.OppositeConeHigh), "one-side-only"}: {a: side{fault.OppositeConeHigh, 0.1, sided("0.072in", "0.072in")}, b: sound(sided("0.072in", "0.076in")), sound: sided("0.072in", "0.072in"),
			agree: lash, off: 0.02, near: 0.03, decide: number{lines: out("inspect cones"), of: found(gauge.ConeSeats)}, apart: looks},
		{id(fault.HousingSpread), "no-side-preload"}: {a: side{fault.HousingSpread, 0.1, sided("0.070in", "0.070in")}, b: sound(sided("0.068in", "0.068in")), sound: sided("0.070in", "0.070in"),
			agree: number{lines: []string{"measure end-play"}, of: what(gauge.CaseEndPlay, lengths)}, off: 0.05, near: 0.02, decide: number{lines: out("measure side-shims"), of: what(gauge.SideShimSizes, lengths)}, apart: 0.03},
		{id(fault.DirtBehindGear), id(fault.BentFlange)}: {a: side{fault.DirtBehindGear, 0.15, usual}, b: side{fault.BentFlange, 0.15, usual}, sound: usual,
			agree: runout, off: 0.1, near: asFar, decide: number{lines: out("measure case-runout"), of: what(gauge.CaseRunout, lengths)}, apart: 0.1},
		{id(fault.DirtBehindGear), id(fault.BoltsUneven)}: {a: side{fault.DirtBehindGear, 0.15, usual}, b: side{fault.BoltsUneven, 0.15, usual}, sound: usual,
			agree: runout, off: 0.1, near: asFar, decide: number{lines: out("inspect bolts"), of: found(gauge.RingGearBolts)}, apart: looks},
		{id(fault.BoltsUneven), id(fault.BentFlange)}: {a: side{fault.BoltsUneven, 0.15, usual}, b: side{fault.BentFlange, 0.15, usual}, sound: usual,
			agree: runout, off: 0.1, near: asFar, decide: number{lines: out("inspect bolts"), of: found(gauge.RingGearBolts)}, apart: looks},
		{id(fault.GearWarped), id(fault.BentFlange)}: {a: side{fault.GearWarped, 0.15, usual}, b: side{fault.BentFlange, 0.15, usual}, sound: usual,
			agree: runout, off: 0.1, near: asFar, decide: number{lines: out("measure case-runout"), of: what(gauge.CaseRunout, lengths)}, apart: 0.1},
		{id(fault.GearOffCenter), id(fault.DirtBehindGear)}: {a: side{fault.GearOffCenter, 0.3, usual}, b: side{fault.DirtBehindGear, 0.13, usual}, sound: usual,
			agree: restless, off: 0.04, near: 0.05, decide: runout, apart: 0.1},
		{id(fault.PinionBent), id(fault.GearOffCenter)}: {a: side{fault.PinionBent, 0.13, usual}, b: side{fault.GearOffCenter, 0.3, usual}, sound: usual,
			agree: restless, off: 0.04, near: 0.05, decide: number{lines: []string{"measure radial-runout"}, of: what(gauge.RadialRunout, lengths)}, apart: 0.1},
		{id(fault.BoltsLong), id(fault.IndicatorLoose)}: {a: side{fault.BoltsLong, 0.06, usual}, b: side{fault.IndicatorLoose, 1, usual}, sound: usual,
			agree: restless, off: 0.03, near: 0.2, decide: number{lines: []string{"inspect bolts"}, of: saw(gauge.BoltsBottomed)}, apart: looks, early: true},
		{id(fault.IndicatorLoose), "no-side-preload"}: {a: side{fault.IndicatorLoose, 1, usual}, b: sound(sided("0.066in", "0.070in")), sound: usual,
			agree: restless, off: 0.03, near: 0.2, decide: look("test indicator", gauge.IndicatorArm), apart: looks, early: true},
		{id(fault.IndicatorLoose), "caps-snug"}: {a: side{fault.IndicatorLoose, 1, usual}, b: sound(slices.DeleteFunc(slices.Clone(usual), func(l string) bool { return l == "torque caps" })), sound: usual,
			agree: restless, off: 0.01, near: 0.2, decide: look("test indicator", gauge.IndicatorArm), apart: looks, early: true},
		{id(fault.BrakesOn), "side-preload-high"}: {a: side{fault.BrakesOn, 4000, usual}, b: sound(sided("0.076in", "0.076in")), sound: usual,
			agree: total, off: 150, near: 1500, decide: look("inspect axle-shafts", gauge.AxleShafts), apart: looks},
		{"mark-turned", "mark-forgotten"}: {a: sound([]string{"fit depth-shim 0.036in", "fit pinion mock-up"}), b: sound([]string{"fit depth-shim 0.033in", "fit pinion mock-up"}), sound: mockUp,
			agree: depth, off: -0.05, near: 0.2, decide: depth, apart: 0.05},
		{"plunger-tilted", "pinion-free"}: {a: sound(append(slices.Clone(usual), "mount indicator heel along pinion-held")), b: sound(append(slices.Clone(usual), "mount indicator heel square pinion-free")), sound: usual,
			agree: lash, off: 0.02, near: 0.2, decide: lash, apart: 0.02},
	}
}

// For every pair the first reading leaves both open, off from a sound axle's the same
// way, and the test named for the pair decides.
func TestLookAlikesAreToldApart(t *testing.T) {
	all := pairs()
	for _, p := range catalogue.Pairs() {
		t.Run(p.A+" and "+p.B, func(t *testing.T) {
			c, ok := all[[2]string{p.A, p.B}]
			require.True(t, ok, "nothing acts this pair out")
			first := func(s side) float64 { return c.agree.read(t, s.stand(t, len(c.sound) > 0)) }
			a, b, right := first(c.a), first(c.b), first(sound(c.sound))
			if c.off < 0 {
				assert.Less(t, a-right, c.off)
				assert.Less(t, b-right, c.off)
			} else if c.off > 0 {
				assert.GreaterOrEqual(t, a-right, c.off)
				assert.GreaterOrEqual(t, b-right, c.off)
			}
			if c.near > 0 {
				assert.InDelta(t, a, b, c.near)
			}
			second := func(s side) float64 { return c.decide.read(t, s.stand(t, !c.early)) }
			x, y := second(c.a), second(c.b)
			assert.Greater(t, max(x-y, y-x), c.apart)
			for i, form := range p.By {
				by, err := act.Parse(c.decide.lines[len(c.decide.lines)-len(p.By)+i], quantity.Inch)
				require.NoError(t, err)
				assert.Equal(t, form, by.Form, "the acts named for the pair decide")
			}
		})
	}
	assert.Len(t, all, len(catalogue.Pairs()))
}
