package scenarios

import (
	"fmt"
	"maps"
	"slices"
	"strings"
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
		"rollers-turned-home", "build-sheet", "work-budget", "parts-budget"}
}

// validWeights says what is wrong with the weights of an order, or nil.
func validWeights(weights map[string]Weight) error {
	for _, id := range slices.Sorted(maps.Keys(weights)) {
		if !slices.Contains(Points(), id) {
			return fmt.Errorf("%q is no point that work is held against: there are %s", id, strings.Join(Points(), ", "))
		}
		if w := weights[id]; !slices.Contains(Weights(), w) {
			return fmt.Errorf("the point %s has the weight %q: there are critical, major, minor, none", id, w)
		}
	}
	return nil
}
