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

// A try-again job on the family in hand is asked for as that was, from its file too; one
// on another family by its code.
func TestTryAgainNamesTheFamily(t *testing.T) {
	mine := axle{name: "my axles/mine.yaml"}
	mine.Code = "MINE"
	assert.Equal(t, `practice --family 'my axles/mine.yaml' --seed 12`, mine.like("MINE").practice(12))
	assert.Equal(t, "practice --family CEDAR --seed 12", mine.like("CEDAR").practice(12))
}
