package bench

import (
	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/coach"
	"shimwright/grading/skill"
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
	knows skill.Skill    // what the person's last jobs show
}

// Fade has the coach say only what a person needs whose last jobs are known. Until then it says
// everything. Without a coach it does nothing.
func (b *Bench) Fade(s skill.Skill) {
	if b.coach != nil {
		b.coach.knows = s
	}
}

// Fading says in a sentence why the coach speaks or is silent on this job; ok is false where
// there is no coach.
func (b *Bench) Fading() (m text.Message, ok bool) {
	if b.coach == nil {
		return text.Message{}, false
	}
	var areas []grading.Area
	for _, s := range stagesOf(b.Card().Kind) {
		if s != ContactPattern { // it is of two others
			areas = append(areas, areasOf(s)...)
		}
	}
	return b.coach.knows.Message(areas...), true
}

// areasOf are the areas of the grade that a stage is about.
func areasOf(s Stage) []grading.Area {
	switch s {
	case Inspect:
		return []grading.Area{grading.Looking}
	case Depth:
		return []grading.Area{grading.Depth}
	case PinionPreload:
		return []grading.Area{grading.Preload}
	case Sides:
		return []grading.Area{grading.Sides}
	case ContactPattern:
		return []grading.Area{grading.Depth, grading.Sides}
	}
	return []grading.Area{grading.Stopping}
}

// stageOfForm is the stage that an act belongs to; ok is false for one of any stage.
func stageOfForm(f act.Form) (s Stage, ok bool) {
	switch f {
	case act.FitDepthShim, act.FitPinion, act.MeasureDepth, act.RemovePinion:
		return Depth, true
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.TurnPinion, act.FitPreloadShims, act.MeasurePinionEndPlay:
		return PinionPreload, true
	case act.FitSideShims, act.FitCase, act.SpreadHousing, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.MeasureEndPlay, act.MeasureSpread,
		act.TorqueCaps, act.LoosenCaps, act.MountIndicator, act.MeasureBacklash, act.MeasureRunout, act.MeasureRadialRunout:
		return Sides, true
	case act.PaintTeeth, act.RollGears:
		return ContactPattern, true
	case act.RecordValue, act.SignOff:
		return Prove, true
	}
	return Inspect, false
}

// toward says where to look first at a stage.
func (s Stage) toward() text.Message {
	first := map[Stage]act.Form{Depth: act.FitDepthShim, PinionPreload: act.TurnPinion, Sides: act.FitSideShims, ContactPattern: act.PaintTeeth, Prove: act.SignOff}
	f, ok := first[s]
	if !ok {
		return text.Message{} // where the coach shows how, or all lies open
	}
	return text.Say("coach.toward", "First see {where}.", text.Of("where", whereToLook(f)))
}

// level is how much of a coach there is at a stage.
func (c *coached) level(s Stage) skill.Level {
	least := skill.Alone
	for _, a := range areasOf(s) {
		least = min(least, c.knows.In(a).Level)
	}
	return least
}

// Says tells whether the coach says a word unasked: all of them where it shows the way, those
// that cost or saved minutes where it does half, and none where the person is left alone.
func (b *Bench) Says(w coach.Word) bool {
	if b.coach == nil || !w.Spoken() {
		return false
	}
	least := b.coach.level(Inspect)
	if s, ok := stageOfForm(b.outs[w.Act-1].Act.Form); ok {
		least = b.coach.level(s)
	}
	for _, d := range w.Decisions {
		if d.Lost > coach.Sound {
			least = min(least, b.coach.knows.In(d.Area).Level)
		}
	}
	switch least {
	case skill.Alone:
		return false
	case skill.Half:
		return w.Lost() > coach.Sound || len(w.Decisions) == 0
	}
	return true
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
	return first && b.coach.level(at) != skill.Alone
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

// ShowStage has the coach work the first stage of a job that nobody has begun, as an example: all
// of it for somebody who is shown the way, the first half of it for somebody who is not quite
// sound in it yet. It returns what was done; nothing where there is no coach, or no need of one.
// Errors: those of keeping it.
func (b *Bench) ShowStage() ([]history.Step, error) {
	if b.coach == nil || len(b.outs) > 0 {
		return nil, nil
	}
	stage := func() Stage { return b.stage(acceptance.Of(b.Card(), b.outs)) }
	most := 20
	switch b.coach.level(Inspect) {
	case skill.Half:
		most = (len(b.uninspected()) + 1) / 2
	case skill.Alone:
		return nil, nil
	}
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
		return text.Say("hint.see.depth", "whether the pinion depth on the paper is read for the shim that is in")
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.TurnPinion, act.FitPreloadShims, act.MeasurePinionEndPlay:
		return text.Say("hint.see.torque", "the pinion's rotating torque beside its specification")
	case act.FitSideShims, act.FitCase, act.SpreadHousing, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.MeasureEndPlay, act.MeasureSpread:
		return text.Say("hint.see.sides", "both sides of the case: how tight they are together, and what the backlash says of their difference")
	case act.TorqueCaps, act.LoosenCaps:
		return text.Say("hint.see.caps", "the bearing caps: the case moves while they are only snug")
	case act.MountIndicator, act.MeasureBacklash, act.MeasureRunout, act.MeasureRadialRunout:
		return text.Say("hint.see.gear", "what of backlash and runout is read on the axle as it stands")
	case act.PaintTeeth, act.RollGears:
		return text.Say("hint.see.teeth", "whether the pattern on the teeth is read since the last change")
	case act.MeasureTorque:
		return text.Say("hint.see.total", "which torque on the paper is read since the last change")
	case act.RecordValue, act.SignOff:
		return text.Say("hint.see.sheet", "the build sheet and the acceptance list")
	}
	if groupOf(f) == Inspecting || groupOf(f) == Measuring {
		return text.Say("hint.see.open", "the parts that lie open now and will not later")
	}
	return text.Say("hint.see.found", "what has been found and not put right yet")
}
