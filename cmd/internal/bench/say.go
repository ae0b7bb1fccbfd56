package bench

import (
	"shimwright/grading/acceptance"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// amount is an amount of an item as a value of a text.
func (i Item) amount(name string, v float64) text.Arg {
	switch i.Of {
	case acceptance.Rotating:
		return text.Torque(name, quantity.Torque(v))
	case acceptance.Fastener:
		return text.Fastener(name, quantity.Torque(v))
	case acceptance.Share:
		const two = 2
		return text.Number(name, v, two)
	}
	return text.Length(name, quantity.Millimetres(v))
}

// SpecMessage is the specification in words; the zero Message where there is none.
func (i Item) SpecMessage() text.Message {
	switch {
	case !i.Spec:
		return text.Message{}
	case i.AtMost:
		return text.Say("paper.at-most", "{high} at most", i.amount("high", i.High))
	}
	return text.Say("paper.span", "{low} to {high}", i.amount("low", i.Low), i.amount("high", i.High))
}

// ReadMessage is the latest reading with what it cannot tell; the zero Message before one.
func (i Item) ReadMessage() text.Message {
	switch {
	case i.State == NotRead:
		return text.Message{}
	case i.Unsure == 0:
		return text.Say("paper.read", "{read}", i.amount("read", i.Read))
	}
	return text.Say("paper.read-unsure", "{read} +/- {unsure}", i.amount("read", i.Read), i.amount("unsure", i.Unsure))
}

// StateMessage says in a word or two how the reading stands to its specification, or that it
// no longer tells; the zero Message for a reading without a specification that still does.
func (i Item) StateMessage() text.Message {
	switch {
	case i.State == NotRead:
		return text.Say("paper.not-read", "not read")
	case i.State == Stale && i.Since > 0:
		return text.Say("paper.stale", "stale since act {n}", text.Count("n", i.Since))
	case i.State == Stale:
		return text.Say("paper.stale-before", "stale")
	case i.Why != acceptance.NoWhy && i.Why != acceptance.Unsure && i.Why != acceptance.Inside:
		return text.Say("paper.does-not-count", "does not count")
	case !i.Spec:
		return text.Message{}
	case i.Side() < 0:
		return text.Say("paper.low", "low")
	case i.Side() > 0:
		return text.Say("paper.high", "high")
	}
	return text.Say("paper.inside", "inside")
}

// Message says what is still to be done or shown: why a line is not proved, where there is
// more to say than what it asks for.
func (t Todo) Message() text.Message {
	if t.Line == nil {
		return t.Form.Usage().Help
	}
	if why := t.Line.Evidence.Message(); !why.IsZero() && t.Line.Evidence.Why != acceptance.NotYet {
		return why
	}
	return t.Line.Asks
}

// Standing lists what is in and what is out, in a few words each.
func (v View) Standing() []text.Message {
	st := v.Status
	var out []text.Message
	switch st.Pinion {
	case history.PinionMockUp:
		out = append(out, text.Say("standing.mock-up", "pinion in, mock-up"))
	case history.PinionFinal:
		out = append(out, text.Say("standing.final", "pinion in, final assembly"))
	default:
		out = append(out, text.Say("standing.pinion-out", "pinion out"))
	}
	size := func(l quantity.Length, m text.Message) {
		if l > 0 {
			out = append(out, m)
		}
	}
	size(st.DepthShim, text.Say("standing.depth-shim", "depth shim {size}", text.Length("size", st.DepthShim)))
	size(st.PreloadShims, text.Say("standing.preload-shims", "preload shims {size}", text.Length("size", st.PreloadShims)))
	switch {
	case st.CaseIn && st.CapsTight:
		out = append(out, text.Say("standing.case-torqued", "case in, caps torqued"))
	case st.CaseIn:
		out = append(out, text.Say("standing.case-snug", "case in, caps snug"))
	default:
		out = append(out, text.Say("standing.case-out", "case out"))
	}
	size(st.RingGearShim, text.Say("standing.side-shims", "side shims {gear_side} on the ring-gear side, {opposite} opposite", text.Length("gear_side", st.RingGearShim), text.Length("opposite", st.OppositeShim)))
	if st.AdjustersUp {
		out = append(out, text.Say("standing.adjusters", "adjusters {gear_side} and {opposite} notches in, ring-gear side first", text.Number("gear_side", st.RingGearNotches, -1), text.Number("opposite", st.OppositeNotches, -1)))
	}
	size(st.Spread, text.Say("standing.spread", "housing spread {size}", text.Length("size", st.Spread)))
	if st.NutBackedOff {
		out = append(out, text.Say("standing.backed-off", "nut backed off"))
	}
	return out
}

// LowMessage and HighMessage are the ends of the specification.
func (i Item) LowMessage() text.Message {
	return text.Say("paper.end-low", "{low}", i.amount("low", i.Low))
}
func (i Item) HighMessage() text.Message {
	return text.Say("paper.end-high", "{high}", i.amount("high", i.High))
}

// ShortState is StateMessage in one short word.
func (i Item) ShortState() text.Message {
	switch {
	case i.State == Stale:
		return text.Say("paper.short.stale", "stale")
	case i.State == NotRead || !i.Spec:
		return text.Message{}
	case i.Why != acceptance.NoWhy && i.Why != acceptance.Unsure && i.Why != acceptance.Inside:
		return text.Say("paper.short.does-not-count", "?")
	case i.Side() < 0:
		return text.Say("paper.short.low", "low")
	case i.Side() > 0:
		return text.Say("paper.short.high", "high")
	}
	return text.Say("paper.short.inside", "ok")
}
