package exit_test

import (
	"fmt"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/cmd/internal/exit"
	"shimwright/grading/cost"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim/explore"
	"shimwright/sim/family"
)

func TestStatuses(t *testing.T) {
	wrap := func(err error) error { return fmt.Errorf("job.jsonl: %w", err) }
	assert.Equal(t, 0, exit.Status(nil))
	for status, errs := range map[int][]error{
		1: {io.ErrUnexpectedEOF},
		2: {exit.Usage(io.EOF), exit.Usage(attempt.ErrForeign)},
		3: {attempt.ErrForeign, attempt.ErrDamaged, attempt.ErrCutShort, family.ErrNotFamily, exercise.ErrNotExercise, explore.ErrNotGears, explore.ErrNotParts, cost.ErrNotCosts},
		4: {attempt.ErrOtherVersion, attempt.ErrNotReproducible},
	} {
		for _, err := range errs {
			assert.Equal(t, status, exit.Status(err), err)
			assert.Equal(t, status, exit.Status(wrap(err)), err)
		}
	}
	assert.ErrorIs(t, exit.Usage(io.EOF), io.EOF)
	assert.EqualError(t, exit.Usage(io.EOF), "EOF")
}
