package cli

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/cmd/internal/view"
)

// With the line that asks for a name below it and the one that is typed next, the list
// fits a screen of 24 lines and 80 columns.
func TestLessonListFitsASmallScreen(t *testing.T) {
	const screen, below = 24, 2
	list := lessonList(view.Pen{Width: 80})
	assert.LessOrEqual(t, strings.Count(list, "\n"), screen-below)
}

// A family that comes with the program is named by its code, another by its file.
func TestExerciseCommand(t *testing.T) {
	p := view.Pen{Program: "./shimwright"}
	assert.Equal(t, "./shimwright practice --family CEDAR --seed 12", exercise{"CEDAR", 12}.command(p))
	assert.Equal(t, "./shimwright practice --family FILE --seed 12", exercise{"MINE", 12}.command(p))
}
