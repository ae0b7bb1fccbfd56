package drill

import (
	"shimwright/sim/explore"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// wrenchStep is the tolerance of a torque that is read: one step of the instrument.
func wrenchStep(t gauge.Tool) (nmm float64, step float64) {
	c, _ := gauge.ClassOf(t)
	const rounding = 0.1 // of a step: amounts in a question are rounded
	return c.Step * (1 + rounding), c.Step
}

// twelve adds the mistakes of a foot for an inch, both ways.
func twelve(d *Drill) {
	const inches = 12 // in a foot
	why := text.Say("drill.twelve", "One lb-ft is 12 lb-in, so that is 12 times off. Write the unit with every torque.")
	right := d.Answer.Figure.Exact()
	d.Wrongs = append(d.Wrongs,
		Wrong{Misconception: FeetForInches, Value: right * inches, Why: why},
		Wrong{Misconception: FeetForInches, Value: right / inches, Why: why})
}

// stringScale asks for the torque behind a pull on a string.
func (p *draft) stringScale() (Drill, error) {
	sh := p.Sheet
	used := p.either()
	wanted := sh.PinionTorque(used)
	// A yoke or a socket, in sizes that are round in one unit or the other.
	diameter := quantity.Inches(2 + 0.5*float64(p.Whole(7))).MM()
	if p.either() {
		diameter = 50 + 10*float64(p.Whole(8))
	}
	step := quantity.PoundsForce(0.25).N()
	n := gauge.Class{Step: step}.Shown(p.Uniform(0.7*wanted.LowNmm, 1.3*wanted.HighNmm) / (diameter / 2))
	if n <= 0 {
		return Drill{}, errAgain
	}
	return p.stringOf(diameter, n), nil
}

// stringOf is the drill on a pull (N) at a diameter (mm).
func (p *draft) stringOf(diameter, n float64) Drill {
	tol, step := wrenchStep(gauge.StringAndScale)
	radius := size(diameter).over(count(2), Radius)
	right := pull(n).times(radius, Rotating)
	out := Drill{
		Asks: text.Say("drill.string-scale.asks", "{family}: a string is wound on a part of the pinion with a diameter of {diameter}. At a steady pull the spring scale reads {pull}. What is the rotating torque?",
			p.named(), text.Shown("diameter", size(diameter)), text.Shown("pull", pull(n))),
		Answer:  Answer{Figure: right, Tolerance: tol, Reason: text.Say("drill.reason.string", "string and spring scale can be read to {step}", text.Shown("step", rotating(step)))},
		Shows:   text.Say("drill.string-scale.shows", "Torque is pull times radius, and the radius is half of the diameter."),
		Working: []Step{{text.Say("drill.step.radius", "Radius"), radius}, {text.Say("drill.step.torque", "Rotating torque"), right}},
		Wrongs: []Wrong{{Misconception: Diameter, Value: 2 * right.Exact(),
			Why: text.Say("drill.string-scale.diameter", "The string leaves at {radius} from the center: that is the radius. With the diameter the torque comes out double.", text.Shown("radius", radius))}},
		Lesson: "rotating-torque",
		Source: Source{text.Say("drill.source.string", "TM 5-3810-300-24&P2, about p. 4-256"), Published},
	}
	twelve(&out)
	return out
}

// handPull is the most that a person pulls steadily at a wrench: common practice, no source.
func handPull() float64 { return quantity.PoundsForce(100).N() }

// adapter asks what to set on a torque wrench with an adapter: for the cap bolts where a
// person can reach their torque on the wrench, else for a smaller bolt.
func (p *draft) adapter() (Drill, error) {
	what := text.Say("drill.adapter.bolt", "a bolt")
	torque := quantity.FootPounds(float64(20 + 5*p.Whole(29))).Nmm()
	if p.either() {
		torque = quantity.NewtonMetres(float64(30 + 10*p.Whole(18))).Nmm()
	}
	if p.either() {
		what, torque = text.Say("drill.adapter.cap-bolts", "the bearing cap bolts"), p.Sheet.CapTorque.Nmm()
	}
	wrench := quantity.Inches(12 + 6*float64(p.Whole(5))).MM()
	reach := quantity.Inches(2 + float64(p.Whole(7))).MM()
	if p.either() {
		wrench, reach = 300+100*float64(p.Whole(6)), 50+25*float64(p.Whole(7))
	}
	d, err := p.adapterOf(what, torque, wrench, reach, p.Whole(4) == 0)
	const least = 0.15 // of that pull; a longer wrench than needed is not taken
	if err == nil && (d.Answer.Figure.Exact() > handPull()*wrench || d.Answer.Figure.Exact() < least*handPull()*wrench) {
		err = errAgain
	}
	return d, err
}

// adapterOf is the drill on an adapter (reach, mm) on a wrench (mm), straight on or square
// to it, for a torque (N·mm).
func (p *draft) adapterOf(what text.Message, torque, wrench, reach float64, square bool) (Drill, error) {
	c, _ := gauge.ClassOf(gauge.NutWrench)
	straight, err := setup.AdapterFactor(wrench, reach, 0)
	if err != nil {
		return Drill{}, err
	}
	spec := fastener(torque)
	args := []text.Arg{p.named(), text.Of("fastener", what), text.Shown("spec", spec), text.Shown("wrench", size(wrench)), text.Shown("reach", size(reach))}
	out := Drill{
		Answer: Answer{Tolerance: c.Step/2 + c.Step/20, Reason: text.Say("drill.reason.setting", "half of {step}, the step in which such a wrench is set", text.Shown("step", fastener(c.Step)))},
		Lesson: "trust-instruments",
		Source: Source{text.Say("drill.source.adapter", "TM 5-3810-305-23"), Published},
	}
	if square {
		out.Asks = text.Say("drill.adapter.asks-square", "{family}: the spec for {fastener} is {spec}, and no socket reaches there. The torque wrench is {wrench} from its square drive to the middle of the grip, and the adapter {reach} from the square drive to the bolt. The adapter sits at a right angle to the wrench. What do you set?", args...)
		out.Answer.Figure = spec
		out.Shows = text.Say("drill.adapter.shows-square", "At a right angle the adapter does not lengthen the lever: set {spec}.", text.Shown("spec", spec))
		out.Wrongs = []Wrong{
			{Misconception: AlwaysLonger, Value: torque / straight, Why: text.Say("drill.adapter.not-straight", "That is right for an adapter in line with the wrench. At a right angle it does not lengthen the lever.")},
			{Misconception: AdapterTurned, Value: torque * straight, Why: text.Say("drill.adapter.not-more", "At a right angle the bolt gets what the wrench is set to.")},
		}
		twelve(&out)
		return out, nil
	}
	lever := size(wrench).plus(size(reach))
	factor := lever.over(size(wrench), Factor)
	right := spec.over(factor, Fastener)
	out.Asks = text.Say("drill.adapter.asks-in-line", "{family}: the spec for {fastener} is {spec}, and no socket reaches there. The torque wrench is {wrench} from its square drive to the middle of the grip, and the adapter {reach} from the square drive to the bolt. The adapter is in line with the wrench. What do you set?", args...)
	out.Answer.Figure = right
	out.Shows = text.Say("drill.adapter.shows-in-line", "The adapter lengthens the lever, so the bolt gets more than the wrench is set to: divide.")
	out.Working = []Step{
		{text.Say("drill.step.lever", "Whole lever"), lever},
		{text.Say("drill.step.lever-factor", "Bolt torque for each unit of setting"), factor},
		{text.Say("drill.step.setting", "Setting"), right},
	}
	out.Wrongs = []Wrong{
		{Misconception: AdapterTurned, Value: torque * straight, Why: text.Say("drill.adapter.turned", "The longer lever gives the bolt more than the setting, so the setting must be less: divide by {factor}.", text.Shown("factor", factor))},
		{Misconception: AdapterIgnored, Value: torque, Why: text.Say("drill.adapter.ignored", "With that setting the bolt would get {torque}.", text.Shown("torque", spec.times(factor, Fastener)))},
	}
	twelve(&out)
	return out, nil
}

// totalTorque asks for a total torque, or for what the side bearings take.
func (p *draft) totalTorque() (Drill, error) {
	sh := p.Sheet
	used := p.either()
	w := sh.PinionTorque(used)
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	m, err := p.model()
	if err != nil {
		return Drill{}, err
	}
	set := explore.Finished(p.Family, used)
	set.SideFitMM = p.Uniform(sh.SidePreload.LowMM, sh.SidePreload.HighMM)
	set.TorqueTargetNmm = p.Uniform(w.LowNmm, w.HighNmm)
	set.FilmMM = 0
	r, err := m.bench.At(set)
	if err != nil {
		return Drill{}, errAgain
	}
	ratio := count(sh.RingTeeth).over(count(sh.PinionTeeth), Ratio)
	pinion := wrench.Shown(r.Pinion.PinionBearingTorqueNmm)
	tol, step := wrenchStep(gauge.LowRangeWrench)
	rule := text.Say("drill.total-torque.rule", "The pinion turns {ratio} times for one turn of the ring gear, so torque at the ring gear is felt at the pinion divided by {ratio}.", text.Shown("ratio", ratio))
	out := Drill{
		Answer: Answer{Tolerance: tol, Reason: text.Say("drill.reason.wrench", "a low-range torque wrench can be read to {step}", text.Shown("step", rotating(step)))},
		Shows:  rule,
		Lesson: "total-torque",
		Source: Source{text.Say("drill.source.work", "the work done in one turn of the pinion"), Computed},
	}
	ratioStep := Step{text.Say("drill.step.ratio", "Axle ratio"), ratio}
	teeth := []text.Arg{p.named(), text.Shown("ring_teeth", count(sh.RingTeeth)), text.Shown("pinion_teeth", count(sh.PinionTeeth)), text.Shown("pinion", rotating(pinion))}
	exact := sh.Ratio()
	if p.either() {
		sides := wrench.Shown(r.Sides.SideBearingNmm * exact)
		felt := rotating(sides).over(ratio, Rotating)
		right := rotating(pinion).plus(felt)
		out.Asks = text.Say("drill.total-torque.asks-total", "{family}: ring gear {ring_teeth} teeth, pinion {pinion_teeth} teeth. The pinion rotating torque is {pinion}, and the side bearings take {sides}, measured at the ring gear. Leaving out seal and gear mesh, what total rotating torque do you expect at the pinion?", append(teeth, text.Shown("sides", rotating(sides)))...)
		out.Answer.Figure = right
		out.Working = []Step{ratioStep, {text.Say("drill.step.at-pinion", "Side bearings, felt at the pinion"), felt}, {text.Say("drill.step.total", "Total rotating torque"), right}}
		out.Wrongs = []Wrong{
			{Misconception: RatioIgnored, Value: pinion + sides, Why: rule},
			{Misconception: RatioTurned, Value: pinion + sides*exact, Why: rule},
			{Misconception: RatioForAll, Value: (pinion + sides) / exact, Why: text.Say("drill.total-torque.pinion-as-it-is", "The pinion rotating torque is already read at the pinion. Only the torque at the ring gear is divided by the ratio.")},
		}
		twelve(&out)
		return out, nil
	}
	total := wrench.Shown(r.Pinion.PinionBearingTorqueNmm + r.Sides.SideBearingNmm)
	if total <= pinion {
		return Drill{}, errAgain
	}
	rise := rotating(total).minus(rotating(pinion))
	right := rise.times(ratio, Rotating)
	out.Asks = text.Say("drill.total-torque.asks-sides", "{family}: ring gear {ring_teeth} teeth, pinion {pinion_teeth} teeth. The pinion rotating torque is {pinion}; with the case in, the total rotating torque is {total}. Leaving out seal and gear mesh, what torque do the side bearings take, measured at the ring gear?", append(teeth, text.Shown("total", rotating(total)))...)
	out.Answer.Figure = right
	out.Working = []Step{ratioStep, {text.Say("drill.step.rise", "Side bearings, felt at the pinion"), rise}, {text.Say("drill.step.at-ring-gear", "Side bearings, at the ring gear"), right}}
	out.Wrongs = []Wrong{
		{Misconception: RatioIgnored, Value: total - pinion, Why: rule},
		{Misconception: RatioTurned, Value: (total - pinion) / exact, Why: text.Say("drill.total-torque.back", "{rule} From the pinion back to the ring gear it is multiplied.", text.Of("rule", rule))},
		{Misconception: RatioForAll, Value: total * exact, Why: text.Say("drill.total-torque.take-pinion-off", "The pinion bearings' own {pinion} is no part of the side bearings' torque: take it off first.", text.Shown("pinion", rotating(pinion)))},
	}
	twelve(&out)
	return out, nil
}
