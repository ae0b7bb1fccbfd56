package drill

import (
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// The choices of a carrier drill.
const (
	keepIt = iota
	rejectIt
)

// A carrierCase is what is found of a carrier, and whether it can go on.
type carrierCase struct {
	found  text.Message
	shows  text.Message
	right  int
	lesson string
	source Source
}

// carrierCases are of both kinds in turn; the last two are of housings that take a spreader.
func carrierCases() []carrierCase {
	caps := Source{text.Say("drill.source.carrier-caps", "TM 9-2320-260-34-1, pp. 10-29 and 10-32"), Published}
	common := Source{text.Say("drill.source.carrier", "what a shop does with such a carrier"), Practice}
	corners := Source{text.Say("drill.source.carrier-corners", "TM 10-3930-643-34, p. 16-30"), Published}
	return []carrierCase{
		{text.Say("drill.carrier.cap-damaged", "One bearing cap is cracked across its bolt hole. A cap of the same part number lies on the shelf."),
			text.Say("drill.carrier.cap-damaged.shows", "Each cap was bored together with its own housing. Another cap makes a bore that is not round, so cap and housing are replaced together."), rejectIt, "spread-and-caps", caps},
		{text.Say("drill.carrier.marks", "The witness marks of the two bearing caps do not meet. With each cap on the other side, the marks meet."),
			text.Say("drill.carrier.marks.shows", "The caps have only changed places. Each goes back to its own side, and the bores are round again."), keepIt, "spread-and-caps", common},
		{text.Say("drill.carrier.corners", "Match numbers and tag agree, depth and backlash are right, and the contact pattern still lies in opposite corners on drive and coast."),
			text.Say("drill.carrier.corners.shows", "A pattern in opposite corners is no matter of depth or backlash: the bores do not stand square to each other. No shim cures that."), rejectIt, "pattern-table", corners},
		{text.Say("drill.carrier.high", "The contact pattern is high on both sides of the teeth, and the gauge finds the pinion 0.004 in (0.10 mm) too far out."),
			text.Say("drill.carrier.high.shows", "High on both sides is depth, and the gauge says the same. Another depth shim puts it right."), keepIt, "pattern-table", common},
		{text.Say("drill.carrier.bore", "The old inner pinion bearing cup had turned in its bore. The new cup turns there by hand too."),
			text.Say("drill.carrier.bore.shows", "The bore is worn. No cup will hold in it, so it is sleeved by a machine shop or the carrier is replaced. Punch marks and glue do not hold."), rejectIt, "reuse-or-replace", common},
		{text.Say("drill.carrier.cup", "The old inner pinion bearing cup had turned in its bore. The bore measures right, and the new cup had to be driven in."),
			text.Say("drill.carrier.cup.shows", "The bore holds the new cup. The old cup was the worn part, and it is gone."), keepIt, "reuse-or-replace", common},
		{text.Say("drill.carrier.open", "The spreader is off and the case is out. The indicator, which stood at zero before, stays 0.010 in (0.25 mm) open, and the side bearing preload is 0.006 to 0.010 in (0.15 to 0.25 mm)."),
			text.Say("drill.carrier.open.shows", "The housing was opened past its limit and stays open by more than all of the preload. It no longer holds the bearings, and more shim opens it further."), rejectIt, "spread-and-caps", common},
		{text.Say("drill.carrier.zero", "The spreader is off and the case is out. The indicator, which stood at zero before, has come back to zero."),
			text.Say("drill.carrier.zero.shows", "The housing sprang back all the way. It was not opened past its limit."), keepIt, "spread-and-caps", common},
	}
}

// carrier asks whether a carrier housing can go on or is rejected.
func (p *draft) carrier() (Drill, error) {
	const ofSpreaders = 2 // the last ones
	all := carrierCases()
	if p.Design.Entry != family.Spreader {
		all = all[:len(all)-ofSpreaders]
	}
	return p.carrierOf(all[p.Whole(len(all))]), nil
}

func (p *draft) carrierOf(c carrierCase) Drill {
	out := Drill{
		Asks: text.Say("drill.carrier.asks", "{family}: {found} Does this carrier housing go on (keep), or does it go to a machine shop or the scrap (reject)?", p.named(), text.Of("found", c.found)),
		Answer: Answer{Right: c.right, Options: []Option{
			keepIt: {Word: "keep"}, rejectIt: {Word: "reject"},
		}},
		Shows: c.shows, Lesson: c.lesson, Source: c.source,
	}
	w := Wrong{Misconception: ShimsCureAll, Choice: keepIt, Why: c.shows}
	if c.right == keepIt {
		w = Wrong{Misconception: NewPartsCure, Choice: rejectIt, Why: c.shows}
	}
	out.Wrongs = []Wrong{w}
	return out
}
