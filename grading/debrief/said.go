package debrief

import (
	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/text"
)

// Said is what a teacher says first: three lines, what was done well, and how the score adds
// up and how sure it is. Every sentence is made of evidence in the report and the reveal.
type Said struct {
	Right   text.Message   `json:"right"`   // whether the axle is right, and whether that was proved
	Dearest text.Message   `json:"dearest"` // what cost most
	Next    text.Message   `json:"next"`    // one thing to do next time
	Well    []text.Message `json:"well"`
	Spent   text.Message   `json:"spent"` // work and parts
	Sum     []text.Message `json:"sum"`
	Sure    []text.Message `json:"sure"`
}

func said(rep grading.Report, rev *reveal.Reveal) Said {
	return Said{
		Right: rightOrNot(rep, rev), Dearest: dearest(rep), Next: next(rep), Well: well(rep),
		Spent: text.Say("said.spent", "{work} of work, and parts worth {parts} more.", text.Minutes("work", float64(rep.Minutes)), text.Minutes("parts", float64(rep.PartsMinutes))),
		Sum:   rep.Sum.Messages(grading.TheFormula()), Sure: grading.TheSurety().Messages(),
	}
}

// counts tells how many lines of the list apply, and are proved.
func counts(lines []acceptance.Line) (all, proved int) {
	for _, l := range lines {
		if l.Outcome != acceptance.NotApplicable {
			all++
		}
		if l.Outcome == acceptance.Proved {
			proved++
		}
	}
	return all, proved
}

// rightOrNot says what the axle is and what of it was known. What the axle is stays unsaid
// where nobody has opened it.
func rightOrNot(rep grading.Report, rev *reveal.Reveal) text.Message {
	all, proved := counts(rep.Acceptance)
	n, of, open := text.Count("proved", proved), text.Count("all", all), text.Count("open", all-proved)
	switch {
	case !rep.SignedOff:
		return text.Say("said.open", "The job is not signed off: {proved} of {all} lines of the acceptance list are proved so far.", n, of)
	case rev == nil && proved == all:
		return text.Say("said.proved", "All {all} lines of the acceptance list are proved.", of)
	case rev == nil:
		return text.Say("said.unproved", "{open} of {all} lines of the acceptance list are not proved.", open, of)
	case rev.AllMet && proved == all:
		return text.Say("said.right-proved", "The axle is right, and you have proved it: all {all} lines of the acceptance list.", of)
	case rev.AllMet:
		return text.Say("said.right-unproved", "The axle is right, but that was not known when you signed: {open} of {all} lines of the acceptance list are not proved.", open, of)
	case proved == all:
		return text.Say("said.wrong-proved", "All {all} lines of the acceptance list are proved, and the axle is still out. No reading you took could show that.", of)
	}
	return text.Say("said.wrong-unproved", "The axle is not right, and {open} of {all} lines of the acceptance list are not proved.", open, of)
}

func dearest(rep grading.Report) text.Message {
	if w := rep.Weakest; w < 0 || w >= len(rep.Decisions) || rep.Decisions[w].Lost <= Small {
		return text.Say("said.nothing-dear", "No decision cost more than {small} beyond the best one.", text.Minutes("small", Small))
	}
	d := rep.Decisions[rep.Weakest]
	n, did, lost := text.Count("n", d.Act), text.Of("did", text.Verbatim(d.Did)), text.Minutes("lost", d.Lost)
	if d.Best.IsZero() {
		return text.Say("said.dearest", "What cost most is act {n}, {did}: {lost} more than was needed.", n, did, lost)
	}
	return text.Say("said.dearest-best", "What cost most is act {n}, {did}: {lost} more than was needed. Best there: {best}.", n, did, lost, text.Of("best", d.Best))
}

// next is the gravest line that is not proved, else the lesson of the dearest decision.
func next(rep grading.Report) text.Message {
	for _, w := range []scenarios.Weight{scenarios.Critical, scenarios.Major, scenarios.Minor} {
		for _, l := range rep.Acceptance {
			if l.Missed() && l.Severity == w {
				return text.Say("said.next-line", "Next time, before you sign: {asks}. Here, {why}.", text.Of("asks", l.Asks), text.Of("why", l.Evidence.Message()))
			}
		}
	}
	if rep.Lesson != "" {
		return text.Say("said.next-lesson", "Next time, read the lesson {lesson} first.", text.Typed("lesson", rep.Lesson))
	}
	return text.Say("said.next-none", "Next time, do the same again.")
}

// places tells whether an act sets a size or a place by what has been read.
func places(f act.Form) bool {
	switch f {
	case act.FitDepthShim, act.FitPreloadShims, act.TightenNutAngle, act.FitSideShims, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		return true
	}
	return false
}

// placedWell says of each part of the axle the last choice that followed a reading taken since
// the choice before it, and that was within close of the best way on.
func placedWell(ds []grading.Decision) []text.Message {
	const close = 1.0 // minutes
	last := map[grading.Area]text.Message{}
	before := map[grading.Area]int{}
	for _, d := range ds {
		if !places(d.Form) {
			continue
		}
		read := d.Since(before[d.Area])
		before[d.Area] = d.Act
		delete(last, d.Area)
		if d.Lost <= close && len(read) > 0 {
			last[d.Area] = text.Say("said.well-placed", "Act {n}, {did}: chosen on {read}, and within {close} of the best way on.",
				text.Count("n", d.Act), text.Of("did", text.Verbatim(d.Did)), text.All("read", read...), text.Minutes("close", close))
		}
	}
	var out []text.Message
	for _, a := range []grading.Area{grading.Depth, grading.Preload, grading.Sides} {
		if m, ok := last[a]; ok {
			out = append(out, m)
		}
	}
	return out
}

// well names what was read as it should be and lies inside its specification, and what was
// chosen well.
func well(rep grading.Report) []text.Message {
	var read []text.Message
	seen := map[gauge.Kind]bool{}
	for _, l := range rep.Acceptance {
		if k := l.Evidence.Kind; l.Outcome == acceptance.Proved && l.Evidence.Why == acceptance.Inside && !l.Evidence.Before && k != gauge.NoKind && !seen[k] {
			seen[k] = true
			read = append(read, k.Name())
		}
	}
	out := []text.Message{}
	if len(read) > 0 {
		out = append(out, text.Say("said.well-read", "Read as it should be, and inside the specification: {all}.", text.All("all", read...)))
	}
	if l, ok := acceptance.Find(rep.Acceptance, "sheet-true"); ok && l.Outcome == acceptance.Proved {
		out = append(out, text.Say("said.well-written", "The build sheet agrees with what was fitted and read."))
	}
	return append(out, placedWell(rep.Decisions)...)
}
