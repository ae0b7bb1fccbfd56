package drill

import (
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// shimPlace says where a family's depth shim goes.
func shimPlace(d family.DepthShimPlace) text.Message {
	switch d {
	case family.BehindInnerCup:
		return text.Say("drill.place.behind-cup", "behind the cup of the inner pinion bearing")
	case family.UnderCageFlange:
		return text.Say("drill.place.under-cage", "under the flange of the pinion cage")
	}
	return text.Say("drill.place.under-cone", "under the cone of the inner pinion bearing")
}

// thicker says which way a thicker depth shim moves the pinion, and why.
func thicker(d family.Design) text.Message {
	switch d.DepthShim {
	case family.UnderCageFlange:
		return text.Say("drill.thicker.cage", "The cage sits on the shim, so a thicker shim moves the pinion away from the ring gear centerline (shallower).")
	case family.BehindInnerCup:
		return text.Say("drill.thicker.cup", "The cup sits on the shim, so a thicker shim moves the pinion toward the ring gear centerline (deeper).")
	}
	return text.Say("drill.thicker.cone", "The cone sits on the shim, so a thicker shim moves the pinion toward the ring gear centerline (deeper).")
}

// markMeaning says what a plus mark means, without what follows from it.
func markMeaning(c setup.MarkConvention) text.Message {
	if c == setup.PlusAddsShim {
		return text.Say("drill.mark.shim", "the mark is a correction to the shim itself")
	}
	return text.Say("drill.mark.distance", "a plus mark means the pinion must sit farther from the ring gear centerline")
}

// markRule says what a plus mark does to the shim, and why.
func markRule(c setup.MarkConvention) text.Message {
	switch c {
	case setup.PlusAddsShim:
		return text.Say("drill.mark.rule.shim", "The mark corrects the shim itself: a plus mark adds shim, a minus mark takes shim away.")
	case setup.PlusThickensCageShim:
		return text.Say("drill.mark.rule.cage", "A plus mark moves the pinion away from the ring gear centerline, and so does a thicker shim under the cage: a plus mark adds shim.")
	}
	return text.Say("drill.mark.rule.inside", "A plus mark moves the pinion away from the ring gear centerline, and a thicker shim moves it closer: a plus mark takes shim away.")
}

// depthLesson is the lesson on a design's depth shim.
func depthLesson(d family.Design) string {
	if d.DepthShim == family.UnderCageFlange {
		return "cage-shim"
	}
	return "depth-mark"
}

// A markUnit is what a pinion's mark counts.
type markUnit struct {
	mm   float64
	most int
	name text.Message
}

func markUnits() (inch, metric markUnit) {
	return markUnit{quantity.Thou(1).MM(), 8, text.Say("drill.mark.thousandths", "thousandths of an inch")},
		markUnit{0.01, 20, text.Say("drill.mark.hundredths", "hundredths of a millimeter")}
}

// halfStep is the tolerance of a shim: half a step of the shelf, and what is lost where
// a size is written in the other unit.
func halfStep(s family.Stock) (mm float64, reason text.Message) {
	const writtenMM = 0.002
	return s.StepMM/2 + writtenMM, text.Say("drill.reason.half-step", "half a step of the shims on the shelf, which come in steps of {step}: the nearest size is right", text.Shown("step", length(s.StepMM)))
}

func newShim() text.Message { return text.Say("drill.step.new-shim", "New depth shim") }

// depthMark asks for the starting shim from the old shim and two marks.
func (p *draft) depthMark() (Drill, error) {
	sh := p.Sheet
	unit, other := markUnits()
	if p.either() {
		unit, other = other, unit
	}
	draw := func() int { return p.Whole(2*unit.most+1) - unit.most }
	o, n := draw(), draw()
	if o == 0 || n == 0 || o == n {
		return Drill{}, errAgain
	}
	out := p.marksOf(p.among(sh.DepthShims), o, n, unit, other)
	if !stocked(sh.DepthShims, out.Answer.Figure.Exact()) {
		return Drill{}, errAgain
	}
	return out, nil
}

// marksOf is the drill on an old shim and two marks, which count one unit and not the
// other.
func (p *draft) marksOf(shimMM float64, o, n int, unit, other markUnit) Drill {
	sh, d := p.Sheet, p.Design
	oldPart := -sh.Marks.ShimForMarkMM(float64(o) * unit.mm)
	newPart := sh.Marks.ShimForMarkMM(float64(n) * unit.mm)
	diff := oldPart + newPart
	tol, reason := halfStep(sh.DepthShims)
	rule := markRule(sh.Marks)
	right := length(shimMM).plus(length(oldPart), length(newPart))
	oldMark := text.Shown("old", mark(o))
	return Drill{
		Asks: text.Say("drill.depth-mark.asks", "{family}: the depth shim goes {place}, and {meaning}. The old shim is {shim}. The old pinion is marked {old} and the new one {new}, in {unit}. Which shim do you start with?",
			p.named(), text.Of("place", shimPlace(d.DepthShim)), text.Of("meaning", markMeaning(sh.Marks)), text.Shown("shim", length(shimMM)),
			oldMark, text.Shown("new", mark(n)), text.Of("unit", unit.name)),
		Answer: Answer{Figure: right, Tolerance: tol, Reason: reason},
		Shows: text.Say("drill.depth-mark.shows", "{rule} The old shim already includes the old mark: take that correction out, then put the new one in. This is a starting shim; the depth measurement and the contact pattern decide.",
			text.Of("rule", rule)),
		Working: []Step{{newShim(), right}},
		Wrongs: []Wrong{
			{Misconception: SignTurned, Value: shimMM - diff, Why: text.Say("drill.depth-mark.turned", "That shim is wrong by twice the correction. {rule}", text.Of("rule", rule))},
			{Misconception: NewMarkOnly, Value: shimMM + newPart, Why: text.Say("drill.depth-mark.new-only", "The old shim was right for a pinion marked {old}, not for one marked 0. The old mark is already in that shim.", oldMark)},
			{Misconception: MarksAdded, Value: shimMM - oldPart + newPart, Why: text.Say("drill.depth-mark.added", "A new pinion with the same mark as the old one would keep the old shim. Only the difference between the marks counts.")},
			{Misconception: OtherMarkUnit, Value: shimMM + diff*other.mm/unit.mm, Why: text.Say("drill.depth-mark.unit", "These marks are in {unit}. One is {size}.", text.Of("unit", unit.name), text.Shown("size", length(unit.mm)))},
		},
		Lesson: depthLesson(d),
		Source: markSource(sh.Marks),
	}
}

func markSource(c setup.MarkConvention) Source {
	switch c {
	case setup.PlusThickensCageShim:
		return Source{text.Say("drill.source.mark-cage", "TM 5-3895-369-14, table 5-4"), Published}
	case setup.PlusAddsShim:
		return Source{text.Say("drill.source.mark-shim", "the difference of two gauge sums of TM 9-2320-289-34, table 6-2"), Computed}
	}
	return Source{text.Say("drill.source.mark-inside", "TM 9-2320-280-34, para 19-3, table 9-1"), Published}
}

// checkingDistance asks for the shim from a depth measured over the shim of a mock-up.
func (p *draft) checkingDistance() (Drill, error) {
	sh, d := p.Sheet, p.Design
	gauged, _ := gauge.ClassOf(gauge.DepthGauge)
	unit, _ := markUnits()
	n := 0
	if sh.Marks.Known() {
		if n = p.Whole(2*unit.most+1) - unit.most; n == 0 {
			return Drill{}, errAgain
		}
	}
	mockUp := p.among(sh.DepthShims)
	nominal := length(sh.CheckingDistanceMM)
	wanted := nominal
	var working []Step
	marking := text.Say("drill.checking-distance.no-mark", "The pinions of this axle carry no depth mark.")
	if n != 0 {
		wanted = nominal.plus(length(sh.Marks.OutForMarkMM(float64(n) * unit.mm)))
		working = append(working, Step{text.Say("drill.step.wanted-distance", "Checking distance for this pinion"), wanted})
		marking = text.Say("drill.checking-distance.mark", "That figure is for a pinion marked 0; this one is marked {mark} in {unit}, and {meaning}.",
			text.Shown("mark", mark(n)), text.Of("unit", unit.name), text.Of("meaning", markMeaning(sh.Marks)))
	}
	const leastMM, mostMM = 0.04, 0.3
	reads := length(gauged.Shown(wanted.Exact() + p.sign()*p.Uniform(leastMM, mostMM)))
	off := apart(reads, wanted)
	tooFar := reads.Exact() > wanted.Exact()
	right := length(mockUp).shifted(tooFar == d.ThickerIsDeeper(), off)
	if !stocked(sh.DepthShims, right.Exact()) {
		return Drill{}, errAgain
	}
	way := text.Say("drill.checking-distance.too-close", "The pinion sits too close to the ring gear centerline and must move away from it.")
	if tooFar {
		way = text.Say("drill.checking-distance.too-far", "The pinion sits too far from the ring gear centerline and must move closer.")
	}
	tol, reason := halfStep(sh.DepthShims)
	out := Drill{
		Asks: text.Say("drill.checking-distance.asks", "{family}: the depth shim goes {place}. The specification sheet gives a checking distance, pinion face to ring gear centerline, of {nominal}. {marking} With a {shim} shim in the mock-up the depth gauge reads {reads}. Which shim do you fit?",
			p.named(), text.Of("place", shimPlace(d.DepthShim)), text.Shown("nominal", nominal), text.Of("marking", marking), text.Shown("shim", length(mockUp)), text.Shown("reads", reads)),
		Answer:  Answer{Figure: right, Tolerance: tol, Reason: reason},
		Shows:   text.Say("drill.checking-distance.shows", "{way} {thicker}", text.Of("way", way), text.Of("thicker", thicker(d))),
		Working: append(working, Step{text.Say("drill.step.depth-error", "Depth error"), off}, Step{newShim(), right}),
		Wrongs: []Wrong{{Misconception: SignTurned, Value: 2*mockUp - right.Exact(),
			Why: text.Say("drill.checking-distance.turned", "{thicker} That shim would double the depth error.", text.Of("thicker", thicker(d)))}},
		Lesson: "depth-gauge",
		Source: Source{text.Say("drill.source.along-pinion", "distances along the pinion's axis"), Computed},
	}
	if d.DepthShim == family.UnderCageFlange {
		out.Lesson = "cage-shim"
		out.Source = Source{text.Say("drill.source.cage-shim", "TM 10-3930-660-34, p. 9-29"), Published}
	}
	if n != 0 {
		unmarked := mockUp + signed(d.ThickerIsDeeper(), reads.Exact()-nominal.Exact())
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: MarkForgotten, Value: unmarked,
			Why: text.Say("drill.checking-distance.forgotten", "The checking distance on the specification sheet is for a pinion marked 0. This pinion is marked {mark} and must sit at {wanted}.", text.Shown("mark", mark(n)), text.Shown("wanted", wanted))})
	}
	return out, nil
}

// setUpBearing asks for the shim of the final assembly after a mock-up with a set-up bearing
// of another height.
func (p *draft) setUpBearing() (Drill, error) {
	sh, d := p.Sheet, p.Design
	micrometer, _ := gauge.ClassOf(gauge.Micrometer)
	shim := p.among(sh.DepthShims)
	const leastMM, mostMM = 0.03, 0.2 // by which the two bearings differ
	stays := length(micrometer.Shown(p.Model.Inner.WidthMM + p.Uniform(-mostMM, mostMM)/2))
	setUp := length(micrometer.Shown(stays.Exact() + p.sign()*p.Uniform(leastMM, mostMM)))
	return p.bearingsOf(shim, setUp, stays, d)
}

// bearingsOf is the drill on a shim (mm) that is right with a set-up bearing, and the heights
// of that bearing and the one that stays.
func (p *draft) bearingsOf(shimMM float64, setUp, stays Figure, d family.Design) (Drill, error) {
	taller := stays.Exact() > setUp.Exact() // which moves the pinion deeper, as a thicker shim inside does
	differ := apart(stays, setUp)
	right := length(shimMM).shifted(taller != d.ThickerIsDeeper(), differ)
	if !stocked(p.Sheet.DepthShims, right.Exact()) {
		return Drill{}, errAgain
	}
	way := text.Say("drill.set-up-bearing.shorter", "The bearing that stays is shorter, so on the same shim the pinion would sit farther from the ring gear centerline.")
	if taller {
		way = text.Say("drill.set-up-bearing.taller", "The bearing that stays is taller, so on the same shim the pinion would sit closer to the ring gear centerline.")
	}
	tol, reason := halfStep(p.Sheet.DepthShims)
	return Drill{
		Asks: text.Say("drill.set-up-bearing.asks", "{family}: the depth shim goes {place}. In the mock-up, with a set-up bearing as the inner pinion bearing, the depth was right with a {shim} shim. The set-up bearing is {set_up} tall and the bearing that stays is {stays} tall. Which shim goes into the final assembly?",
			p.named(), text.Of("place", shimPlace(d.DepthShim)), text.Shown("shim", length(shimMM)), text.Shown("set_up", setUp), text.Shown("stays", stays)),
		Answer:  Answer{Figure: right, Tolerance: tol, Reason: reason},
		Shows:   text.Say("drill.set-up-bearing.shows", "{way} {thicker} The shim makes up for the difference.", text.Of("way", way), text.Of("thicker", thicker(d))),
		Working: []Step{{text.Say("drill.step.bearing-difference", "Difference of the bearings"), differ}, {newShim(), right}},
		Wrongs: []Wrong{
			{Misconception: SignTurned, Value: 2*shimMM - right.Exact(), Why: text.Say("drill.set-up-bearing.turned", "{way} That shim would double the error.", text.Of("way", way))},
			{Misconception: SetUpSame, Value: shimMM, Why: text.Say("drill.set-up-bearing.same", "{way} With the shim of the mock-up the depth would be off by {difference}.", text.Of("way", way), text.Shown("difference", differ))},
		},
		Lesson: "mock-up",
		Source: Source{text.Say("drill.source.bearing-stack", "the stack of shim and bearing along the pinion"), Computed},
	}, nil
}

// signed is x, or its opposite where plus is false.
func signed(plus bool, x float64) float64 {
	if plus {
		return x
	}
	return -x
}

func abs(x float64) float64 { return max(x, -x) }
