package bench

import (
	"slices"

	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// A Stage is a part of the job, in the order of the job.
type Stage int

// The stages.
const (
	Inspect Stage = iota
	Depth
	PinionPreload
	Sides
	ContactPattern
	Prove // total torque, build sheet, signature
)

// Name is what the stage is called.
func (s Stage) Name() text.Message {
	switch s {
	case Inspect:
		return text.Say("stage.inspect", "inspect")
	case Depth:
		return text.Say("stage.depth", "depth")
	case PinionPreload:
		return text.Say("stage.pinion-preload", "pinion preload")
	case Sides:
		return text.Say("stage.sides", "sides and backlash")
	case ContactPattern:
		return text.Say("stage.pattern", "pattern")
	}
	return text.Say("stage.prove", "sign")
}

// Purpose is what the stage is for, in a sentence.
func (s Stage) Purpose() text.Message {
	switch s {
	case Inspect:
		return text.Say("stage.purpose.inspect", "Parts are inspected while they lie open: what is found after the axle is built costs all the work between.")
	case Depth:
		return text.Say("stage.purpose.depth", "The depth shim sets how deep the pinion stands in the ring gear. Everything after it is measured from there.")
	case PinionPreload:
		return text.Say("stage.purpose.pinion-preload", "The pinion bearings run under a preload, which the rotating torque tells. Turn the pinion before each reading: rollers seat as they roll.")
	case Sides:
		return text.Say("stage.purpose.sides", "The side bearings carry the ring gear: both sides together set their preload, and the difference between them sets the backlash.")
	case ContactPattern:
		return text.Say("stage.purpose.pattern", "The contact pattern shows on the teeth whether depth and backlash are right together.")
	}
	return text.Say("stage.purpose.prove", "What is signed for has to be read on the axle as it stands, and written down as it was read.")
}

// stagesOf lists the stages of a kind of job.
func stagesOf(k scenarios.Kind) []Stage {
	switch k {
	case scenarios.DepthJob:
		return []Stage{Inspect, Depth, Prove}
	case scenarios.PreloadJob:
		return []Stage{Inspect, PinionPreload, Prove}
	case scenarios.SidesJob:
		return []Stage{Inspect, Sides, ContactPattern, Prove}
	}
	return []Stage{Inspect, Depth, PinionPreload, Sides, ContactPattern, Prove}
}

// stageOf is the stage that a line of the acceptance list belongs to.
func stageOf(id string) Stage {
	switch id {
	case "depth":
		return Depth
	case "pinion-torque", "nut", "nut-torque":
		return PinionPreload
	case "backlash", "backlash-variation", "runout", "caps", "match-marks", "housing-spread":
		return Sides
	case "pattern":
		return ContactPattern
	}
	return Prove
}

// A Todo is one thing that is still to be done or shown: an inspection, or a line of the
// acceptance list.
type Todo struct {
	Stage Stage
	Form  act.Form         // of an inspection
	Line  *acceptance.Line // nil for an inspection
}

// An inspection is one of the procedure: what to do once while its part lies open.
type inspection struct {
	form act.Form
	on   func(scenarios.Card) bool
}

// inspections lists those of the procedure, in the order of the job.
func inspections() []inspection {
	depth := func(c scenarios.Card) bool {
		return c.Kind != scenarios.PreloadJob && c.Kind != scenarios.SidesJob
	}
	pinion := func(c scenarios.Card) bool {
		return c.Kind != scenarios.DepthJob && c.Kind != scenarios.SidesJob
	}
	built := func(c scenarios.Card) bool { return c.Kind != scenarios.SidesJob }
	sides := func(c scenarios.Card) bool {
		return c.Kind != scenarios.DepthJob && c.Kind != scenarios.PreloadJob
	}
	newGears := func(c scenarios.Card) bool { return depth(c) && !c.UsedGears }
	spacer := func(c scenarios.Card) bool {
		return pinion(c) && c.Family.Design.Preload == family.CollapsibleSpacer
	}
	return []inspection{
		{act.InspectCups, built}, {act.InspectShimSeat, depth}, {act.InspectGears, newGears}, {act.MeasurePinionRunout, newGears},
		{act.InspectBearings, pinion}, {act.InspectSpacer, spacer}, {act.InspectSeal, pinion}, {act.MeasureBearings, depth},
		{act.InspectCones, sides}, {act.InspectCaps, sides}, {act.InspectBolts, sides},
	}
}

// uninspected lists the inspections of the procedure that have not been made and still can
// be, now or before the axle is closed.
func (b *Bench) uninspected() []act.Form {
	card := b.Card()
	done := func(f act.Form) bool {
		is := func(o history.Step) bool { return o.Act.Form == f }
		return slices.ContainsFunc(card.Before, is) || slices.ContainsFunc(b.outs, is)
	}
	var out []act.Form
	for _, i := range inspections() {
		if i.on(card) && sim.NotOnThisAxle(card.Family.Design, i.form).IsZero() && !done(i.form) && b.WhyNot(i.form) == nil {
			out = append(out, i.form)
		}
	}
	return out
}

// todos lists what is left of the procedure, in the order of the job.
func (b *Bench) todos(lines []acceptance.Line) []Todo {
	var out []Todo
	for _, f := range b.uninspected() {
		out = append(out, Todo{Stage: Inspect, Form: f})
	}
	for _, s := range stagesOf(b.Card().Kind) {
		for i, l := range lines {
			if l.Missed() && stageOf(l.ID) == s {
				out = append(out, Todo{Stage: s, Line: &lines[i]})
			}
		}
	}
	return out
}

// At is where the job stands, for whoever looks on; what a person at the bench is told of it
// is in View.
func (b *Bench) At() Stage { return b.stage(acceptance.Of(b.Card(), b.outs)) }

// stage is where the job stands: the first stage whose end has not been reached.
func (b *Bench) stage(lines []acceptance.Line) Stage {
	st := b.Status()
	proved := func(id string) bool {
		l, ok := acceptance.Find(lines, id)
		return ok && l.Outcome == acceptance.Proved
	}
	read := func(k gauge.Kind) bool {
		return slices.ContainsFunc(b.outs, func(o history.Step) bool {
			_, ok := o.Reading(k)
			return ok && o.After.Builds == st.Builds
		})
	}
	for _, s := range stagesOf(b.Card().Kind) {
		reached := false
		switch s {
		case Inspect:
			reached = st.DepthShim > 0 && st.DepthShim != b.Card().Start.DepthShim || st.Builds > b.Card().Start.Builds || len(b.uninspected()) == 0
		case Depth:
			reached = proved("depth") || st.CaseIn || st.Pinion == history.PinionFinal && (read(gauge.PinionTorque) || read(gauge.Depth) || collapsible(b.Card()))
		case PinionPreload:
			reached = proved("pinion-torque") || st.CaseIn
		case Sides:
			reached = proved("backlash") && st.CapsTight
		case ContactPattern:
			reached = proved("pattern")
		default:
			reached = st.SignedOff
		}
		if !reached {
			return s
		}
	}
	return Prove
}

func collapsible(c scenarios.Card) bool {
	return c.Family.Design.Preload == family.CollapsibleSpacer
}
