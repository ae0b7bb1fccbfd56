package history

import (
	"shimwright/sim/act"
	"shimwright/sim/text"
)

// A Bar is why an act cannot be done.
type Bar int

// The bars.
const (
	NoBar          Bar = iota
	Closed             // the job is signed off
	NotOnThisAxle      // the design has nothing to do it on
	NotAtThisBench     // its tool was left off
	NotNow             // something has to be done first
	NotThatAmount      // the amount is out of reach, or of no size on the shelf
)

// A Refusal is the error of an act that cannot be done now. Nothing has changed and nothing
// is charged.
type Refusal struct {
	Act act.Act
	Bar Bar
	Why text.Message // what stands in the way, and what to do first
}

// Error names the reason by its code.
func (r *Refusal) Error() string { return r.Why.Code() }

// Tell says why the act cannot be done.
func (r *Refusal) Tell() text.Message { return r.Why }
