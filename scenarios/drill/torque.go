package drill

import (
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// wrenchStep is the tolerance of a torque that is read: one step of the instrument.
func wrenchStep(t gauge.Tool) (nmm float64, step float64) {
	c, _ := gauge.ClassOf(t)
	const rounding = 0.1 // of a step: amounts in a question are rounded
	return c.Step * (1 + rounding), c.Step
}

// twelve adds the ideas of a foot for an inch, both ways.
func twelve(d *Drill) {
	const inches = 12 // in a foot
	why := say("A foot is twelve inches: that is twelve times off. Write the unit with every torque.")
	d.Wrongs = append(d.Wrongs,
		Wrong{Misconception: FeetForInches, Value: d.Answer.Value * inches, Why: why},
		Wrong{Misconception: FeetForInches, Value: d.Answer.Value / inches, Why: why})
}

// cord asks for the torque behind a pull on a cord.
func (p *draft) stringScale() (Drill, error) {
	sh := p.Sheet
	used := p.either()
	wanted := sh.PinionTorque(used)
	// A flange or a socket, in sizes that are round in one unit or the other.
	diameter := quantity.Inches(2 + 0.5*float64(p.Whole(7))).MM()
	if p.either() {
		diameter = 50 + 10*float64(p.Whole(8))
	}
	step := quantity.PoundsForce(0.25).N()
	n := gauge.Class{Step: step}.Shown(p.Uniform(0.7*wanted.LowNmm, 1.3*wanted.HighNmm) / (diameter / 2))
	if n <= 0 {
		return Drill{}, errAgain
	}
	return p.stringOf(diameter, n)
}

// cordOf is the drill on a pull (N) over a drum (diameter, mm).
func (p *draft) stringOf(diameter, n float64) (Drill, error) {
	right, err := setup.StringTorqueNmm(n, diameter/2)
	if err != nil {
		return Drill{}, err
	}
	tol, shown := wrenchStep(gauge.StringAndScale)
	out := Drill{
		Asks: say("%s: a cord is wound on a drum of %s diameter on the pinion. Drawn steadily it pulls %s on the scale. What is the rotating torque?",
			p.Code, size(diameter), pull(n)),
		Answer: Answer{Form: Turning, Value: right, Tolerance: tol, Reason: say("what cord and scale can show, %s", asTorque(shown))},
		Shows: say("Torque is pull times radius, and the radius is half of %s: %s x %s = %s.",
			size(diameter), pull(n), size(diameter/2), asTorque(right)),
		Wrongs: []Wrong{{Misconception: Diameter, Value: 2 * right, Why: say("The cord leaves the drum at %s from the middle, the radius. With the diameter the torque comes out double.", size(diameter/2))}},
		Lesson: "rotating-torque",
		Source: Source{"TM 5-3810-300-24&P2, about p. 4-256", published},
	}
	twelve(&out)
	return out, nil
}

// adapter asks what to set on a wrench.
func (p *draft) adapter() (Drill, error) {
	sh := p.Sheet
	what, torque := "the cap bolts", sh.CapTorque.Nmm()
	if p.either() {
		what, torque = "the pinion nut", sh.NutMid().Nmm()
		if p.Design.Preload == family.CollapsibleSpacer {
			what, torque = "the pinion nut to begin with", sh.NutLow.Nmm()
		}
	}
	wrench := quantity.Inches(12 + 6*float64(p.Whole(5))).MM()
	reach := quantity.Inches(2 + float64(p.Whole(7))).MM()
	if p.either() {
		wrench, reach = 300+100*float64(p.Whole(6)), 50+25*float64(p.Whole(7))
	}
	return p.adapterOf(what, torque, wrench, reach, p.Whole(4) == 0)
}

// adapterOf is the drill on an adapter (reach, mm) on a wrench (mm), straight on or square
// to it, for a torque (N·mm).
func (p *draft) adapterOf(what string, torque, wrench, reach float64, square bool) (Drill, error) {
	c, _ := gauge.ClassOf(gauge.NutWrench)
	straight, err := setup.AdapterFactor(wrench, reach, 0)
	if err != nil {
		return Drill{}, err
	}
	tol := c.Step/2 + c.Step/20
	out := Drill{
		Answer: Answer{Form: Tight, Tolerance: tol, Reason: say("half of %s, the step such a wrench is set by", tight(c.Step))},
		Lesson: "trust-instruments",
		Source: Source{"TM 9-254, fig. 45 and 46", published},
	}
	begin := say("%s: the sheet has %s for %s. The wrench is %s from its square to your hand, and the adapter %s from its square to the fastener",
		p.Code, tight(torque), what, size(wrench), size(reach))
	if square {
		out.Asks = say("%s, standing square to the wrench. What do you set?", begin)
		out.Answer.Value = torque
		out.Shows = say("Square to the wrench the adapter makes the lever no longer: set %s as it stands.", tight(torque))
		out.Wrongs = []Wrong{
			{Misconception: AlwaysLonger, Value: torque / straight, Why: say("That is right for an adapter straight on. Square to the wrench it does not lengthen the lever.")},
			{Misconception: AdapterAdds, Value: torque * straight, Why: say("That is what the fastener would get through an adapter straight on, were the wrench set to the sheet's figure.")},
		}
	} else {
		set, err := setup.WrenchSettingNmm(torque, wrench, reach, 0)
		if err != nil {
			return Drill{}, err
		}
		out.Asks = say("%s, straight on. What do you set?", begin)
		out.Answer.Value = set
		out.Shows = say("The adapter lengthens the lever from %s to %s, so the fastener gets %s times what is set: %s / %s = %s.",
			size(wrench), size(wrench+reach), number(straight, 3), tight(torque), number(straight, 3), tight(set))
		out.Wrongs = []Wrong{
			{Misconception: AdapterAdds, Value: torque * straight, Why: say("The longer lever gives more than is set, so less must be set: divide by %s.", number(straight, 3))},
			{Misconception: AdapterIgnored, Value: torque, Why: say("Set so, the fastener would get %s.", tight(torque*straight))},
		}
	}
	twelve(&out)
	return out, nil
}

// total asks for a total torque, or for what the sides take.
func (p *draft) total() (Drill, error) {
	sh := p.Sheet
	used := p.either()
	w := sh.PinionTorque(used)
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	set := explore.Finished(p.Family, used)
	set.SideFitMM = p.Uniform(sh.SidePreload.LowMM, sh.SidePreload.HighMM)
	set.TorqueTargetNmm = p.Uniform(w.LowNmm, w.HighNmm)
	set.FilmMM = 0
	r, err := p.bench.At(set)
	if err != nil {
		return Drill{}, errAgain
	}
	ratio := sh.Ratio()
	pinion := wrench.Shown(r.Pinion.PinionBearingTorqueNmm)
	tol, step := wrenchStep(gauge.LowRangeWrench)
	reason := say("what a low-range wrench can show, %s", asTorque(step))
	source := Source{"the work done in one turn of the pinion", computed}
	const why = "The ring gear turns once for %s turns of the pinion, so what drags on it is felt at the pinion divided by %s"
	ratioText := number(ratio, 2)
	felt := say(why, ratioText, ratioText)
	feltSo := say("%s.", felt)
	out := Drill{Lesson: "total-torque", Source: source}
	if p.either() {
		sides := wrench.Shown(r.Sides.SideBearingNmm * ratio)
		right, err := setup.TotalTorqueNmm(pinion, sides, ratio)
		if err != nil {
			return Drill{}, err
		}
		out.Asks = say("%s: ring gear %d teeth, pinion %d. The pinion alone turns with %s, and the side bearings take %s at the ring gear. Seal and teeth left out, what total do you expect at the pinion?",
			p.Code, sh.RingTeeth, sh.PinionTeeth, asTorque(pinion), asTorque(sides))
		out.Answer = Answer{Form: Turning, Value: right, Tolerance: tol, Reason: reason}
		out.Shows = say("%s: %s + %s / %s = %s.", felt, asTorque(pinion), asTorque(sides), ratioText, asTorque(right))
		out.Wrongs = []Wrong{
			{Misconception: RatioIgnored, Value: pinion + sides, Why: feltSo},
			{Misconception: RatioTurned, Value: pinion + sides*ratio, Why: feltSo},
			{Misconception: RatioForAll, Value: (pinion + sides) / ratio, Why: say("The pinion's own torque is there already; only what drags on the ring gear comes through the ratio.")},
		}
		twelve(&out)
		return out, nil
	}
	total := wrench.Shown(r.Pinion.PinionBearingTorqueNmm + r.Sides.SideBearingNmm)
	right, err := setup.SideTorqueAtCaseNmm(total, pinion, ratio)
	if err != nil || total <= pinion {
		return Drill{}, errAgain
	}
	out.Asks = say("%s: ring gear %d teeth, pinion %d. The pinion alone turns with %s; with the case in, the total is %s. Seal and teeth left out, what do the side bearings take at the ring gear?",
		p.Code, sh.RingTeeth, sh.PinionTeeth, asTorque(pinion), asTorque(total))
	out.Answer = Answer{Form: Turning, Value: right, Tolerance: tol, Reason: reason}
	out.Shows = say("%s. Turned round: (%s - %s) x %s = %s.", felt, asTorque(total), asTorque(pinion), ratioText, asTorque(right))
	out.Wrongs = []Wrong{
		{Misconception: RatioIgnored, Value: total - pinion, Why: feltSo},
		{Misconception: RatioTurned, Value: (total - pinion) / ratio, Why: say("%s; from the pinion back to the ring gear it is multiplied.", felt)},
		{Misconception: RatioForAll, Value: total * ratio, Why: say("The pinion's own %s is no part of what the sides take: take it off first.", asTorque(pinion))},
	}
	twelve(&out)
	return out, nil
}
