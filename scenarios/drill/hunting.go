package drill

import "shimwright/sim/text"

// The kinds of gear set by their teeth.
const (
	isHunting = iota
	isPartly
	isNot
)

// hunting asks for the kind of a gear set from its teeth, which are near those of the family.
func (p *draft) hunting() (Drill, error) {
	const ringNear, pinionNear, fewest = 4, 3, 5
	right := p.Whole(isNot + 1)
	var of []Drill
	for ring := p.Sheet.RingTeeth - ringNear; ring <= p.Sheet.RingTeeth+ringNear; ring++ {
		for pinion := max(fewest, p.Sheet.PinionTeeth-pinionNear); pinion <= p.Sheet.PinionTeeth+pinionNear; pinion++ {
			if d := p.teethOf(ring, pinion); d.Answer.Right == right {
				of = append(of, d)
			}
		}
	}
	if len(of) == 0 {
		return Drill{}, errAgain
	}
	return of[p.Whole(len(of))], nil
}

// teethOf is the drill on a ring gear and a pinion.
func (p *draft) teethOf(ring, pinion int) Drill {
	common := pinion
	for a := ring; a%common != 0; {
		a, common = common, a%common
	}
	right := isPartly
	switch {
	case common == 1:
		right = isHunting
	case common == pinion:
		right = isNot
	}
	met := count(ring).over(count(common), Count)
	args := []text.Arg{p.named(), text.Shown("ring_teeth", count(ring)), text.Shown("pinion_teeth", count(pinion))}
	out := Drill{
		Asks: text.Say("drill.hunting.asks", "{family}: a gear set has {ring_teeth} ring gear teeth and {pinion_teeth} pinion teeth. Which kind of set is it: hunting (no timing marks needed), partly-hunting or non-hunting (timing marks to be paired)?", args...),
		Answer: Answer{Right: right, Options: []Option{
			isHunting: {Word: "hunting"}, isPartly: {Word: "partly-hunting", Also: []string{"partly"}}, isNot: {Word: "non-hunting", Also: []string{"nonhunting"}},
		}},
		Lesson: "matched-set",
		Source: Source{text.Say("drill.source.teeth", "which teeth meet, by counting"), Computed},
	}
	wrong := func(choice int, m Misconception, why text.Message) {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: m, Choice: choice, Why: why})
	}
	shared := []text.Arg{args[1], args[2], text.Shown("common", count(common)), text.Shown("met", met)}
	switch right {
	case isHunting:
		out.Shows = text.Say("drill.hunting.is", "No number above 1 divides both {ring_teeth} and {pinion_teeth}. Each pinion tooth meets every tooth of the ring gear in turn, so the set needs no timing marks.", args[1:]...)
		wrong(isPartly, AlwaysTimed, out.Shows)
		wrong(isNot, AlwaysTimed, out.Shows)
	case isPartly:
		out.Shows = text.Say("drill.hunting.partly", "{common} divides both {ring_teeth} and {pinion_teeth}. Each pinion tooth meets only {met} of the ring gear teeth, again and again, so the timing marks must be paired.", shared...)
		out.Working = []Step{{text.Say("drill.step.teeth-met", "Ring gear teeth that one pinion tooth meets"), met}}
		wrong(isHunting, FractionIsHunting, out.Shows)
		wrong(isNot, AlwaysTimed, text.Say("drill.hunting.not-whole", "In a non-hunting set the pinion teeth divide the ring gear teeth without a remainder. {pinion_teeth} does not divide {ring_teeth}; only {common} divides both.", shared[:3]...))
	default:
		out.Shows = text.Say("drill.hunting.not", "{pinion_teeth} divides {ring_teeth} without a remainder. Each pinion tooth meets the same {met} ring gear teeth in every turn, so the timing marks must be paired.", shared...)
		out.Working = []Step{{text.Say("drill.step.teeth-met-always", "Ring gear teeth that one pinion tooth meets"), met}}
		wrong(isHunting, NeverTimed, out.Shows)
		wrong(isPartly, FractionIsHunting, text.Say("drill.hunting.whole", "The ratio is a whole number: {pinion_teeth} divides {ring_teeth} without a remainder. That makes the set non-hunting.", shared...))
	}
	return out
}
