// Package exit says which exit status an error ends the program with. Scripts go by these
// numbers; the command exit-status explains them.
package exit

import (
	"errors"

	"shimwright/grading/cost"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// The exit statuses.
const (
	Done     = 0
	Failed   = 1 // an act, an answer or a file's figures were wrong, or something outside failed
	Misused  = 2 // the command was not understood
	BadFile  = 3 // a file is foreign, damaged or cut short
	NoReplay = 4 // an attempt file is of another version or does not replay
)

type usage struct{ error }

func (e usage) Unwrap() error { return e.error }

// Usage marks an error as a mistake in how the command was called.
func Usage(err error) error { return usage{err} }

// Status returns the exit status of an error; nil is Done.
func Status(err error) int {
	var u usage
	switch {
	case err == nil:
		return Done
	case errors.As(err, &u):
		return Misused
	case isAny(err, attempt.ErrForeign, attempt.ErrDamaged, attempt.ErrCutShort, family.ErrNotFamily,
		exercise.ErrNotExercise, explore.ErrNotGears, explore.ErrNotParts, cost.ErrNotCosts, text.ErrOverlay):
		return BadFile
	case isAny(err, attempt.ErrOtherVersion, attempt.ErrNotReproducible):
		return NoReplay
	}
	return Failed
}

func isAny(err error, kinds ...error) bool {
	for _, k := range kinds {
		if errors.Is(err, k) {
			return true
		}
	}
	return false
}
