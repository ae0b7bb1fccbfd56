package ledger

import (
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// An option is something that some schools do and others do not: its minutes are not charged
// where it is done for the first time on the axle as it stands, and not more often a job than
// a careful technician would. It is not in the value, so nobody who leaves it out is the
// richer for it.
type option struct {
	form   act.Form
	most   int // a job
	when   func(Progress, history.Step) bool
	Source string
}

// Pulls on a nut that count as small and are still pulls, degrees.
const leastPullDeg, smallPullDeg = 2, 6

// options lists what is allowed beside the procedure.
func options() []option {
	onMockUp := func(p Progress, o history.Step) bool {
		return o.Before.Pinion == history.PinionMockUp && !p.rolled[o.Before.DepthShim.MM()] && p.at[o.Act.Form] != o.Before.Changes
	}
	afterMockUp := func(_ Progress, o history.Step) bool { return o.Before.Pinion == history.PinionMockUp }
	handed := func(p Progress, o history.Step) bool { return p.handed[o.Act.Form] }
	first := func(p Progress, o history.Step) bool { return !p.current(o.Act.Form, o.Before) }
	const mockUpPattern = "TM 9-2320-266-34, para 19-5; common practice for where in the job"
	var out []option
	for _, f := range []act.Form{act.FitSideShims, act.SpreadHousing, act.FitCase, act.TorqueCaps, act.LoosenCaps, act.MountIndicator, act.MeasureBacklash,
		act.MeasureEndPlay, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.PaintTeeth, act.RollGears} {
		out = append(out, option{f, 5, onMockUp, mockUpPattern})
	}
	// Where zero end play lies can be found with the pinion out, when no tooth takes up play.
	pinionOut := func(_ Progress, o history.Step) bool { return o.Before.Pinion == history.PinionOut }
	for _, f := range []act.Form{act.FitSideShims, act.SpreadHousing, act.FitCase, act.TorqueCaps, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster} {
		out = append(out, option{f, 3, pinionOut, commonPractice})
	}
	// A spacer does not spring back: who goes on in small pulls, each turned in and read, buys
	// safety with minutes.
	small := func(_ Progress, o history.Step) bool {
		deg := o.Act.Amounts[0].Number
		return o.After.Pinion == history.PinionFinal && deg >= leastPullDeg && deg <= smallPullDeg
	}
	unsettled := func(_ Progress, o history.Step) bool { return o.Before.Nut.Unsettled }
	out = append(out, option{act.TightenNutAngle, 60, small, commonPractice}, option{act.TurnPinion, 20, unsettled, commonPractice})
	for _, f := range []act.Form{act.TestIndicator, act.MountIndicator, act.MeasureRunout, act.MeasureRadialRunout, act.MeasureBacklash, act.MeasureTorque, act.MeasureDepthShim} {
		out = append(out, option{f, 5, handed, commonPractice}) // nobody's word is taken for a reading
	}
	return append(out,
		option{act.RemoveCase, 5, afterMockUp, mockUpPattern},
		option{act.FitPinion, 3, func(p Progress, o history.Step) bool {
			return o.After.Pinion == history.PinionMockUp && !p.rolled[o.Before.DepthShim.MM()]
		}, commonPractice},
		option{act.RemovePinion, 3, afterMockUp, commonPractice},
		option{act.MeasureDepth, 3, func(p Progress, o history.Step) bool { return p.gaugedAt != o.Before.Builds }, commonPractice},
		option{act.MeasureTorque, 20, func(p Progress, o history.Step) bool { return !p.toolUsed(o) }, commonPractice},
		option{act.MeasureSideShims, 4, first, commonPractice},
		option{act.MeasureSpread, 3, first, "TM 5-3810-306-34, pp 8-34 and 8-42"},
		option{act.MeasurePinionEndPlay, 3, first, commonPractice},
		option{act.InspectCaps, 1, first, commonPractice},
		option{act.TestString, 1, first, commonPractice},
		option{act.TestGauge, 1, first, commonPractice},
		option{act.InspectShafts, 1, first, commonPractice},
		option{act.MeasureRunout, 2, first, commonPractice},
		option{act.MeasureRadialRunout, 2, first, commonPractice},
	)
}

// allowed is how much of an act's time is not charged, minutes: for an option no more than it
// would be charged.
func (l *Ledger) allowed(p *Progress, o history.Step, charge float64) float64 {
	if charge <= 0 || l.card.Kind == scenarios.PreviousWork && o.Before.Pinion == history.PinionFinal && o.Act.Form == act.RemoveCase {
		return 0
	}
	free := 0.0
	if o.Act.Form == act.MeasureBacklash && !p.current(o.Act.Form, o.Before) {
		free = max(l.Spent(o)-l.minutes(act.MeasureBacklash), 0) // more places
	}
	for _, x := range l.options {
		if x.form == o.Act.Form && x.when(*p, o) && p.used[x.form] < x.most {
			p.used[x.form]++
			free = l.Spent(o) - l.partsOf(o) + l.undoing(o)
			break
		}
	}
	return min(free, charge)
}

// undoing is the time that taking apart again takes of what is put together only to be read.
func (l *Ledger) undoing(o history.Step) float64 {
	switch {
	case o.After.Pinion == history.PinionMockUp && o.Act.Form == act.FitPinion:
		return l.minutes(act.RemovePinion)
	case o.After.Pinion != history.PinionFinal && o.Act.Form == act.FitCase:
		return l.minutes(act.RemoveCase)
	}
	return 0
}

func (l *Ledger) partsOf(o history.Step) float64 {
	_, parts := l.costs.Spent(l.design, o)
	return parts + l.damage(o)
}

// current tells whether an act has been done on the axle as it stands.
func (p Progress) current(f act.Form, st history.Status) bool {
	it, ok := itemOf(f)
	n, done := p.done[f]
	return ok && done && n == it.count(st.Changes)
}

// toolUsed tells whether the torque has been read with the tool of a step since the nut or the
// sides were last changed.
func (p Progress) toolUsed(o history.Step) bool {
	return p.read[o.Act.Choices[1]] == torqueState(o.Before)
}

// torqueState counts what the torque depends on; never zero.
func torqueState(st history.Status) int {
	return 1 + st.Changes.Preload + st.Changes.Sides
}
