package scenarios

import (
	"maps"
	"slices"

	"shimwright/sim/text"
)

// A Weight says how much it counts when a line of the acceptance list is not proved.
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

// Points names the lines of the acceptance list, in the order of a debrief. The last two are there only where an order has a budget.
func Points() []string {
	return []string{"pattern", "depth", "pinion-torque", "nut", "nut-torque", "total-torque", "side-rise", "backlash", "backlash-variation",
		"runout", "caps", "match-marks", "housing-spread", "found-wrong", "sheet-complete", "sheet-true", "work-budget", "parts-budget"}
}

// PointName says what has to be so on a line of the acceptance list.
func PointName(id string) text.Message {
	switch id {
	case "pattern":
		return text.Say("point.pattern", "contact pattern on both sides, a thin coat and the ring gear braked, read after the last change and inside its specification, or made twice or more and their mean inside as closely as an eye can tell")
	case "depth":
		return text.Say("point.depth", "pinion depth inside its tolerance with the shim that is in")
	case "pinion-torque":
		return text.Say("point.pinion-torque", "pinion rotating torque inside its specification: read turning, in oil, with the pinion turned since the nut moved")
	case "nut":
		return text.Say("point.nut", "the nut on a collapsible spacer is not left backed off")
	case "nut-torque":
		return text.Say("point.nut-torque", "pinion nut tightened to its specification")
	case "total-torque":
		return text.Say("point.total-torque", "total rotating torque inside its specification, read after the last change with the caps at torque")
	case "side-rise":
		return text.Say("point.side-rise", "what the side bearings add to the pinion's rotating torque is inside its specification, as closely as two readings tell")
	case "backlash":
		return text.Say("point.backlash", "backlash inside its specification, read at three places or more after the last change with the caps at torque")
	case "backlash-variation":
		return text.Say("point.backlash-variation", "backlash varies between places by no more than is specified")
	case "runout":
		return text.Say("point.runout", "back-face runout of the ring gear inside its specification")
	case "caps":
		return text.Say("point.caps", "bearing caps at torque")
	case "match-marks":
		return text.Say("point.match-marks", "match marks of the bearing caps inspected")
	case "housing-spread":
		return text.Say("point.housing-spread", "the housing was never spread past its limit")
	case "found-wrong":
		return text.Say("point.found-wrong", "what was found wrong has been put right")
	case "sheet-complete":
		return text.Say("point.sheet-complete", "every line of the build sheet is written")
	case "sheet-true":
		return text.Say("point.sheet-true", "there is a build sheet, and it agrees with what was fitted and read")
	case "work-budget":
		return text.Say("point.work-budget", "the work stays within the minutes allowed")
	case "parts-budget":
		return text.Say("point.parts-budget", "parts stay within the minutes allowed")
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
