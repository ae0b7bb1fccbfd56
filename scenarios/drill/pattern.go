package drill

import (
	"fmt"

	"shimwright/sim"
	"shimwright/sim/explore"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
)

// What can be wrong behind a print.
const (
	tooDeep = iota
	tooShallow
	tooNear
	tooFar
	inPlace
)

// print shows a print of the bench. It asks what is out, or what the other flank shows.
func (p *draft) print() (Drill, error) {
	if p.Whole(3) == 0 {
		return p.otherFlank()
	}
	return p.whatIsOut()
}

// plainPrint is the axle of the family with nothing done to pinion or ring gear.
func (p *draft) plainPattern() explore.Settings {
	return explore.Settings{FilmMM: sim.ThinFilmMM, SideFitMM: p.Sheet.SidePreload.Mid()}
}

// off draws how far the pinion stands out (shallow, plus) so that the print climbs or
// drops by a part of the tooth that an eye is sure of.
func (p *draft) off(sign float64) float64 {
	const least, most = 0.08, 0.15
	return sign * p.Uniform(least, most) / p.gains.PatternHeightPerPinion
}

// printed is a print with what the dial reads.
type printed struct {
	explore.Result
	patterns []gauge.ToothPattern
}

func (p *draft) rolled(s explore.Settings) (printed, error) {
	r, err := p.bench.At(s)
	if err != nil || r.Gears.Binds || r.Gears.Drive.Empty || r.Gears.Coast.Empty {
		return printed{}, errAgain
	}
	patterns, err := p.bench.Patterns(s)
	return printed{r, patterns}, err
}

// up is how high the print stands, the mean of both flanks as the sheet counts it.
func (r printed) up() float64 { return (r.Gears.Drive.CenterT + r.Gears.Coast.CenterT) / 2 }

func patternSource() Source {
	return Source{"TM 10-3930-638-24&P, p. 4-246; TM 10-3930-653-14&P, p. 4-181", published}
}

// whatIsOut shows both flanks and the backlash.
func (p *draft) whatIsOut() (Drill, error) {
	sh := p.Sheet
	right := p.Whole(inPlace + 1)
	set := p.plainPattern()
	const leastMM, mostMM = 0.05, 0.25 // of backlash past its window
	switch right {
	case tooDeep, tooShallow:
		set.PinionOutMM = p.off(float64(2*right - 1))
		if p.either() {
			// Somebody has put the backlash right by the ring gear.
			set.RingAwayMM = -set.PinionOutMM * p.gains.BacklashPerPinion / p.gains.BacklashPerRing
		}
	case tooNear, tooFar:
		set.RingAwayMM = float64(2*(right-tooNear)-1) * (sh.Backlash.Half() + p.Uniform(leastMM, mostMM)) / p.gains.BacklashPerRing
	}
	r, err := p.rolled(set)
	if err != nil {
		return Drill{}, err
	}
	// The eye is sure of a hundredth of the tooth or two, the dial of half a step.
	const eye = 0.02
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	reads := r.Shown.DialBacklashMM[0]
	high, lash := r.up()-sh.PatternHeight.Mid(), reads-sh.Backlash.Mid()
	depthOut := abs(high) > sh.PatternHeight.Half()
	lashOut := !sh.Backlash.Holds(reads)
	if abs(abs(high)-sh.PatternHeight.Half()) < eye/2 || abs(abs(lash)-sh.Backlash.Half()) < dial.Step/2 {
		return Drill{}, errAgain
	}
	isDepth, isRing := right <= tooShallow, right == tooNear || right == tooFar
	together := (r.Gears.Drive.CenterT-sh.PatternHeight.Mid())*(r.Gears.Coast.CenterT-sh.PatternHeight.Mid()) > 0
	if isDepth != depthOut || isRing != (lashOut && !depthOut) || isDepth && !together {
		return Drill{}, errAgain
	}
	out := Drill{
		Patterns: r.patterns,
		Asks: say("%s: backlash reads %s, sheet %s to %s. What is out: deep, shallow (pinion), near, far (ring gear), or right?",
			p.Code, length(reads), length(sh.Backlash.LowMM), length(sh.Backlash.HighMM)),
		Answer: Answer{Form: Choice, Right: right, Options: []Option{
			tooDeep: {"deep", Text{}}, tooShallow: {"shallow", Text{}}, tooNear: {"near", Text{}}, tooFar: {"far", Text{}}, inPlace: {"right", Text{}},
		}},
		Lesson: "depth-height",
		Source: patternSource(),
	}
	seen := say("Root to top the drive flank stands at %s and the coast flank at %s (sheet: %s to %s, mean of both)",
		share(r.Gears.Drive.CenterT), share(r.Gears.Coast.CenterT), share(sh.PatternHeight.LowMM), share(sh.PatternHeight.HighMM))
	wrong := func(choice int, idea Misconception, why Text) {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: idea, Choice: choice, Why: why})
	}
	lengthwise := say("Toe and heel do not tell the depth: up and down on both flanks does.")
	switch right {
	case tooDeep, tooShallow:
		way, turned, cure := "Low on both flanks: the pinion is too deep", tooShallow, "out"
		if right == tooShallow {
			way, turned, cure = "High on both flanks: the pinion is too shallow", tooDeep, "in"
		}
		out.Shows = say("%s. %s. Bring the pinion %s first, then see to the backlash. Lengthwise the flanks part, one to toe and one to heel.", seen, way, cure)
		wrong(turned, SignTurned, say("%s. %s.", seen, way))
		wrong(tooNear, LengthIsDepth, lengthwise)
		wrong(tooFar, LengthIsDepth, lengthwise)
		wrong(inPlace, OneIsEnough, say("Backlash alone proves nothing about the depth. %s.", seen))
	case tooNear, tooFar:
		way, turned := "below its window: the ring gear is too near", tooFar
		if right == tooFar {
			way, turned = "above its window: the ring gear is too far away", tooNear
		}
		out.Lesson = "backlash-reading"
		out.Shows = say("%s: the depth is right, and the backlash of %s is %s. The print moves little with the ring gear, along the tooth and alike on both flanks; the dial tells it.", seen, length(reads), way)
		wrong(turned, SignTurned, say("%s is %s.", length(reads), way))
		wrong(tooDeep, LengthIsDepth, say("%s: in height it is where it belongs. %s", seen, lengthwise))
		wrong(tooShallow, LengthIsDepth, say("%s: in height it is where it belongs. %s", seen, lengthwise))
		wrong(inPlace, OneIsEnough, say("The print is good but %s is %s.", length(reads), way))
	default:
		out.Shows = say("%s, and %s is inside its window: leave it. A print need not look like the one in the book.", seen, length(reads))
		for _, c := range []int{tooDeep, tooShallow, tooNear, tooFar} {
			wrong(c, PerfectFigure, say("%s, and the backlash is inside its window.", seen))
		}
	}
	return out, nil
}

// otherFlank shows one flank of an axle whose pinion is out, and asks for the other.
func (p *draft) otherFlank() (Drill, error) {
	set := p.plainPattern()
	home, err := p.rolled(set)
	if err != nil {
		return Drill{}, err
	}
	set.PinionOutMM = p.off(p.sign())
	set.RingAwayMM = -set.PinionOutMM * p.gains.BacklashPerPinion / p.gains.BacklashPerRing
	r, err := p.rolled(set)
	if err != nil {
		return Drill{}, err
	}
	shown, hidden := 0, 1
	if p.either() {
		shown, hidden = 1, 0
	}
	moved := func(flank int) (along, up float64) {
		now, was := r.flank(flank), home.flank(flank)
		return now.CenterS - was.CenterS, now.CenterT - was.CenterT
	}
	s1, t1 := moved(shown)
	s2, t2 := moved(hidden)
	const sure = 0.03 // of the tooth
	if abs(s1) < sure || abs(s2) < sure || abs(t1) < sure || abs(t2) < sure {
		return Drill{}, errAgain
	}
	word := func(along, up float64) (height, end string) {
		height, end = "low", "toe"
		if up > 0 {
			height = "high"
		}
		if along > 0 {
			end = "heel"
		}
		return height, end
	}
	height, end := word(s2, t2)
	shownHeight, shownEnd := word(s1, t1)
	names := [2]string{"drive", "coast"}
	out := Drill{
		Patterns: []gauge.ToothPattern{r.patterns[shown]},
		Asks: say("%s: the pinion's depth alone is wrong; backlash has been put right. This %s flank stands %s, and nearer the %s than at the right depth. How does the %s flank stand? Two words, such as high-toe.",
			p.Code, names[shown], shownHeight, shownEnd, names[hidden]),
		Answer: Answer{Form: Choice},
		Shows: say("Depth moves both flanks the same way up and down, and opposite ways along the tooth: the %s flank stands %s and nearer the %s. Which end it is depends on the gear; that they part does not.",
			names[hidden], height, end),
		Lesson: "depth-height",
		Source: patternSource(),
	}
	for i, o := range [][2]string{{"high", "toe"}, {"high", "heel"}, {"low", "toe"}, {"low", "heel"}} {
		out.Answer.Options = append(out.Answer.Options, Option{Word: o[0] + "-" + o[1]})
		switch {
		case o[0] == height && o[1] == end:
			out.Answer.Right = i
		case o[0] != height:
			out.Wrongs = append(out.Wrongs, Wrong{Misconception: FlanksMirror, Choice: i, Why: say("A pinion that is out of its depth is so for both flanks: both stand high, or both low.")})
		default:
			out.Wrongs = append(out.Wrongs, Wrong{Misconception: LengthIsDepth, Choice: i, Why: say("Both flanks toward the same end is the ring gear's doing; with depth they part.")})
		}
	}
	return out, nil
}

func (r printed) flank(i int) mesh.Pattern {
	if i == 0 {
		return r.Gears.Drive
	}
	return r.Gears.Coast
}

// share writes a place on the tooth to a hundredth.
func share(x float64) string { return fmt.Sprintf("%.2f", x) }
