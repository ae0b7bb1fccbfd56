package acceptance

import (
	"math"
	"slices"

	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// leastPlaces is at how many places backlash has to be read to show how it varies.
const leastPlaces = 3

// patterns are the readings of the contact pattern. It depends on where pinion and ring gear
// stand, which the nut of a pinion without end play does not move.
func (r *record) patterns() []taking {
	return r.takings(gauge.Pattern, func(i int, rd gauge.Reading) Why {
		switch {
		case !r.gearsStill(i):
			return Stale
		case !r.steps[i].Before.CapsTight:
			return CapsSnug
		case rd.Method.Load != act.Braked:
			return NotBraked
		case rd.Method.Coat != act.Thin:
			return ThickCoat
		}
		return NoWhy
	})
}

// patternHeight is the height of the pattern over all readings that count, mean of drive and
// coast, with its expanded uncertainty; each flank's own too.
func patternHeight(counted []taking) (mean, unsure float64, flanks [2]float64) {
	for _, t := range counted {
		for f, p := range t.reading.Patterns[:2] {
			flanks[f] += p.CenterT / float64(len(counted))
		}
	}
	n := float64(2 * len(counted))
	return (flanks[0] + flanks[1]) / 2, expanded(sim.EyeStd(counted[0].reading.Method) / math.Sqrt(n)), flanks
}

func counted(all []taking) []taking {
	return slices.DeleteFunc(slices.Clone(all), func(t taking) bool { return t.flaw != NoWhy })
}

// leastPatterns is how many patterns an eye has to have placed before what they leave unsure
// counts for the axle: a pattern that stands just outside is wiped off and made again.
const leastPatterns = 2

// provePattern holds the mean of drive and coast against the specification, the mean of several
// patterns as closely as they tell; and each side as closely as an eye can tell of one, since
// depth moves both sides alike and the sides of a sound set do not stand quite alike.
func provePattern(r *record) Result {
	all := r.patterns()
	good := counted(all)
	if len(good) == 0 {
		t, _ := last(all)
		return r.lacking(gauge.Pattern, t)
	}
	w := r.sheet.PatternHeight
	mean, unsure, flanks := patternHeight(good)
	res := hold(Share, mean, w.LowMM, w.HighMM, unsure)
	if res.Outcome == Open && len(good) >= leastPatterns {
		res.Outcome, res.Evidence.Why = Proved, Confirmed
	}
	each := expanded(sim.EyeStd(good[0].reading.Method))
	for _, f := range flanks {
		if one := hold(Share, f, w.LowMM-each, w.HighMM+each, each); one.Outcome > res.Outcome {
			res = one
			res.Evidence.Low, res.Evidence.High = w.LowMM, w.HighMM
		}
	}
	return r.of(good[len(good)-1], res)
}

// depths are the readings of the depth gauge that can still tell of the pinion's place.
func (r *record) depths() []taking {
	undo := []act.Form{act.CleanShimSeat, act.ReplaceSlinger, act.SeatCups, act.ReplaceBearings, act.ReplaceGears}
	return r.takings(gauge.Depth, func(i int, _ gauge.Reading) Why {
		if slices.ContainsFunc(r.steps[i+1:], func(s history.Step) bool { return slices.Contains(undo, s.Act.Form) }) {
			return Stale
		}
		return NoWhy
	})
}

// depthOff is how far a reading of the gauge puts the pinion from its place with the depth
// shim that is in hand now, mm, + too far out, and its expanded uncertainty. A mock-up has
// the set-up bearing, which stands as much taller as it was measured to.
func (r *record) depthOff(t taking) (off, unsure float64) {
	s := r.steps[t.step]
	variance := t.reading.StdMM*t.reading.StdMM + sim.RefitMM*sim.RefitMM
	off = t.reading.Lengths[0].MM() - r.card.Known.WantedDistance().MM()
	if s.Before.Pinion == history.PinionMockUp {
		taller, std := r.setUp()
		off += taller
		variance += std * std
	}
	if moved := r.end.DepthShim.MM() - s.Before.DepthShim.MM(); moved != 0 {
		if r.card.Family.Design.ThickerIsDeeper() {
			moved = -moved
		}
		off += moved
		variance += 2 * sim.ShimScatterMM * sim.ShimScatterMM
	}
	return off, expanded(math.Sqrt(variance))
}

// setUp is how much taller the set-up bearing is, mm, and its standard uncertainty: as
// measured last, or as such bearings differ.
func (r *record) setUp() (mm, std float64) {
	all := r.takings(gauge.BearingHeights, func(int, gauge.Reading) Why { return NoWhy })
	if t, ok := last(all); ok {
		return t.reading.Lengths[0].MM(), t.reading.StdMM
	}
	const setUpSDMM = 0.004
	return 0, setUpSDMM
}

// proveDepth takes the pattern's word over the gauge's where there is one. On a job that ends
// with the shim the gauge alone can prove it; on others the pattern's line does, and this one
// is there only for who has gauged.
func proveDepth(r *record) Result {
	t, ok := last(r.depths())
	whole := r.card.Kind != scenarios.DepthJob
	switch {
	case !ok && whole:
		return Result{}
	case !ok && r.without(act.MeasureDepth):
		return Result{}
	case !ok:
		return r.lacking(gauge.Depth, t)
	}
	tol := r.sheet.DepthToleranceMM
	off, unsure := r.depthOff(t)
	wanted := r.card.Known.WantedDistance().MM()
	res := r.of(t, hold(Length, wanted+off, wanted-tol, wanted+tol, unsure))
	if res.Outcome != Proved && whole {
		if p := provePattern(r); p.Outcome == Proved {
			return p
		}
	}
	return res
}

// backlashes are the readings of backlash.
func (r *record) backlashes() []taking {
	return r.takings(gauge.Backlash, func(i int, rd gauge.Reading) Why {
		switch {
		case !r.gearsStill(i):
			return Stale
		case !r.steps[i].Before.CapsTight:
			return CapsSnug
		case rd.Method.Place != act.Heel || rd.Method.Plunger != act.Square:
			return NotSquare
		case rd.Method.Pinion != act.PinionHeld:
			return PinionLoose
		case len(rd.Lengths) < leastPlaces:
			return TooFewPlaces
		}
		return NoWhy
	})
}

func proveBacklash(r *record) Result {
	t, ok := last(r.backlashes())
	if !ok {
		return r.lacking(gauge.Backlash, t)
	}
	c, _ := gauge.ClassOf(t.reading.Tool)
	mean, _, _ := t.reading.Summary()
	w := r.sheet.Backlash
	return r.of(t, hold(Length, c.Shown(mean.MM()), w.LowMM, w.HighMM, expanded(c.StandardUncertainty(0, len(t.reading.Lengths)))))
}

func proveVariation(r *record) Result {
	t, ok := last(r.backlashes())
	if !ok {
		return r.lacking(gauge.Backlash, t)
	}
	c, _ := gauge.ClassOf(t.reading.Tool)
	_, least, most := t.reading.Summary()
	// What is fixed in an indicator falls out of a difference of two readings.
	unsure := expanded(math.Sqrt2 * math.Hypot(c.Repeat, c.Step/math.Sqrt(12)))
	return r.of(t, hold(Length, (most-least).MM(), 0, r.sheet.BacklashSpreadMM, unsure))
}

// proveRunout takes a reading that no work on case or ring gear has followed: taking the case
// out and in leaves the gear on it as it was.
func proveRunout(r *record) Result {
	t, ok := last(r.takings(gauge.Runout, func(i int, _ gauge.Reading) Why {
		if !r.unchanged(i, parts) {
			return Stale
		}
		return NoWhy
	}))
	switch {
	case !ok && r.without(act.MeasureRunout):
		return Result{}
	case !ok:
		return r.lacking(gauge.Runout, t)
	}
	return r.of(t, hold(Length, t.reading.Lengths[0].MM(), 0, r.sheet.RunoutMM, expanded(t.reading.StdMM)))
}

// leastTurns is how far the pinion is turned after the nut has moved, before torque is read.
const leastTurns = 1.0

// pinionTorques are the readings of the pinion's rotating torque.
func (r *record) pinionTorques() []taking {
	return r.takings(gauge.PinionTorque, func(i int, rd gauge.Reading) Why {
		switch {
		case r.steps[i].Before.Pinion != history.PinionFinal || !r.unchanged(i, preload):
			return Stale
		case rd.Method.Pull != act.Rotating:
			return Breakaway
		case r.turned(i) < leastTurns:
			return NotTurned
		}
		return r.oil(i)
	})
}

// turned is how far the pinion has been turned before a step since its nut last moved.
func (r *record) turned(i int) float64 {
	turns := r.steps[i].Before.Turns
	for j := i - 1; j >= 0; j-- {
		switch r.steps[j].Act.Form {
		case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.FitPinion:
			return turns - r.steps[j].After.Turns
		}
	}
	return turns
}

// oil says whether before a step the pinion bearings were known to run in oil.
func (r *record) oil(i int) Why {
	is := NotKnownOiled
	if r.card.UsedBearings && r.card.Kind == scenarios.PreviousWork {
		is = NoWhy
	}
	for _, s := range r.steps[:i] {
		switch {
		case s.Act.Form == act.WashBearings || s.Act.Form == act.ReplaceBearings:
			is = NoWhy
		case s.Act.Form == act.GreaseBearings || s.Found(gauge.BearingsGreased):
			is = Greased
		case s.Found(gauge.BearingsSound, gauge.BearingsOiled, gauge.RollersGritty):
			is = NoWhy
		}
	}
	return is
}

// opened tells whether the trainee has put the pinion in anew. A cage that comes forward for
// another shim keeps its pinion as it was.
func (r *record) opened() bool {
	return slices.ContainsFunc(r.steps[r.own:], func(s history.Step) bool { return s.Act.Form == act.FitPinion })
}

func provePinionTorque(r *record) Result {
	t, ok := last(r.pinionTorques())
	switch {
	case !ok && r.card.Kind == scenarios.PreviousWork && !r.opened():
		return Result{} // with the case in nobody can read it: the total torque tells
	case !ok:
		return r.lacking(gauge.PinionTorque, t)
	}
	w := pinionSpec(r.card)
	return r.of(t, hold(Rotating, t.reading.MeanTorque().Nmm(), w.LowNmm, w.HighNmm, expanded(t.reading.StdNmm)))
}

// pinionSpec is the printed specification of the pinion's rotating torque with its seal in.
func pinionSpec(card scenarios.Card) family.TorqueSpec {
	return card.Family.Sheet.PinionTorque(card.UsedBearings).Plus(card.Family.Sheet.SealDrag)
}

// totalTorques are the readings of the total rotating torque.
func (r *record) totalTorques() []taking {
	return r.takings(gauge.TotalTorque, func(i int, rd gauge.Reading) Why {
		switch {
		case !r.unchanged(i, parts, depth, preload, sides):
			return Stale
		case !r.steps[i].Before.CapsTight:
			return CapsSnug
		case rd.Method.Pull != act.Rotating:
			return Breakaway
		}
		return NoWhy
	})
}

func proveTotalTorque(r *record) Result {
	t, ok := last(r.totalTorques())
	if !ok {
		return r.lacking(gauge.TotalTorque, t)
	}
	w := pinionSpec(r.card).Plus(r.sheet.SideRise(r.card.UsedBearings))
	return r.of(t, hold(Rotating, t.reading.MeanTorque().Nmm(), w.LowNmm, w.HighNmm, expanded(t.reading.StdNmm)))
}

// proveSideRise holds what the side bearings add against their specification, as closely as
// two readings can tell. Where the pinion's own torque cannot be read it does not apply.
func proveSideRise(r *record) Result {
	total, ok := last(r.totalTorques())
	if !ok {
		return r.lacking(gauge.TotalTorque, total)
	}
	pinion, ok := last(r.pinionTorques())
	switch {
	case !ok && r.card.Kind == scenarios.PreviousWork && !r.opened():
		return Result{}
	case !ok:
		return r.lacking(gauge.PinionTorque, pinion)
	}
	w := r.sheet.SideRise(r.card.UsedBearings)
	rise := (total.reading.MeanTorque() - pinion.reading.MeanTorque()).Nmm()
	unsure := expanded(math.Hypot(total.reading.StdNmm, pinion.reading.StdNmm))
	res := hold(Rotating, rise, w.LowNmm-unsure, w.HighNmm+unsure, 0)
	res.Evidence.Low, res.Evidence.High, res.Evidence.Unsure = w.LowNmm, w.HighNmm, unsure
	return r.of(total, res)
}
