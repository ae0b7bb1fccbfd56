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
	list := view.LessonNames(view.Pen{Width: 80})
	assert.LessOrEqual(t, strings.Count(list, "\n"), screen-below)
}
