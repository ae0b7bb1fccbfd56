package peopletest

import (
	"fmt"
	"slices"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
)

// Hostiles are after a score without the work, or waste it.
func Hostiles() []Person {
	hostile := func(name string, work func(technician.Bench, scenarios.Job) error) Person {
		return Person{Name: name, Sort: Hostile, work: work}
	}
	pattern := []act.Form{act.PaintTeeth, act.RollGears}
	return []Person{
		hostile("replaces everything, inspects nothing", first(without(inspections()...), lines("replace bearings", "replace gears", "replace case", "replace seal", "replace spacer", "seat cups", "seat cones", "match caps")...)),
		hostile("bearings and gears replaced twice", first(by(technician.Competent()), lines("replace bearings", "replace gears", "replace bearings", "replace gears")...)),
		hostile("seats the cups 40 times", first(by(technician.Competent()), slices.Repeat(lines("seat cups"), 40)...)),
		hostile("inspects the cups 300 times", first(by(technician.Competent()), slices.Repeat(lines("inspect cups"), 300)...)),
		hostile("measures backlash 300 times", repeats(act.MeasureBacklash, 300)),
		hostile("cleans the ring gear ten times", first(by(technician.Competent()), slices.Repeat(lines("clean ring-gear"), 10)...)),
		hostile("writes a false build sheet", otherwise(falseSheet)),
		hostile("writes no build sheet", without(act.RecordValue)),
		hostile("makes no pattern", without(pattern...)),
		hostile("measures no total torque", otherwise(noTotal)),
		hostile("makes no pattern, measures no total torque and no runout", withoutAt(noTotal, append(pattern, act.MeasureRunout, act.MeasureRadialRunout)...)),
		hostile("inspects nothing", without(inspections()...)),
		hostile("believes one reading", otherwise(readsOnce)),
		hostile("never measures", by(technician.Habits{NeverMeasures: true})),
		hostile("turns every sign", by(technician.Habits{SignsTurned: true})),
		hostile("signs at once", func(b technician.Bench, _ scenarios.Job) error {
			_, err := b.Do(act.Act{Form: act.SignOff})
			return err
		}),
		hostile("copies another axle", copies),
		hostile("first on the menu", firstOnTheMenu),
		{Name: "one wrong move", Sort: Mixed, work: by(technician.Habits{WrongMoveOnce: true})},
		{Name: "anything at all", Sort: Random, work: anything},
	}
}

func inspections() []act.Form {
	return []act.Form{act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectSeal, act.InspectCones, act.InspectCaps, act.InspectShimSeat, act.InspectBolts, act.InspectGears,
		act.MeasureBearings, act.MeasurePinionRunout, act.TestGauge, act.MeasureDepthShim}
}

func lines(of ...string) []act.Act {
	var out []act.Act
	for _, l := range of {
		a, err := act.Parse(l, quantity.Inch)
		if err != nil {
			panic(err) // one of the lines in this package is wrong
		}
		out = append(out, a)
	}
	return out
}

// without leaves acts out.
func without(forms ...act.Form) func(technician.Bench, scenarios.Job) error {
	return by(technician.Competent(), technician.Policy{Do: technician.LeaveOut(forms...)})
}

// withoutAt leaves acts out at a bench where others are done another way.
func withoutAt(do func(technician.Bench, act.Act) (history.Step, error), forms ...act.Form) func(technician.Bench, scenarios.Job) error {
	return func(b technician.Bench, j scenarios.Job) error {
		return without(forms...)(turned{b, do}, j)
	}
}

// first does some acts, as far as the bench lets it, before the work.
func first(work func(technician.Bench, scenarios.Job) error, acts ...act.Act) func(technician.Bench, scenarios.Job) error {
	return func(b technician.Bench, j scenarios.Job) error {
		for _, a := range acts {
			_, _ = b.Do(a)
		}
		return work(b, j)
	}
}

// repeats does an act many times more, the first time it comes up.
func repeats(f act.Form, times int) func(technician.Bench, scenarios.Job) error {
	return func(b technician.Bench, j scenarios.Job) error {
		done := false
		return otherwise(func(b technician.Bench, a act.Act) (history.Step, error) {
			o, err := b.Do(a)
			if a.Form == f && !done && err == nil {
				done = true
				for range times {
					_, _ = b.Do(a)
				}
			}
			return o, err
		})(b, j)
	}
}

// falseSheet writes figures that nobody read.
func falseSheet(b technician.Bench, a act.Act) (history.Step, error) {
	if a.Form != act.RecordValue {
		return b.Do(a)
	}
	a.Amounts = slices.Clone(a.Amounts)
	switch a.Choices[0] {
	case act.PinionTorqueLine, act.TotalTorqueLine:
		a.Amounts[0] = quantity.Entered{Number: 99, Unit: quantity.UnitInchLb}
	case act.PatternHeightLine:
		a.Amounts[0].Number = 0.9
	default:
		a.Amounts[0] = quantity.Entered{Number: 0.5, Unit: quantity.UnitInch}
	}
	return b.Do(a)
}

func noTotal(b technician.Bench, a act.Act) (history.Step, error) {
	if a.Form == act.MeasureTorque && b.Status().CaseIn || a.Form == act.RecordValue && a.Choices[0] == act.TotalTorqueLine {
		return history.Step{Act: a}, nil
	}
	return b.Do(a)
}

// readsOnce takes the first reading for the truth.
func readsOnce(b technician.Bench, a act.Act) (history.Step, error) {
	switch a.Form {
	case act.TestIndicator, act.TestString, act.MeasureRunout, act.PaintTeeth, act.RollGears:
		return history.Step{Act: a}, nil
	case act.MeasureTorque:
		a.Choices = []act.Option{a.Choices[0], act.Wrench}
	case act.MeasureBacklash:
		a.Amounts = []quantity.Entered{technician.Count(1)}
	}
	return b.Do(a)
}

// copies does what the reference technician did on another axle of the family, as far as the
// bench goes along.
func copies(b technician.Bench, j scenarios.Job) error {
	o := j.Order()
	other, err := o.Generate(j.Card.Seed + 1000)
	if err != nil {
		return err
	}
	r, err := TheReference().Play(other)
	if err != nil {
		return err
	}
	for _, s := range r.Steps {
		_, _ = b.Do(s.Act)
	}
	return nil
}

// anything does whatever the bench lets it, and signs.
func anything(b technician.Bench, j scenarios.Job) error {
	const tries = 250
	chance := rng.Stream(j.Card.Seed, "peopletest/anything")
	for range tries {
		all := menu(j.Card.Known, chance.Whole)
		_, _ = b.Do(all[chance.Whole(len(all))])
	}
	_, err := b.Do(act.Act{Form: act.SignOff})
	return err
}

// firstOnTheMenu does the first act of a list that the bench lets it, and none twice.
func firstOnTheMenu(b technician.Bench, j scenarios.Job) error {
	for _, a := range menu(j.Card.Known, func(int) int { return 0 }) {
		_, _ = b.Do(a)
	}
	_, err := b.Do(act.Act{Form: act.SignOff})
	return err
}

// menu lists acts of all kinds. which picks one of so many words, sizes or numbers.
func menu(k technician.Known, which func(n int) int) []act.Act {
	pick := func(words ...string) string { return words[which(len(words))] }
	off := func(s family.Stock) string {
		sizes := s.Sizes()
		return fmt.Sprintf("%.6fmm", sizes[which(len(sizes))])
	}
	typed := []string{"inspect cups", "inspect bearings", "inspect spacer", "inspect cones", "inspect caps", "inspect seal", "measure bearings", "measure depth-shim",
		"seat cups", "seat cones", "match caps", "replace seal", "fit depth-shim " + off(k.Sheet.DepthShims), "fit pinion " + pick("mock-up", "final", "final"),
		"measure depth", "turn pinion 5", fmt.Sprintf("tighten nut %d deg", 5+which(60)), fmt.Sprintf("tighten nut to %d lb-ft", 50+which(250)),
		"measure torque " + pick("rotating", "breakaway") + " " + pick("wrench", "string"), "fit case", "torque caps", "torque caps", "measure end-play", "measure runout",
		"mount indicator " + pick("heel", "middle", "toe") + " " + pick("square", "tilted") + " " + pick("pinion-held", "pinion-free"),
		fmt.Sprintf("measure backlash %d", 1+which(8)), "paint teeth " + pick("thin", "thick"), "roll gears " + pick("braked", "free"), "remove case", "remove pinion", "test indicator"}
	if k.Design.Preload == family.SolidSpacer {
		typed = append(typed, "fit preload-shims "+off(k.Design.Solid.PreloadShims))
	}
	if k.Design.SideAdjust == family.BearingAdjusters {
		typed = append(typed, "turn ring-gear-adjuster "+pick("in", "out")+" 2", "turn opposite-adjuster "+pick("in", "out")+" 2", "loosen caps")
	} else {
		typed = append(typed, "fit side-shims ring-gear "+off(k.Sheet.SideShims)+" opposite "+off(k.Sheet.SideShims))
	}
	return lines(typed...)
}
