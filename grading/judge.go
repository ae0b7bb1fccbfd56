package grading

import (
	"fmt"
	"math"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// judge prices an act against its alternatives, on what is believed before it.
func (r *reasoner) judge(n int, o history.Step) {
	r.n = n
	a := o.Act
	switch a.Form {
	case act.FitDepthShim:
		r.judgeCageShim(a)
	case act.FitPinion:
		r.judgePinion(a)
		if r.solid() && a.Choices[0] == "final" {
			r.judgePreloadShims(a)
		}
	case act.TightenNutAngle, act.TightenNutTorque:
		if r.solid() {
			r.judgeHoldingNut(a, o)
		} else {
			r.judgeNut(a)
		}
	case act.LoosenNut:
		r.judgeBackOff(a)
	case act.SpreadHousing:
		r.judgeSpread(a)
	case act.FitCase:
		if !r.rings() {
			r.judgeCase(a)
		}
		r.builtOver(a)
		r.omissions(a, act.InspectCones, act.InspectCaps, act.InspectBolts)
		r.leftIn(a, 0, fault.RingGearConeHigh, fault.OppositeConeHigh)
		r.leftIn(a, 0, fault.CapsSwapped, fault.CapTurned)
		if r.told[act.InspectBolts] {
			r.leftIn(a, 0, fault.BoltsUneven, fault.BoltsLong)
		}
		r.leftIn(a, 0, fault.GearOffCenter)
		r.leftIn(a, 0, fault.GearWarped)
		r.leftBeside(a, fault.BeforeCase)
	case act.TorqueCaps:
		if r.rings() {
			r.judgeRings(a)
		}
	case act.MeasureDepth, act.RollGears:
		r.judgeDepthReading(a, o)
	case act.MeasureBacklash:
		r.judgeLashReading(a, o)
	case act.MeasureEndPlay:
		r.judgeEndPlay(a)
	case act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectCones, act.InspectCaps, act.InspectSeal,
		act.InspectShimSeat, act.InspectBolts, act.InspectShafts, act.InspectGears,
		act.TestIndicator, act.TestString, act.TestGauge, act.MeasureBearings, act.MeasurePinionRunout:
		r.judgeInspection(a)
	case act.RemoveCase, act.RemovePinion:
		r.judgeTeardown(a)
	case act.SignOff:
		r.judgeSignOff(a)
	}
}

// did says what was done with the shims it was done with.
func (r *reasoner) did(a act.Act) string {
	switch a.Form {
	case act.FitPinion:
		if r.solid() && a.Choices[0] == "final" {
			return fmt.Sprintf("%s on the %s shim with a pack of %s", a, r.w.len(r.depthShim), r.w.len(r.shims))
		}
		return fmt.Sprintf("%s on the %s shim", a, r.w.len(r.depthShim))
	case act.FitCase:
		if r.rings() {
			break
		}
		return fmt.Sprintf("%s on back %s, tooth %s", a, r.w.len(r.back), r.w.len(r.tooth))
	case act.TorqueCaps:
		if r.rings() {
			return fmt.Sprintf("%s on %s, %s, since they were run up", a, r.notches("ring-gear-adjuster", 0, r.back), r.notches("opposite-adjuster", 0, r.tooth))
		}
	}
	return a.String()
}

// note files a decision. Regret below zero is numerical noise.
func (r *reasoner) note(area Area, a act.Act, lesson string, lost float64, knew, means, best string) {
	lost = hundredths(math.Max(lost, 0))
	r.out = append(r.out, Decision{Act: r.n, Did: r.did(a), Area: area, Knew: knew, Means: means, Best: best,
		Lost: lost, Score: hundredths(r.scoreOf(lost)), Lesson: lesson})
}

// omissions charges looks that would have been worth their minutes before an act
// that makes them dear. Each is charged once.
func (r *reasoner) omissions(a act.Act, looks ...act.Form) {
	lost := 0.0
	var missed []string
	for _, c := range checks() {
		for _, f := range looks {
			if c.test != f || r.told[f] || r.without(f) {
				continue
			}
			r.told[f] = true
			worth := -r.minutesOf(f)
			for _, id := range c.faults {
				worth += r.risk[id] * r.late[id]
			}
			if worth > 0 {
				lost += worth
				missed = append(missed, f.String())
			}
		}
	}
	if len(missed) == 0 {
		return
	}
	list := missed[0]
	for i, m := range missed[1:] {
		if i == len(missed)-2 {
			list += " and " + m
		} else {
			list += ", " + m
		}
	}
	lesson := "inspect-first"
	if len(missed) == 1 && looks[0] == act.TestIndicator {
		lesson = "trust-instruments"
	}
	r.note(Looking, a, lesson, lost, "the fault rates on the card; these had not been looked at",
		"a minute or two of looking now against a teardown later", list+" before this step")
}

// leftIn charges, once, a fault that was seen and then built over. The ids are those
// one look finds and one act cures; access is what it takes to get at them now.
func (r *reasoner) leftIn(a act.Act, access float64, ids ...fault.ID) {
	lost := 0.0
	var worst fault.Fault
	for _, id := range ids {
		f, err := fault.Find(id)
		p := r.risk[id]
		if err != nil || p < 0.5 || r.left[id] {
			continue
		}
		r.left[id] = true
		if worth := p*r.late[id] - access - r.minutesOf(f.Cure); worth > lost {
			lost, worst = worth, f
		}
	}
	if lost == 0 {
		return
	}
	lesson := worst.Lesson
	if lesson == "side-shims" {
		lesson = r.sideLesson()
	}
	r.note(Looking, a, lesson, lost, "what the readings had shown: "+text.Printer{}.Print(worst.Name), text.Printer{}.Print(worst.Missed), worst.Cure.String()+" before this step")
}

// leftBeside is leftIn for the faults of a stage that inspections find beside their readings.
func (r *reasoner) leftBeside(a act.Act, stage fault.Stage) {
	for _, f := range fault.All() {
		if f.Found != gauge.NoFinding && f.Stage == stage {
			r.leftIn(a, 0, f.ID)
		}
	}
}

func (r *reasoner) judgeInspection(a act.Act) {
	cost := r.minutesOf(a.Form)
	worth := 0.0
	for _, c := range checks() {
		if c.test == a.Form {
			for _, id := range c.faults {
				worth += r.risk[id] * r.late[id]
			}
		}
	}
	again := r.told[a.Form]
	r.told[a.Form] = true
	if !again || worth >= cost {
		return // a first look is never held against anyone
	}
	r.note(Looking, a, "inspect-first", cost-worth, "this had been looked at before", "nothing has happened since that could change it", "go on")
}

// builtOver charges going on to the case over a pinion whose preload should have been put
// right, or read, first: by what the way back has grown.
func (r *reasoner) builtOver(a act.Act) {
	if r.Pinion != history.PinionFinal {
		return
	}
	redo := r.redoPreload()
	now := append([]dimension{r.torqueDimension(redo)}, r.clampDimensions(redo)...)
	over := append([]dimension{r.torqueDimension(redo + r.reopen())}, r.clampDimensions(redo+r.reopen())...)
	lost, worst := 0.0, 0
	for i := range now {
		more := over[i].best - now[i].best
		lost += more
		if more > over[worst].best-now[worst].best {
			worst = i
		}
	}
	if lost <= r.costs.AllowanceMin || now[worst].advice == "" {
		return
	}
	r.note(Preload, a, now[worst].lesson, lost, "the drag and the nut, as read before the case went in", now[worst].believe, now[worst].advice)
}

// judgeTeardown judges taking apart what has been finished: worth its minutes only if what
// is believed wrong costs more. What was built wrong was charged where it was built, and
// makes its own teardown worth while.
func (r *reasoner) judgeTeardown(a act.Act) {
	others := r.previousTechnician() && !r.opened && (a.Form != act.RemoveCase || r.asFound)
	if !others && (r.Pinion != history.PinionFinal || r.card.Kind == scenarios.DepthJob || a.Form == act.RemoveCase && !r.CapsTight) {
		return // not finished
	}
	r.asFound = false
	dims := r.dimensions()
	for _, f := range fault.For(r.design) {
		if p := r.risk[f.ID]; p > 0 {
			dims = append(dims, dimension{name: text.Printer{}.Print(f.Name), best: p * r.late[f.ID], close: p * r.late[f.ID]})
		}
	}
	best, worst := 0.0, -1
	for i, d := range dims {
		if a.Form == act.RemovePinion && (d.name == "backlash" || d.name == "side preload") {
			continue // lost with the case already
		}
		best += d.best
		if worst < 0 || d.close-d.best > dims[worst].close-dims[worst].best {
			worst = i
		}
	}
	undone := r.redoSides()
	if a.Form == act.RemovePinion {
		r.opened = true
		undone = r.redoPreload()
	}
	way, lesson := "sign it: everything has been read and is right", "check-again"
	if worst >= 0 && dims[worst].advice != "" && dims[worst].close-dims[worst].best > 0.5 {
		way, lesson = dims[worst].advice, dims[worst].lesson
	}
	if !others && undone <= best {
		return
	}
	r.note(Stopping, a, lesson, undone-best, "the build sheet, and what had been read",
		"taking a finished axle apart undoes what is right in it too", way)
	r.weigh(Alternative{"take it apart", undone, true}, Alternative{way, best, false})
}
