package drill

import "shimwright/sim/text"

// patternDepth asks for the shim between two trials, of which one leaves the contact pattern
// too far toward the face and the other too far toward the flank.
func (p *draft) patternDepth() (Drill, error) {
	m, err := p.model()
	if err != nil {
		return Drill{}, err
	}
	sh, d, gain := p.Sheet, p.Design, m.gains.PatternHeightPerPinion
	a, b := length(p.among(sh.DepthShims)), length(p.among(sh.DepthShims))
	between := apart(a, b)
	// Where the pinion stands on a shim, if this axle were right on some shim between.
	right := a.Exact() + p.Uniform(0, 1)*(b.Exact()-a.Exact())
	out := func(shim Figure) float64 { return signed(!d.ThickerIsDeeper(), shim.Exact()-right) }
	// Both patterns are to be out of spec and neither far: the tooth is no straight line.
	const least, most = 1, 3.2 // widths of the spec, from pattern to pattern
	if widths := between.Exact() * gain / (2 * sh.PatternHeight.Half()); widths < least || widths > most {
		return Drill{}, errAgain
	}
	if in := sh.PatternHeight.Half() / gain; abs(out(a)) < in || abs(out(b)) < in {
		return Drill{}, errAgain // one of them would hardly be out of spec
	}
	height := func(shim Figure) (Figure, error) {
		set := p.plainPattern()
		set.PinionOutMM = out(shim)
		set.RingAwayMM = -set.PinionOutMM * m.gains.BacklashPerPinion / m.gains.BacklashPerRing
		r, err := m.roll(set)
		if err != nil {
			return Figure{}, err
		}
		return share(rounded(r.height().Exact(), 2)), nil
	}
	atA, err := height(a)
	if err != nil {
		return Drill{}, err
	}
	atB, err := height(b)
	if err != nil {
		return Drill{}, err
	}
	return p.trialsOf(a, b, atA, atB, gain)
}

// trialsOf is the drill on two shims and the heights of the contact patterns on them; perMM
// is what a millimeter of pinion depth does to that height.
func (p *draft) trialsOf(a, b, atA, atB Figure, perMM float64) (Drill, error) {
	sh := p.Sheet
	middle := meanOf(share(sh.PatternHeight.LowMM), share(sh.PatternHeight.HighMM))
	if (atA.Exact()-middle.Exact())*(atB.Exact()-middle.Exact()) >= 0 || sh.PatternHeight.Holds(atA.Exact()) || sh.PatternHeight.Holds(atB.Exact()) {
		return Drill{}, errAgain
	}
	between := apart(a, b)
	whole, wanted := apart(atA, atB), apart(middle, atA)
	part := wanted.over(whole, Ratio)
	move := part.times(between, Length)
	right := a.shifted(b.Exact() > a.Exact(), move)
	nearer := a
	if abs(atB.Exact()-middle.Exact()) < abs(atA.Exact()-middle.Exact()) {
		nearer = b
	}
	// The eye places a pattern to a hundredth of the tooth.
	const eye = 0.01
	half, _ := halfStep(sh.DepthShims)
	return Drill{
		Asks: text.Say("drill.pattern-depth.asks", "{family}: the depth shim goes {place}. With a {shim_a} shim the contact pattern is centered at {height_a} of the way from root to top, the mean of drive and coast. With a {shim_b} shim it is at {height_b}, with the backlash the same. The spec is {lowest} to {highest}; aim for the middle. By proportion, which shim do you fit next?",
			p.named(), text.Of("place", shimPlace(p.Design.DepthShim)), text.Shown("shim_a", a), text.Shown("height_a", atA), text.Shown("shim_b", b), text.Shown("height_b", atB),
			text.Shown("lowest", share(sh.PatternHeight.LowMM)), text.Shown("highest", share(sh.PatternHeight.HighMM))),
		Answer: Answer{Figure: right, Tolerance: half + eye/perMM,
			Reason: text.Say("drill.reason.pattern", "half a step of the shims on the shelf, {step}, and a hundredth of the tooth, which is as near as the eye can place a pattern", text.Shown("step", length(sh.DepthShims.StepMM)))},
		Shows: text.Say("drill.pattern-depth.shows", "One shim is too thick and the other too thin, so the right one lies between them. Go from the first shim toward the second by the part of the way that the pattern must move. Then make the pattern again."),
		Working: []Step{
			{text.Say("drill.step.middle-pattern", "Middle of the spec"), middle},
			{text.Say("drill.step.pattern-apart", "Pattern, from one shim to the other"), whole},
			{text.Say("drill.step.pattern-wanted", "Pattern, from the first shim to the middle"), wanted},
			{text.Say("drill.step.part-of-way", "Part of the way"), part},
			{text.Say("drill.step.shims-apart", "Difference of the two shims"), between},
			{text.Say("drill.step.shim-move", "Change from the first shim"), move},
			{newShim(), right},
		},
		Wrongs: []Wrong{
			{Misconception: SignTurned, Value: 2*a.Exact() - right.Exact(), Why: text.Say("drill.pattern-depth.turned", "That goes from the first shim away from the second, and the pattern goes farther from the middle.")},
			{Misconception: NearEnough, Value: nearer.Exact(), Why: text.Say("drill.pattern-depth.near", "With that shim the pattern was out of spec. The better of two builds is not the right shim.")},
		},
		Lesson: "depth-height",
		Source: Source{text.Say("drill.source.proportion", "proportion between two readings"), Computed},
	}, nil
}
