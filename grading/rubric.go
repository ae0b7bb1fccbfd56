package grading

import (
	"fmt"
	"math"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/shop"
)

// A Severity says what missing a rubric item does.
type Severity string

// Severities: a critical miss holds the score under half, a major one costs ten
// points, a minor one three; major and minor together cost at most twenty.
const (
	Critical Severity = "critical"
	Major    Severity = "major"
	Minor    Severity = "minor"
)

// An Outcome of a rubric item.
type Outcome string

// The outcomes.
const (
	IsMet         Outcome = "met"
	NotMet        Outcome = "not met"
	NotApplicable Outcome = "does not apply"
)

// A Mark is one rubric item as it came out.
type Mark struct {
	ID       string   `json:"id"`
	Item     string   `json:"item"`
	Severity Severity `json:"severity"`
	Outcome  Outcome  `json:"outcome"`
	Evidence string   `json:"evidence,omitempty"`
	Lesson   string   `json:"lesson"`
	Source   string   `json:"source"`
}

const (
	criticalCap  = 49
	majorPoints  = 10
	minorPoints  = 3
	rubricAtMost = 20
)

func (r *Report) applyRubric() {
	loss := 0
	critical := false
	for _, m := range r.Rubric {
		if m.Outcome != NotMet {
			continue
		}
		switch m.Severity {
		case Critical:
			critical = true
		case Major:
			loss += majorPoints
		case Minor:
			loss += minorPoints
		}
	}
	r.Score = max(0, r.Score-min(loss, rubricAtMost))
	if critical {
		r.Score = min(r.Score, criticalCap)
	}
}

// rubric judges how the work was done, from the acts and what they showed.
func rubric(card scenarios.Card, outs []history.Step) []Mark {
	var (
		signed, everFinal, capsTight, anyNut            bool
		backDeg                                         float64 // how far the nut is back of where it was
		lastBacklashTight, lastTotalTight               = true, true
		readUnturned, breakawayLast, greased, greaseUse bool
		turnedSince                                     = true
		lashRead, totalRead                             bool
		recorded                                        = map[act.Option]bool{}
		outside                                         = ""
	)
	sh := card.Family.Sheet
	capsTight, everFinal = card.Start.CapsTight, card.Start.Pinion == history.PinionFinal
	for _, e := range card.Start.Sheet {
		recorded[e.Item] = true
	}
	for _, o := range outs {
		switch o.Act.Form {
		case act.FitPinion:
			everFinal = everFinal || o.Act.Choices[0] == "final"
			backDeg, turnedSince, lashRead, totalRead = 0, true, false, false
		case act.LoosenNut:
			backDeg += o.Act.Amounts[0].Number
		case act.TightenNutAngle:
			anyNut, turnedSince = true, false
			backDeg = math.Max(0, backDeg-o.Act.Amounts[0].Number)
		case act.TightenNutTorque:
			anyNut, turnedSince = true, false
			for _, rd := range o.Readings {
				backDeg = math.Max(0, backDeg-rd.Degrees)
			}
		case act.TurnPinion:
			turnedSince = true
		case act.FitCase, act.RemoveCase:
			capsTight, lashRead, totalRead = false, false, false
			lastBacklashTight, lastTotalTight = true, true
			outside = ""
		case act.TorqueCaps:
			capsTight = true
		case act.GreaseBearings:
			greased = true
		case act.WashBearings:
			greased = false
		case act.RecordValue:
			recorded[o.Act.Choices[0]] = true
		case act.SignOff:
			signed = true
		}
		for _, rd := range o.Readings {
			switch rd.Kind {
			case gauge.BearingCondition:
				greased = rd.Finding == gauge.BearingsGreased // seen in grease, from the box or from this bench
			case gauge.PinionTorque, gauge.TotalTorque:
				breakawayLast = rd.Method.Pull == act.Breakaway
				if rd.Kind == gauge.PinionTorque && !turnedSince && !breakawayLast {
					readUnturned = true
				}
				greaseUse = greaseUse || greased
				if rd.Kind == gauge.TotalTorque {
					totalRead, lastTotalTight = true, capsTight
				}
			case gauge.Backlash:
				lashRead, lastBacklashTight = true, capsTight
				outside = backlashOutside(rd, sh.Backlash.LowMM, sh.Backlash.HighMM)
			}
		}
	}
	mark := func(id, item string, s Severity, applies, met bool, evidence, lesson, source string) Mark {
		m := Mark{ID: id, Item: item, Severity: s, Outcome: NotApplicable, Lesson: lesson, Source: source}
		if applies {
			m.Outcome = IsMet
			if !met {
				m.Outcome, m.Evidence = NotMet, evidence
			}
		}
		return m
	}
	outsideLesson := "check-again"
	if card.UsedGears {
		outsideLesson = "used-gears" // their window is what they ran with
	}
	record := true
	for _, item := range SheetItems(card) {
		record = record && recorded[item]
	}
	toSignOff := card.Kind != scenarios.DepthJob && card.Kind != scenarios.PreloadJob
	collapsible := card.Family.Design.Preload == family.CollapsibleSpacer
	return []Mark{
		mark("no-back-off", "a collapsible spacer's nut is never loosened to bring the drag down", Critical, everFinal && anyNut && collapsible, backDeg == 0,
			"the nut of the final build was loosened and left", "crush-spacer", "TM 9-2320-387-24-2 p. 30-17"),
		mark("caps-at-torque", "side-bearing caps are at torque at sign-off", Critical, signed && toSignOff, capsTight,
			"the axle was signed off with its cap bolts only snug", "check-again", "TM 9-2320-280-34 p. 19-22"),
		mark("inside-spec", "nothing is signed off that was last read outside its window", Critical, signed, outside == "",
			outside, outsideLesson, "common practice, no source"),
		mark("read-with-caps-tight", "final backlash and total torque are read with the caps at torque", Major, lashRead || totalRead, lastBacklashTight && lastTotalTight,
			"a last reading was taken with the caps only snug", "backlash-reading", "TM 10-3930-638-24&P p. 4-243"),
		mark("read-turning", "drag is read while the pinion turns, not at the first pull", Major, everFinal && anyNut, !breakawayLast,
			"the last drag reading was the pull that broke it loose", "rotating-torque", "TM 10-3930-660-34 p. 9-16"),
		mark("oil-not-grease", "pinion drag is read on oiled bearings", Major, everFinal, !greaseUse,
			"drag was read on bearings that had been packed with grease", "rotating-torque", "common practice, no source"),
		mark("rollers-seated", "the pinion is turned after each pull of the nut before its drag is read", Minor, everFinal && anyNut, !readUnturned,
			"drag was read straight after the nut moved", "rotating-torque", "TM 9-2320-387-24-2 p. 30-17"),
		mark("build-sheet", "the build sheet has "+sheetWords(card.Kind), Minor, signed, record,
			"something is missing from the build sheet", "check-again", "common practice, no source"),
	}
}

// budget holds an attempt against the minutes and parts an exercise allows. Without a
// budget there is no item.
func budget(b scenarios.Budget, rep Report) []Mark {
	var out []Mark
	hold := func(id, what string, limit, spent shop.Minutes) {
		if limit <= 0 {
			return
		}
		m := Mark{ID: id, Item: fmt.Sprintf("%s stay within the %.0f minutes allowed", what, float64(limit)), Severity: Minor,
			Outcome: IsMet, Lesson: "inspect-first", Source: "the exercise"}
		if spent > limit {
			m.Outcome, m.Evidence = NotMet, fmt.Sprintf("%.0f minutes were spent", float64(spent))
		}
		out = append(out, m)
	}
	hold("work-budget", "the work's minutes", b.Minutes, rep.Minutes)
	hold("parts-budget", "parts, in minutes of work,", b.Parts, rep.PartsMinutes)
	return out
}

// weighed gives marks the weights of an exercise in the place of the usual ones. One that
// is not counted does not apply.
func weighed(marks []Mark, weights map[string]scenarios.Weight) []Mark {
	for i := range marks {
		switch w := weights[marks[i].ID]; w {
		case "":
		case scenarios.Uncounted:
			marks[i].Outcome, marks[i].Evidence = NotApplicable, ""
		default:
			marks[i].Severity = Severity(w)
		}
	}
	return marks
}

// sheetWords says what a build sheet must hold at the end of a job.
func sheetWords(k scenarios.Kind) string {
	switch k {
	case scenarios.DepthJob:
		return "the depth shim"
	case scenarios.PreloadJob:
		return "every shim and the pinion drag"
	}
	return "every shim, pinion drag, total drag and backlash"
}

// SheetItems lists what a build sheet must hold at the end of a job.
func SheetItems(card scenarios.Card) []act.Option {
	d := card.Family.Design
	out := []act.Option{act.DepthShimLine}
	if card.Kind == scenarios.DepthJob {
		return out
	}
	if d.Preload == family.SolidSpacer {
		out = append(out, act.PreloadShimsLine)
	}
	if card.Kind == scenarios.PreloadJob {
		return append(out, act.PinionTorqueLine)
	}
	if d.SideAdjust != family.BearingAdjusters {
		out = append(out, act.RingGearShimLine, act.OppositeShimLine)
	}
	return append(out, act.PinionTorqueLine, act.TotalTorqueLine, act.BacklashLine)
}

// backlashOutside says how the mean of a good backlash reading missed its window,
// or "" if it did not.
func backlashOutside(r gauge.Reading, low, high float64) string {
	if len(r.Lengths) == 0 {
		return ""
	}
	length, _, _ := r.Summary()
	mean := length.MM()
	// Half a graduation's grace: 0.0005 in as read.
	const grace = 0.0127
	switch {
	case mean < low-grace:
		return "the last backlash reading was below its window"
	case mean > high+grace:
		return "the last backlash reading was above its window"
	}
	return ""
}
