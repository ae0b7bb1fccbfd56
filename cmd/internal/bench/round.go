package bench

import (
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Round is acts that a hand does one after another without a decision between them, such as
// tighten, turn, read. Its first act may ask for amounts; it is then offered without them.
type Round struct {
	ID   string // short and lasting, for a key or an address
	Name text.Message
	Acts []act.Act
	Asks bool // Acts[0] still wants what its slots ask for
}

// The rounds there are.
const (
	GaugeRound   = "gauge"
	FinalRound   = "final"
	TightenRound = "tighten"
	TurnRound    = "turn"
	SidesRound   = "sides"
	CaseRound    = "case"
	RunoutRound  = "runout"
	LashRound    = "backlash"
	TeethRound   = "teeth"
	ApartRound   = "apart"
)

// usualSpread is how far a housing is spread for a case to go in, as a share of its limit.
const usualSpread = 0.85

// rounds lists the rounds whose first act can be done now, in the order of the job.
func (b *Bench) rounds(units quantity.System) []Round {
	st, d := b.Status(), b.Card().Family.Design
	do := func(f act.Form, o ...act.Option) act.Act { return act.Act{Form: f, Choices: o} }
	by := func(f act.Form, n float64, u quantity.Unit) act.Act {
		return act.Act{Form: f, Amounts: []quantity.Entered{{Number: n, Unit: u}}}
	}
	solid := d.Preload == family.SolidSpacer
	turn, read := b.turning(), do(act.MeasureTorque, act.Rotating, b.torqueTool())
	tighten := do(act.TightenNutAngle)
	if solid {
		tighten = do(act.TightenNutTorque)
	}
	in := []act.Act{do(act.FitCase), do(act.TorqueCaps)}
	if d.Entry == family.Spreader {
		spread := act.Act{Form: act.SpreadHousing, Amounts: []quantity.Entered{length(usualSpread*b.Card().Family.Sheet.SpreadLimitMM, units)}}
		in = append([]act.Act{spread}, in...)
	}
	mounted := history.Mount{Place: act.Heel, Plunger: act.Square, Pinion: act.PinionHeld}
	var ready []act.Act
	if !st.CapsTight {
		ready = append(ready, do(act.TorqueCaps))
	}
	mount := ready
	if st.Indicator == nil || *st.Indicator != mounted {
		mount = append(slices.Clone(ready), do(act.MountIndicator, mounted.Place, mounted.Plunger, mounted.Pinion))
	}
	var paint []act.Act
	if st.Compound == "" {
		paint = append(paint, do(act.PaintTeeth, act.Thin))
	}
	const places = 4
	all := []Round{
		{GaugeRound, text.Say("round.gauge", "mock-up, gauge, out"), []act.Act{do(act.FitPinion, act.MockUp), do(act.MeasureDepth), do(act.RemovePinion)}, false},
		{TightenRound, text.Say("round.tighten", "tighten, turn, read"), []act.Act{tighten, turn, read}, true},
		{TurnRound, text.Say("round.turn", "turn, read torque"), []act.Act{turn, read}, false},
		{RunoutRound, text.Say("round.runout", "indicator, runouts"), append(slices.Clone(mount), do(act.MeasureRunout), do(act.MeasureRadialRunout)), false},
		{LashRound, text.Say("round.backlash", "indicator, backlash"), append(slices.Clone(mount), by(act.MeasureBacklash, places, quantity.UnitTurn)), false},
		{TeethRound, text.Say("round.teeth", "paint, roll, read"), append(paint, do(act.RollGears, act.Braked)), false},
		{ApartRound, text.Say("round.apart", "case and pinion out"), []act.Act{do(act.RemoveCase), do(act.RemovePinion)}, false},
	}
	if d.SideAdjust != family.BearingAdjusters {
		all = append(all, Round{SidesRound, text.Say("round.sides", "side shims, case, caps"), append([]act.Act{do(act.FitSideShims)}, in...), true},
			Round{CaseRound, text.Say("round.case", "case in, caps torqued"), in, false})
	}
	if solid {
		all = append(all, Round{FinalRound, text.Say("round.final-solid", "final pinion, nut, read"),
			[]act.Act{do(act.FitPinion, act.Final), {Form: act.TightenNutTorque, Amounts: []quantity.Entered{b.usualNut(units)}}, turn, read}, false})
	}
	return slices.DeleteFunc(all, func(r Round) bool {
		for i, a := range r.Acts {
			if !b.HasNoPlace(a.Form, a.Choices...).IsZero() || i == 0 && b.WhyNot(a.Form) != nil {
				return true
			}
		}
		return b.idle(r)
	})
}

// idle tells whether a round makes no sense as the axle stands, though it could be begun.
func (b *Bench) idle(r Round) bool {
	st := b.Status()
	switch r.ID {
	case GaugeRound, FinalRound:
		return st.Pinion != history.PinionOut
	case TightenRound, TurnRound:
		return st.Pinion != history.PinionFinal || r.ID == TightenRound && st.CaseIn
	case CaseRound:
		return st.CaseIn || st.RingGearShim == 0
	case SidesRound:
		return st.CaseIn || st.Pinion == history.PinionOut
	case RunoutRound, LashRound, TeethRound:
		return !st.CaseIn
	case ApartRound:
		return st.Pinion == history.PinionOut
	}
	return false
}

// turning turns the pinion as far as the reference technician does before a torque is read.
func (b *Bench) turning() act.Act {
	turns := 5.0
	if b.Card().Family.Design.Preload == family.SolidSpacer {
		turns = 8
	}
	return act.Act{Form: act.TurnPinion, Amounts: []quantity.Entered{{Number: turns, Unit: quantity.UnitTurn}}}
}

// torqueTool is what the torque was read with last, else the wrench where there is one.
func (b *Bench) torqueTool() act.Option {
	for _, o := range slices.Backward(b.outs) {
		if o.Act.Form == act.MeasureTorque {
			return o.Act.Choices[1]
		}
	}
	if !b.HasNoPlace(act.MeasureTorque, act.Wrench).IsZero() {
		return act.String
	}
	return act.Wrench
}

// usualNut is the middle of the nut's torque specification.
func (b *Bench) usualNut(units quantity.System) quantity.Entered {
	return fastener(b.Card().Family.Sheet.NutMid(), units)
}

// Unwritten are the acts that write the open lines of the build sheet as they were last
// fitted or read.
func (b *Bench) Unwritten(units quantity.System) []act.Act {
	var out []act.Act
	for _, l := range b.sheetLines() {
		if e, ok := b.Latest(l.Item, units); ok && !l.Written && b.WhyNot(act.RecordValue) == nil {
			out = append(out, act.Act{Form: act.RecordValue, Choices: []act.Option{l.Item}, Amounts: []quantity.Entered{e}})
		}
	}
	return out
}
