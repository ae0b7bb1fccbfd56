package drill

import (
	"fmt"

	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// place says where a family's depth shim lies.
func place(d family.DepthShimPlace) string {
	switch d {
	case family.BehindInnerCup:
		return "behind the cup of the head bearing"
	case family.UnderCageFlange:
		return "under the flange of the pinion's cage"
	}
	return "under the cone of the head bearing"
}

// thicker says which way a thicker depth shim brings the pinion, and why.
func thicker(d family.Design) string {
	switch d.DepthShim {
	case family.UnderCageFlange:
		return "The cage stands on the shim, so a thicker one carries the pinion out, shallower"
	case family.BehindInnerCup:
		return "The cup stands on the shim, so a thicker one pushes the pinion in, deeper"
	}
	return "The cone stands on the shim, so a thicker one pushes the pinion in, deeper"
}

// meaning says what a plus on a pinion means, without what follows from it.
func meaning(c setup.MarkConvention) string {
	if c == setup.PlusAddsShim {
		return "the mark is a correction to the shim itself"
	}
	return "a plus means that the pinion runs right further out"
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
	name string
}

func markUnits() (inch, metric markUnit) {
	return markUnit{quantity.Thou(1).MM(), 8, "thousandths of an inch"}, markUnit{0.01, 20, "hundredths of a millimetre"}
}

// halfStep is the tolerance of a shim: half a step of the shelf, and what is lost where
// a size is written in the other unit.
func halfStep(s family.Stock) (mm float64, reason Text) {
	const writtenMM = 0.002
	return s.StepMM/2 + writtenMM, say("half a step of the shims on the shelf, which go by %s: the nearest size is as right", length(s.StepMM))
}

// mark asks for the starter shim from the old shim and two marks.
func (p *draft) mark() (Drill, error) {
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
	if !stocked(sh.DepthShims, out.Answer.Value) {
		return Drill{}, errAgain
	}
	return out, nil
}

// marksOf is the drill on an old shim and two marks, which count one unit and not the
// other.
func (p *draft) marksOf(shim float64, o, n int, unit, other markUnit) Drill {
	sh, d := p.Sheet, p.Design
	oMM, nMM := float64(o)*unit.mm, float64(n)*unit.mm
	right := setup.DepthShimMM(sh.Marks, shim, oMM, nMM)
	diff := sh.Marks.ShimForMarkMM(nMM) - sh.Marks.ShimForMarkMM(oMM)
	tol, reason := halfStep(sh.DepthShims)
	oldPart, newPart := -sh.Marks.ShimForMarkMM(oMM), sh.Marks.ShimForMarkMM(nMM)
	why := sh.Marks.Explain()
	out := Drill{
		Asks: say("%s: the depth shim lies %s, and %s. The old shim is %s. The old pinion is marked %+d, the new one %+d, in %s. What shim do you start with?",
			p.Code, place(d.DepthShim), meaning(sh.Marks), length(shim), o, n, unit.name),
		Answer: Answer{Form: Length, Value: right, Tolerance: tol, Reason: reason},
		Shows: say("%s The old shim suits the old mark: take that out, put the new one in. %s %s %s = %s. It is where to start; measuring the depth has the last word.",
			why, length(shim), plus(oldPart), plus(newPart), length(right)),
		Lesson: depthLesson(d),
		Source: markSource(sh.Marks),
	}
	out.Wrongs = []Wrong{
		{Misconception: SignTurned, Value: shim - diff, Why: say("That is as far out on the other side. %s", why)},
		{Misconception: NewMarkOnly, Value: shim + newPart, Why: say("The old shim was right for a pinion marked %+d, not for one marked nought: its mark is in the shim already.", o)},
		{Misconception: MarksAdded, Value: shim - oldPart + newPart, Why: say("A pinion with the same mark as the old one would keep the old shim. Only the difference of the marks counts.")},
		{Misconception: OtherMarkUnit, Value: shim + diff*other.mm/unit.mm, Why: say("These marks count %s: one is %s.", unit.name, length(unit.mm))},
	}
	return out
}

// plus writes an amount to be added, or taken away where it is negative.
func plus(mm float64) Text {
	if mm < 0 {
		return say("- %s", length(-mm))
	}
	return say("+ %s", length(mm))
}

func markSource(c setup.MarkConvention) Source {
	switch c {
	case setup.PlusThickensCageShim:
		return Source{"TM 5-3895-369-14, table 5-4", published}
	case setup.PlusAddsShim:
		return Source{"the difference of two gauge sums of TM 9-2320-289-34, table 6-2", computed}
	}
	return Source{"TM 9-2320-280-34, para 19-3, table 9-1", published}
}

// height asks for the shim from a height over a trial shim.
func (p *draft) height() (Drill, error) {
	sh, d := p.Sheet, p.Design
	gauged, _ := gauge.ClassOf(gauge.DepthGauge)
	unit, _ := markUnits()
	mark := 0
	if sh.Marks.Known() {
		if mark = p.Whole(2*unit.most+1) - unit.most; mark == 0 {
			return Drill{}, errAgain
		}
	}
	mockUp := p.among(sh.DepthShims)
	wanted := sh.CheckingDistanceMM + sh.Marks.OutForMarkMM(float64(mark)*unit.mm)
	const leastMM, mostMM = 0.04, 0.3
	measured := gauged.Shown(wanted + p.sign()*p.Uniform(leastMM, mostMM))
	by := func(wantedMM float64) float64 {
		if d.ThickerIsDeeper() {
			return mockUp + measured - wantedMM
		}
		return mockUp - measured + wantedMM
	}
	right := by(wanted)
	if !stocked(sh.DepthShims, right) {
		return Drill{}, errAgain
	}
	tol, reason := halfStep(sh.DepthShims)
	asks := say("Pinions of this axle carry no mark.")
	shows := say("%s is wanted", length(wanted))
	if mark != 0 {
		asks = say("That is for a mark of nought; this one is marked %+d in %s, and %s.", mark, unit.name, meaning(sh.Marks))
		shows = say("With its mark this pinion wants %s", length(wanted))
	}
	way := "out"
	if measured < wanted {
		way = "in"
	}
	out := Drill{
		Asks: say("%s: the depth shim lies %s. The sheet wants the pinion head %s from the ring gear's axis. %s Over a trial shim of %s the gauge reads %s. What shim do you fit?",
			p.Code, place(d.DepthShim), length(sh.CheckingDistanceMM), asks, length(mockUp), length(measured)),
		Answer: Answer{Form: Length, Value: right, Tolerance: tol, Reason: reason},
		Shows: say("%s, and it stands at %s: %s too far %s. %s. %s %s = %s.",
			shows, length(measured), length(abs(measured-wanted)), way, thicker(d), length(mockUp), plus(right-mockUp), length(right)),
		Wrongs: []Wrong{{Misconception: SignTurned, Value: 2*mockUp - right, Why: say("%s. That shim would put the pinion twice as far off.", thicker(d))}},
		Lesson: "depth-gauge",
		Source: Source{"distances along the pinion's axis", computed},
	}
	if d.DepthShim == family.UnderCageFlange {
		out.Lesson = "cage-shim"
		out.Source = Source{"TM 10-3930-660-34, pp. 8-27, 8-28, 9-16, 9-27, 9-29", published}
	}
	if mark != 0 {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: MarkForgotten, Value: by(sh.CheckingDistanceMM),
			Why: say("The sheet's height is for a mark of nought. This one is marked %+d: it wants %s.", mark, length(wanted))})
	}
	return out, nil
}

func abs(x float64) float64 { return max(x, -x) }

// sizesOf counts a length in some smaller one, for a person.
func sizesOf(n float64, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%s %ss", number(n, 1), one)
}
