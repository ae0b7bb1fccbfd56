package reveal

import (
	"math"

	"shimwright/scenarios"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/truth"
)

// The search for a like job is bounded; one on which another hand has worked first takes
// longer to draw.
const (
	searchLimit      = 200
	searchLimitAfter = 40
)

// TryAgain returns family and number of another job of an order's kind, with any faults,
// that calls for a lesson: in the order's family or, where an axle of that design never
// calls for it, in another one. Where none is found nearby it is the next number.
func TryAgain(o scenarios.Order, seed uint64, lesson string) (familyCode string, again uint64) {
	o = scenarios.Order{Family: concerned(lesson, o.Family), Kind: o.Kind}
	limit := uint64(searchLimit)
	if o.Kind != scenarios.WholeJob && o.Kind != scenarios.DepthJob {
		limit = searchLimitAfter
	}
	m, err := o.Maker()
	if err != nil {
		return o.Family.Code, seed + 1
	}
	for i := range limit {
		next := seed + 1 + i
		j, err := m.Sketch(next)
		if err != nil || !CallsFor(j, lesson) {
			continue
		}
		if full, err := m.Generate(next); err == nil && full.Draws() == 1 {
			return o.Family.Code, next
		}
	}
	return o.Family.Code, seed + 1
}

// concerned returns the family given if a lesson is about axles of its design, else BEECH
// if it is about those, else the first of the shelf that it is about.
func concerned(lesson string, fam family.Family) family.Family {
	for _, f := range append([]family.Family{fam, family.Beech()}, family.Shelf()...) {
		if concerns(lesson, f) {
			return f
		}
	}
	return fam
}

// concerns reports whether a lesson is about axles of a family's design.
func concerns(lesson string, fam family.Family) bool {
	d := fam.Design
	switch lesson {
	case "depth-mark":
		return fam.Sheet.Marks.Known()
	case "cage-shim":
		return d.DepthShim == family.UnderCageFlange
	case "cup-shim":
		return d.DepthShim == family.BehindInnerCup
	case "crush-spacer":
		return d.Preload == family.CollapsibleSpacer
	case "solid-spacer":
		return d.Preload == family.SolidSpacer
	case "side-shims":
		return d.SideAdjust != family.BearingAdjusters
	case "bearing-adjusters":
		return d.SideAdjust == family.BearingAdjusters
	}
	return true
}

// CallsFor reports whether a job brings up what a lesson is about: its axle is of the
// design, and it carries a fault that the lesson covers, where there is one; for marks,
// they differ widely; for used gears, they go back in; for a depth shim behind the cup,
// it is not the one the old pack went with.
func CallsFor(j scenarios.Job, lesson string) bool {
	if !concerns(lesson, j.Card.Family) {
		return false
	}
	k := j.Card.Known
	step := k.Sheet.DepthShims.StepMM
	switch lesson {
	case "depth-mark":
		const widelyMM = 0.1
		return math.Abs(k.OldMark.MM()-k.NewMark.MM()) >= widelyMM
	case "cup-shim":
		return math.Abs(k.StarterShim().MM()-k.OldDepthShim.MM()) > 2.5*step
	case "used-gears":
		return j.Card.UsedGears
	}
	calls := map[fault.ID]bool{}
	for _, f := range fault.For(j.Card.Family.Design) {
		usual := f.Needs == nil || f.Needs(fault.Job{}) // a job that it cannot be in is not the one
		if f.Lesson == lesson && (usual || j.Card.RateOf(f.ID) > 0) {
			calls[f.ID] = true
		}
	}
	x, _ := truth.Open(j.Sealed())
	for _, c := range x.Faults {
		if calls[c.ID] {
			return true
		}
	}
	return len(calls) == 0
}
