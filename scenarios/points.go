package scenarios

import (
	"maps"
	"slices"

	"shimwright/sim/text"
)

// A Weight says how much it counts when a point of good work is missed.
type Weight string

// The weights. What each takes off a score is for whoever grades to say.
const (
	Critical  Weight = "critical"
	Major     Weight = "major"
	Minor     Weight = "minor"
	Uncounted Weight = "none" // not held against anybody
)

// Weights lists the weights from the heaviest on.
func Weights() []Weight { return []Weight{Critical, Major, Minor, Uncounted} }

// Points names what the work is held against besides its decisions, in the order of a
// debrief. The last two are there only where an order has a budget.
func Points() []string {
	return []string{"no-back-off", "caps-at-torque", "inside-spec", "read-with-caps-tight", "read-turning", "oil-not-grease",
		"rollers-seated", "build-sheet", "work-budget", "parts-budget"}
}

// PointName says what good work is at a point.
func PointName(id string) text.Message {
	switch id {
	case "no-back-off":
		return text.Say("point.no-back-off", "the nut on a collapsible spacer is never loosened to bring the torque down")
	case "caps-at-torque":
		return text.Say("point.caps-at-torque", "the bearing cap bolts are at their torque at sign-off")
	case "inside-spec":
		return text.Say("point.inside-spec", "nothing is signed off that was last measured out of its spec")
	case "read-with-caps-tight":
		return text.Say("point.read-with-caps-tight", "final backlash and total rotating torque are measured with the bearing cap bolts at their torque")
	case "read-turning":
		return text.Say("point.read-turning", "torque is measured while the pinion rotates, not at breakaway")
	case "oil-not-grease":
		return text.Say("point.oil-not-grease", "the pinion bearings are oiled, not greased, when torque is measured")
	case "rollers-seated":
		return text.Say("point.rollers-seated", "the pinion is turned after each step of the nut, before its torque is measured")
	case "build-sheet":
		return text.Say("point.build-sheet", "the build sheet is filled in")
	case "work-budget":
		return text.Say("point.work-budget", "the work is done in the minutes allowed")
	case "parts-budget":
		return text.Say("point.parts-budget", "the parts used are within what is allowed")
	}
	return text.Message{}
}

// Name is what the weight is called.
func (w Weight) Name() text.Message {
	switch w {
	case Critical:
		return text.Say("weight.critical", "critical")
	case Major:
		return text.Say("weight.major", "major")
	case Minor:
		return text.Say("weight.minor", "minor")
	}
	return text.Say("weight.none", "not counted")
}

// validWeights says what is wrong with the weights of an order, or nil.
func validWeights(weights map[string]Weight) error {
	for _, id := range slices.Sorted(maps.Keys(weights)) {
		if !slices.Contains(Points(), id) {
			return OrderError{Wrong: UnknownPoint, Point: id}
		}
		if w := weights[id]; !slices.Contains(Weights(), w) {
			return OrderError{Wrong: UnknownWeight, Point: id, Weight: w}
		}
	}
	return nil
}
