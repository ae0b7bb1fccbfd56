package drill

import (
	"shimwright/sim"
	"shimwright/sim/gauge"
	"shimwright/sim/text"
)

// nutStep asks how far the nut of a collapsible spacer has still to be turned for the middle
// of the spec.
func (p *draft) nutStep() (Drill, error) {
	used := p.either()
	gains, err := sim.NominalGains(p.Family, used)
	if err != nil {
		return Drill{}, err
	}
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	w := p.Sheet.PinionTorque(used)
	const least, most, stepDeg = 0.3, 0.7, 5 // of the lowest torque in spec; degrees
	reads := rotating(wrench.Shown(p.Uniform(least, most) * w.LowNmm))
	worth := rotating(wrench.Shown(stepDeg * gains.TorquePerDegreeNmm))
	if reads.Exact() <= 0 || reads.Exact() >= w.LowNmm || worth.Exact() <= 0 {
		return Drill{}, errAgain
	}
	step := figure(Angle, stepDeg)
	middle := middleOf(w)
	change := apart(middle, reads)
	steps := change.over(worth, Ratio)
	right := steps.times(step, Angle)
	perDeg := worth.Exact() / stepDeg
	out := Drill{
		Asks: text.Say("drill.nut-step.asks", "{family}: collapsible spacer, {bearings} pinion bearings, seal out, end play gone. The pinion rotating torque is {reads}. From here each {step} of nut adds about {worth}. The spec is {specs}; aim for the middle. How far is the nut still to be turned, in degrees?",
			p.named(), bearings(used), text.Shown("reads", reads), text.Shown("step", step), text.Shown("worth", worth), p.torqueSpecs()),
		Answer: Answer{Figure: right, Tolerance: w.Half() / 2 / perDeg,
			Reason: text.Say("drill.reason.middle-half", "the torque comes into the middle half of the spec")},
		Shows:   text.Say("drill.nut-step.shows", "Do not turn the nut all at once: after each {step} or less, turn the pinion and read again. Past the spec it takes a new spacer and a new nut.", text.Shown("step", step)),
		Working: []Step{middleStep(middle), torqueChange(change), {text.Say("drill.step.nut-steps", "Steps of the nut"), steps}, {text.Say("drill.step.nut-angle", "Turn of the nut"), right}},
		Wrongs:  []Wrong{{Misconception: StepPerDegree, Value: steps.Exact(), Why: text.Say("drill.nut-step.per-degree", "{worth} is what {step} of nut adds, not what one degree adds.", text.Shown("worth", worth), text.Shown("step", step))}},
		Lesson:  "crush-spacer",
		Source:  Source{text.Say("drill.source.small-steps", "TM 9-2320-289-34, para 6-17, p. 6-119, steps 7-8, for the small steps; how many, by proportion"), Published},
	}
	if other := (p.Sheet.PinionTorque(!used).Mid() - reads.Exact()) / perDeg; other > 0 && abs(other-right.Exact()) > 2*out.Answer.Tolerance {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: NewForUsed, Value: other, Why: text.Say("drill.nut-step.other-spec", "These bearings are {bearings}. That turn is for the other spec.", bearings(used))})
	}
	return out, nil
}
