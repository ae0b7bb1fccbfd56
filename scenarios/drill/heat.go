package drill

import (
	"math"

	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// stepK is the difference of temperature that a heat drill counts in, 10 °C or 18 °F.
const stepK = 10

// sideGrowth is how much looser the side bearings of a family get for each step, mm.
func sideGrowth(fam family.Family) float64 {
	return (&assembly.Axle{Fam: fam, WarmK: stepK}).SideGrowthByHeatMM()
}

func needsAluminum(k Kind, fam family.Family) (bool, text.Message) {
	return fam.Design.Housing == family.Aluminum, text.Say("drill.fits.aluminum", "drill {kind} needs an axle with an aluminum housing; the housing of {family} is cast iron, which grows as its bearings do", refused(k, fam)...)
}

// heat asks what is left of a side preload when an aluminum housing is warm.
func (p *draft) heat() (Drill, error) {
	const most, unit, least = 4, 0.01, 0.02 // steps, and mm
	w := p.Sheet.SidePreload
	d := p.heatOf(length(math.Round(p.Uniform(w.LowMM, w.HighMM)/unit)*unit), count(1+p.Whole(most)))
	if d.Answer.Figure.Exact() < least {
		return Drill{}, errAgain // all of it is gone
	}
	return d, nil
}

// heatOf is the drill on a side preload and so many steps of warmth.
func (p *draft) heatOf(preload, steps Figure) Drill {
	growth := figure(FineLength, sideGrowth(p.Family))
	lost := growth.times(steps, Length)
	right := preload.minus(lost)
	const near = 0.005 // mm
	return Drill{
		Asks: text.Say("drill.heat.asks", "{family}: the aluminum housing was cold when the side bearing preload was set to {preload} of shim over zero end play. The whole axle is now warmer by {steps} steps of 18 °F (10 °C). Each step lets the side bearings go by {growth}. What side bearing preload is left?",
			p.named(), text.Shown("preload", preload), text.Shown("steps", steps), text.Shown("growth", growth)),
		Answer: Answer{Figure: right, Tolerance: near, Reason: text.Say("drill.reason.heat", "within 0.0002 in (0.005 mm)")},
		Shows:  text.Say("drill.heat.shows", "Aluminum grows more than the steel of the bearings and the case, so a warm housing lets them go. That is why such an axle is set and read cold."),
		Working: []Step{
			{text.Say("drill.step.heat-lost", "Preload lost to the warmth"), lost},
			{text.Say("drill.step.heat-left", "Preload left"), right},
		},
		Wrongs: []Wrong{
			{Misconception: WarmIgnored, Value: preload.Exact(), Why: text.Say("drill.heat.ignored", "Housing and bearings grow by different amounts: aluminum grows more than steel.")},
			{Misconception: WarmTightens, Value: preload.Exact() + lost.Exact(), Why: text.Say("drill.heat.turned", "The housing grows more than what it holds, so the bearings get looser and not tighter.")},
		},
		Lesson: "first-miles",
		Source: Source{text.Say("drill.source.heat", "growth of aluminum and steel over the length between the side bearings"), Computed},
	}
}
