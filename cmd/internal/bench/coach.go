package bench

import (
	"shimwright/grading/acceptance"
	"shimwright/grading/coach"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// coached is what a coached bench has beside an ordinary one.
type coached struct {
	*coach.Coach
	seen  map[Stage]bool // stages whose purpose has been said
	enter bool           // the job has come to a stage that had not been reached before
}

// beCoached lets a coach follow the job from here on, once it has followed what has been done.
// Errors: those of coach.New.
func (b *Bench) beCoached() error {
	c, err := coach.New(b.Card())
	if err != nil {
		return err
	}
	b.coach = &coached{Coach: c, seen: map[Stage]bool{}}
	for _, o := range b.outs {
		c.Take(o)
	}
	b.coach.enter = b.enters() && len(b.outs) == 0
	return nil
}

// enters tells whether the job stands at a stage for the first time.
func (b *Bench) enters() bool {
	at := b.stage(acceptance.Of(b.Card(), b.outs))
	first := !b.coach.seen[at]
	b.coach.seen[at] = true
	return first
}

// follow has the coach take in the last act.
func (b *Bench) follow() {
	if b.coach != nil {
		b.coach.Take(b.outs[len(b.outs)-1])
		b.coach.enter = b.enters()
	}
}

// Words are what the coach has to say of each act so far, spoken or not; none where there is
// no coach. They must not be changed.
func (b *Bench) Words() []coach.Word {
	if b.coach == nil {
		return nil
	}
	return b.coach.Words()
}

// LastWord is what the coach said last; ok is false where nothing has been said.
func (b *Bench) LastWord() (w coach.Word, ok bool) {
	words := b.Words()
	for i := len(words) - 1; i >= 0; i-- {
		if words[i].Spoken() {
			return words[i], true
		}
	}
	return coach.Word{}, false
}

// FallAway is how many acts taking back would undo: those from the last decision on, as far
// as a person has done them. 0 where nothing can be taken back.
func (b *Bench) FallAway() int {
	if b.coach == nil || b.coach.Decision() == 0 {
		return 0
	}
	n := min(len(b.outs)-b.coach.Decision()+1, len(b.outs)-b.byCoach())
	if !b.rec.MayTakeBack(n) {
		return 0
	}
	return n
}

// byCoach is how many acts the coach did at the beginning.
func (b *Bench) byCoach() int {
	n := 0
	for _, e := range b.rec.Standing() {
		if e.Coach {
			n++
		}
	}
	return n
}

// TakeBack goes back to before the last decision: the acts from it on fall away and stay in
// the attempt file. It returns them. Errors: attempt.ErrStands where nothing can be taken
// back, and those of keeping it.
func (b *Bench) TakeBack() ([]history.Step, error) {
	n := b.FallAway()
	if n == 0 {
		return nil, attempt.ErrStands
	}
	left := len(b.outs) - n
	stand, err := attempt.Again(b.job, b.outs[:left])
	if err != nil {
		return nil, err
	}
	line, err := b.rec.TakeBack(n)
	if err != nil {
		return nil, err
	}
	if b.save != nil {
		if err := b.save.Append(line); err != nil {
			return nil, err
		}
	}
	fell := b.outs[left:]
	b.stand, b.outs = stand, append([]history.Step(nil), b.outs[:left]...)
	b.coach.Back(n)
	b.coach.enter = false
	return fell, nil
}

// TakenBackMessage says what fell away.
func TakenBackMessage(fell []history.Step) text.Message {
	return text.Say("coach.taken-back", "Back to before {act}: {n} {n:act|acts} taken back. The attempt file keeps {n:it|them}, and says so.",
		text.Typed("act", fell[0].Act.String()), text.Count("n", len(fell)))
}

// ShowStage has the coach work the first stage of a job that nobody has begun, as an example.
// It returns what was done; nothing where there is no coach. Errors: those of keeping it.
func (b *Bench) ShowStage() ([]history.Step, error) {
	if b.coach == nil || len(b.outs) > 0 {
		return nil, nil
	}
	stage := func() Stage { return b.stage(acceptance.Of(b.Card(), b.outs)) }
	const most = 20
	for first := stage(); stage() == first && len(b.outs) < most; {
		next, ok := b.Hint()
		if !ok || !isLook(next.Form) {
			break
		}
		if _, err := b.do(next, b.rec.AddByCoach); err != nil {
			return b.outs, err
		}
	}
	return b.outs, nil
}

// isLook tells whether an act looks at parts, and decides nothing.
func isLook(f act.Form) bool {
	return groupOf(f) == Inspecting || f.Verb() == "measure"
}

// Hints is how many levels a hint has.
const Hints = 3

// HintAt says what comes next, at a level from 1 to Hints: where to look, which sort of act,
// and the act itself. Of a job with nothing left to do it says so.
func (b *Bench) HintAt(level int) text.Message {
	next, ok := b.Hint()
	switch {
	case !ok:
		return text.Say("hint.nothing", "There is nothing left to do.")
	case level <= 1:
		return text.Say("hint.where", "What tells what comes next: {where}.", text.Of("where", whereToLook(next.Form)))
	case level == 2:
		return text.Say("hint.group", "What comes next is under {group}.", text.Of("group", groupOf(next.Form).Name()))
	}
	return text.Say("hint.act", "An experienced technician would do: {act}", text.Typed("act", next.String()))
}

// whereToLook is what tells that an act comes next.
func whereToLook(f act.Form) text.Message {
	switch f {
	case act.FitDepthShim:
		return text.Say("hint.see.shim", "the old depth shim and the marks of both pinions on the job card, or the depth that was gauged last")
	case act.FitPinion, act.MeasureDepth, act.RemovePinion:
		return text.Say("hint.see.depth", "the pinion depth on the paper: is it read for the shim that is in?")
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.TurnPinion, act.FitPreloadShims, act.MeasurePinionEndPlay:
		return text.Say("hint.see.torque", "the pinion's rotating torque beside its specification")
	case act.FitSideShims, act.FitCase, act.SpreadHousing, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.MeasureEndPlay, act.MeasureSpread:
		return text.Say("hint.see.sides", "both sides of the case: how tight they are together, and what the backlash says of their difference")
	case act.TorqueCaps, act.LoosenCaps:
		return text.Say("hint.see.caps", "the bearing caps: the case moves while they are only snug")
	case act.MountIndicator, act.MeasureBacklash, act.MeasureRunout, act.MeasureRadialRunout:
		return text.Say("hint.see.gear", "the ring gear: what of backlash and runout is read on the axle as it stands?")
	case act.PaintTeeth, act.RollGears:
		return text.Say("hint.see.teeth", "the teeth: is their pattern read since the last change?")
	case act.MeasureTorque:
		return text.Say("hint.see.total", "the torques on the paper: which of them is read since the last change?")
	case act.RecordValue, act.SignOff:
		return text.Say("hint.see.sheet", "the build sheet and the acceptance list")
	}
	if groupOf(f) == Inspecting || groupOf(f) == Measuring {
		return text.Say("hint.see.open", "the parts that lie open now and will not later")
	}
	return text.Say("hint.see.found", "what has been found and not put right yet")
}
