package debrief

import (
	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
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
	Sum     []text.Message `json:"sum"`
	Sure    []text.Message `json:"sure"`
}

func said(rep grading.Report, rev *reveal.Reveal) Said {
	return Said{
		Right: rightOrNot(rep, rev), Dearest: dearest(rep), Next: next(rep), Well: well(rep),
		Sum: rep.Sum.Messages(grading.TheFormula()), Sure: grading.TheSurety().Messages(),
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
	return text.Say("said.dearest", "What cost most is act {n}: {lost} beyond the best choice.", text.Count("n", d.Act), text.Minutes("lost", d.Lost))
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

// well names what was read as it should be and lies inside its specification.
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
	return out
}
