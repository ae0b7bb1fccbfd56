package drill

import (
	"shimwright/sim"
	"shimwright/sim/explore"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/text"
)

// What can be wrong behind a contact pattern.
const (
	tooDeep = iota
	tooShallow
	tooNear
	tooFar
	inPlace
)

// pattern shows a contact pattern of the bench. It asks what is out, or what the other side
// shows.
func (p *draft) pattern() (Drill, error) {
	if p.Whole(3) == 0 {
		return p.otherSide()
	}
	return p.whatIsOut()
}

// plainPattern is the axle of the family with nothing done to pinion or ring gear.
func (p *draft) plainPattern() explore.Settings {
	return explore.Settings{FilmMM: sim.ThinFilmMM, SideFitMM: p.Sheet.SidePreload.Mid()}
}

// off draws how far the pinion stands out (shallow, plus) so that the pattern climbs or
// drops by a part of the tooth that an eye is sure of.
func (p *draft) off(sign float64, m model) float64 {
	const least, most = 0.08, 0.15
	return sign * p.Uniform(least, most) / m.gains.PatternHeightPerPinion
}

// rolled is a contact pattern with what the indicator reads.
type rolled struct {
	explore.Result
	patterns []gauge.ToothPattern
}

func (m model) roll(s explore.Settings) (rolled, error) {
	r, err := m.bench.At(s)
	if err != nil || r.Gears.Binds || r.Gears.Drive.Empty || r.Gears.Coast.Empty {
		return rolled{}, errAgain
	}
	patterns, err := m.bench.Patterns(s)
	return rolled{r, patterns}, err
}

// height is how high the pattern stands: the mean of drive and coast, by which the
// specification sheet goes, since a wrong depth moves both the same way.
func (r rolled) height() Figure {
	return meanOf(share(r.Gears.Drive.CenterT), share(r.Gears.Coast.CenterT))
}

func patternSource() Source {
	return Source{text.Say("drill.source.pattern", "TM 10-3930-638-24&P, p. 4-246; TM 10-3930-653-14&P, p. 4-181"), Published}
}

// whatIsOut shows drive and coast and the backlash.
func (p *draft) whatIsOut() (Drill, error) {
	m, err := p.model()
	if err != nil {
		return Drill{}, err
	}
	sh := p.Sheet
	right := p.Whole(inPlace + 1)
	set := p.plainPattern()
	const leastMM, mostMM = 0.015, 0.04 // of backlash past its spec; more would take the pattern out of its own
	switch right {
	case tooDeep, tooShallow:
		set.PinionOutMM = p.off(float64(2*right-1), m)
		if p.either() {
			// The backlash has been put right by the ring gear.
			set.RingAwayMM = -set.PinionOutMM * m.gains.BacklashPerPinion / m.gains.BacklashPerRing
		}
	case tooNear, tooFar:
		set.RingAwayMM = float64(2*(right-tooNear)-1) * (sh.Backlash.Half() + p.Uniform(leastMM, mostMM)) / m.gains.BacklashPerRing
	}
	r, err := m.roll(set)
	if err != nil {
		return Drill{}, err
	}
	// The eye is sure of a hundredth of the tooth or two, the indicator of half a step.
	const eye = 0.02
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	reads := r.Shown.DialBacklashMM[0]
	height := r.height()
	high, lash := height.Exact()-sh.PatternHeight.Mid(), reads-sh.Backlash.Mid()
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
	backlash := []text.Arg{text.Shown("reads", length(reads)), text.Shown("low", length(sh.Backlash.LowMM)), text.Shown("high", length(sh.Backlash.HighMM))}
	out := Drill{
		Patterns: r.patterns,
		Asks: text.Say("drill.pattern.asks", "{family}: the backlash reads {reads}; the spec is {low} to {high}. What do you correct first: the pinion (deep or shallow), the ring gear (close or far), or nothing (good)?",
			append(backlash, p.named())...),
		Answer: Answer{Right: right, Options: []Option{
			tooDeep: {Word: "deep"}, tooShallow: {Word: "shallow"}, tooNear: {Word: "close", Also: []string{"near"}}, tooFar: {Word: "far"}, inPlace: {Word: "good", Also: []string{"nothing"}},
		}},
		Working: []Step{{text.Say("drill.step.pattern-height", "Mean of drive and coast, from root (0) to top (1)"), height}},
		Lesson:  "depth-height",
		Source:  patternSource(),
	}
	seen := text.Say("drill.pattern.height", "The mean of drive and coast is {height} of the way from root to top; the spec is {lowest} to {highest}.",
		text.Shown("height", height), text.Shown("lowest", share(sh.PatternHeight.LowMM)), text.Shown("highest", share(sh.PatternHeight.HighMM)))
	wrong := func(choice int, idea Misconception, why text.Message) {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: idea, Choice: choice, Why: why})
	}
	lengthwise := text.Say("drill.pattern.lengthwise", "Toe and heel do not tell the depth. Face or flank contact on both sides does.")
	switch right {
	case tooDeep, tooShallow:
		way, turned := text.Say("drill.pattern.deep", "Flank contact on drive and coast: the pinion is too deep. Move it away from the ring gear centerline first, then correct the backlash."), tooShallow
		if right == tooShallow {
			way, turned = text.Say("drill.pattern.shallow", "Face contact on drive and coast: the pinion is too shallow. Move it toward the ring gear centerline first, then correct the backlash."), tooDeep
		}
		why := text.Say("drill.pattern.depth-why", "{seen} {way}", text.Of("seen", seen), text.Of("way", way))
		out.Shows = text.Say("drill.pattern.depth-shows", "{why} Along the tooth, drive and coast move apart, one toward the toe and one toward the heel.", text.Of("why", why))
		wrong(turned, SignTurned, why)
		wrong(tooNear, LengthIsDepth, lengthwise)
		wrong(tooFar, LengthIsDepth, lengthwise)
		wrong(inPlace, OneIsEnough, text.Say("drill.pattern.backlash-alone", "The backlash alone proves nothing about the depth. {seen}", text.Of("seen", seen)))
	case tooNear, tooFar:
		way, turned := text.Say("drill.pattern.close", "The backlash of {reads} is below the spec of {low} to {high}: the ring gear is too close.", backlash...), tooFar
		if right == tooFar {
			way, turned = text.Say("drill.pattern.far", "The backlash of {reads} is above the spec of {low} to {high}: the ring gear is too far away.", backlash...), tooNear
		}
		out.Lesson = "backlash-reading"
		out.Shows = text.Say("drill.pattern.backlash-shows", "{seen} So the depth is right. {way} The ring gear moves the pattern only a little, along the tooth and the same way on drive and coast; the indicator shows it.", text.Of("seen", seen), text.Of("way", way))
		wrong(turned, SignTurned, way)
		for _, c := range []int{tooDeep, tooShallow} {
			wrong(c, LengthIsDepth, text.Say("drill.pattern.height-right", "{seen} {lengthwise}", text.Of("seen", seen), text.Of("lengthwise", lengthwise)))
		}
		wrong(inPlace, OneIsEnough, text.Say("drill.pattern.good-but", "The pattern is good, but the backlash is not. {way}", text.Of("way", way)))
	default:
		out.Shows = text.Say("drill.pattern.good", "{seen} The backlash of {reads} is in spec too: leave it. A pattern need not look like the one in the book.", append(backlash, text.Of("seen", seen))...)
		for _, c := range []int{tooDeep, tooShallow, tooNear, tooFar} {
			wrong(c, PerfectFigure, text.Say("drill.pattern.in-spec", "{seen} The backlash is in spec as well.", text.Of("seen", seen)))
		}
	}
	return out, nil
}

// A placed is where a pattern has gone on the tooth.
type placed struct{ face, heel bool }

func (l placed) say() text.Message {
	switch l {
	case placed{true, true}:
		return text.Say("drill.pattern.face-heel", "toward the face and the heel")
	case placed{true, false}:
		return text.Say("drill.pattern.face-toe", "toward the face and the toe")
	case placed{false, true}:
		return text.Say("drill.pattern.flank-heel", "toward the flank and the heel")
	}
	return text.Say("drill.pattern.flank-toe", "toward the flank and the toe")
}

func (l placed) option() Option {
	vertical, high, end := "flank", "low", "toe"
	if l.face {
		vertical, high = "face", "high"
	}
	if l.heel {
		end = "heel"
	}
	return Option{Word: vertical + "-" + end, Also: []string{high + "-" + end}}
}

// otherSide shows drive or coast of an axle whose pinion is out, and asks for the other.
func (p *draft) otherSide() (Drill, error) {
	m, err := p.model()
	if err != nil {
		return Drill{}, err
	}
	set := p.plainPattern()
	inPlace, err := m.roll(set)
	if err != nil {
		return Drill{}, err
	}
	set.PinionOutMM = p.off(p.sign(), m)
	set.RingAwayMM = -set.PinionOutMM * m.gains.BacklashPerPinion / m.gains.BacklashPerRing
	r, err := m.roll(set)
	if err != nil {
		return Drill{}, err
	}
	shown, hidden := 0, 1
	if p.either() {
		shown, hidden = 1, 0
	}
	var at [2]placed
	for i := range at {
		now, was := r.side(i), inPlace.side(i)
		along, up := now.CenterS-was.CenterS, now.CenterT-was.CenterT
		const sure = 0.03 // of the tooth
		if abs(along) < sure || abs(up) < sure {
			return Drill{}, errAgain
		}
		at[i] = placed{up > 0, along > 0}
	}
	asks := []text.Arg{p.named(), text.Of("shown", at[shown].say())}
	shows := text.Of("hidden", at[hidden].say())
	out := Drill{
		Patterns: []gauge.ToothPattern{r.patterns[shown]},
		Asks:     text.Say("drill.pattern.asks-coast", "{family}: only the pinion depth is wrong; the backlash has been corrected. This drive pattern has moved {shown}. Where has the coast pattern moved? Two words, such as face-toe.", asks...),
		Shows:    text.Say("drill.pattern.shows-coast", "Pinion depth moves drive and coast the same way up the tooth and opposite ways along it: the coast pattern has moved {hidden}. Which end it is depends on the gears; that the two part does not.", shows),
		Lesson:   "depth-height",
		Source:   Source{text.Say("drill.source.pattern-along", "TM 9-2320-266-34, para 19-5; TM 5-3805-260-24, pp. 3-244, 3-245"), Published},
	}
	if hidden == 0 {
		out.Asks = text.Say("drill.pattern.asks-drive", "{family}: only the pinion depth is wrong; the backlash has been corrected. This coast pattern has moved {shown}. Where has the drive pattern moved? Two words, such as face-toe.", asks...)
		out.Shows = text.Say("drill.pattern.shows-drive", "Pinion depth moves drive and coast the same way up the tooth and opposite ways along it: the drive pattern has moved {hidden}. Which end it is depends on the gears; that the two part does not.", shows)
	}
	for i, l := range []placed{{true, false}, {true, true}, {false, false}, {false, true}} {
		out.Answer.Options = append(out.Answer.Options, l.option())
		switch {
		case l == at[hidden]:
			out.Answer.Right = i
		case l.face != at[hidden].face:
			out.Wrongs = append(out.Wrongs, Wrong{Misconception: FlanksMirror, Choice: i, Why: text.Say("drill.pattern.both-alike", "A pinion out of depth is so for drive and coast alike: both move toward the face, or both toward the flank.")})
		default:
			out.Wrongs = append(out.Wrongs, Wrong{Misconception: LengthIsDepth, Choice: i, Why: text.Say("drill.pattern.both-ends", "Drive and coast both toward the same end is the work of the ring gear. With depth they move to opposite ends.")})
		}
	}
	return out, nil
}

func (r rolled) side(i int) mesh.Pattern {
	if i == 0 {
		return r.Gears.Drive
	}
	return r.Gears.Coast
}
