package drill

import (
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A conversion is from one unit of torque to another: by how much the number is multiplied,
// or divided.
type conversion struct {
	from, to Measure
	by       Figure
	multiply bool
}

func conversions() []conversion {
	factor := func(nmm, other float64) Figure { return figure(Factor, nmm/other) }
	lbIn, lbFt, nm := quantity.InchPounds(1).Nmm(), quantity.FootPounds(1).Nmm(), quantity.NewtonMetres(1).Nmm()
	return []conversion{
		{PoundFeet, PoundInches, figure(Factor, 12), true},
		{PoundInches, PoundFeet, figure(Factor, 12), false},
		{NewtonMeters, PoundInches, factor(nm, lbIn), true},
		{PoundInches, NewtonMeters, factor(nm, lbIn), false},
		{PoundFeet, NewtonMeters, factor(lbFt, nm), true},
		{NewtonMeters, PoundFeet, factor(lbFt, nm), false},
	}
}

// torqueUnits asks for a torque in another unit: of a bolt in lb-ft, of the pinion bearings
// in lb-in, either of them in N·m.
func (p *draft) torqueUnits() (Drill, error) {
	all := conversions()
	c := all[p.Whole(len(all))]
	bolt := c.from == PoundFeet || c.to == PoundFeet
	torque := p.Sheet.CapTorque.Nmm()
	if !bolt {
		w := p.Sheet.PinionTorque(p.either())
		torque = p.Uniform(w.LowNmm, w.HighNmm)
	} else if p.either() {
		torque = quantity.FootPounds(float64(10 + 5*p.Whole(25))).Nmm()
	}
	// The manual's figure is a round one in its own unit.
	step := map[Measure]float64{PoundInches: 1, PoundFeet: 1, NewtonMeters: 1}[c.from]
	if c.from == NewtonMeters && !bolt {
		step = 0.1
	}
	unit := c.from.unit(quantity.Inch)
	number := rounded(torque/unit.base/step, 0) * step
	return p.unitsOf(c, number*unit.base, bolt), nil
}

// unitsOf is the drill on a torque (N·mm) that a manual gives in one unit.
func (p *draft) unitsOf(c conversion, nmm float64, bolt bool) Drill {
	from := figure(c.from, nmm)
	op := divi
	if c.multiply {
		op = multi
	}
	right := work(c.to, op, from, c.by)
	const near = 0.01 // of the figure
	size := c.to.unit(quantity.Inch).base
	args := []text.Arg{p.named(), text.Shown("torque", from), text.Shown("unit", bareUnit(c.to))}
	out := Drill{
		Asks:    text.Say("drill.torque-units.asks-torque", "{family}: a manual gives the pinion rotating torque as {torque}. Your torque wrench is marked only in {unit}. What must it read, in {unit}?", args...),
		Answer:  Answer{Figure: right, Tolerance: near * right.Exact(), Reason: text.Say("drill.reason.percent", "within 1 % of the figure")},
		Working: []Step{{text.Say("drill.step.in-unit", "Torque in the other unit"), right}},
		Wrongs:  []Wrong{{Misconception: SameNumber, Value: from.Number(quantity.Inch) * size, Why: text.Say("drill.torque-units.same", "A torque of {torque} is another number in {unit}. Write the unit with every torque.", args[1:]...)}},
		Lesson:  "rotating-torque",
	}
	if bolt {
		out.Asks = text.Say("drill.torque-units.asks-bolt", "{family}: a manual gives the torque of a bolt as {torque}. Your torque wrench is marked only in {unit}. What do you set, in {unit}?", args...)
	}
	factor := c.by.exact
	if c.multiply {
		factor = 1 / factor
	}
	turned := Wrong{Misconception: MetricTurned, Value: from.Number(quantity.Inch) * factor * size}
	switch {
	case c.from == NewtonMeters && c.to == PoundInches || c.from == PoundInches && c.to == NewtonMeters:
		out.Shows = text.Say("drill.torque-units.nm-in", "1 N·m is {factor} lb-in: more of the smaller unit for the same torque.", text.Shown("factor", c.by))
	case c.from == NewtonMeters || c.to == NewtonMeters:
		out.Shows = text.Say("drill.torque-units.nm-ft", "1 lb-ft is {factor} N·m: more of the smaller unit for the same torque.", text.Shown("factor", c.by))
	default:
		out.Shows = text.Say("drill.torque-units.twelve", "1 lb-ft is 12 lb-in: more of the smaller unit for the same torque.")
		turned.Misconception = TwelveTurned
	}
	turned.Why = out.Shows
	out.Wrongs = append(out.Wrongs, turned)
	out.Source = Source{text.Say("drill.source.units", "TM 9-2320-366-34-4, para 24-2, pp. 24-12 and 24-13, where torques stand in both systems"), Published}
	if turned.Misconception == TwelveTurned {
		out.Source = Source{text.Say("drill.source.foot", "12 inches in a foot"), Computed}
	}
	return out
}
