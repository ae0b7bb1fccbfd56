package view

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/grading"
	"shimwright/grading/debrief"
	"shimwright/grading/misconception"
	"shimwright/sim/text"
)

// An idea that is sure is told with its acts, one that is not is asked about, and the width
// is kept either way.
func TestMisconceptionsAreToldOrAsked(t *testing.T) {
	one := misconception.Candidate{ID: "plunger-at-toe", Believes: text.Verbatim("backlash is the same anywhere on the tooth"), Makes: text.Verbatim("backlash is read at the toe"),
		Right: text.Verbatim("Read at the heel."), Lesson: "backlash-reading", Probability: 0.9, Acts: []int{31, 38}}
	two := one
	two.Believes, two.Acts = text.Verbatim("one reading is enough"), []int{40}
	for _, width := range []int{40, 80} {
		sure := debriefText(t, debrief.Debriefing{Report: grading.Report{Weakest: -1, Misconception: misconception.Finding{Sure: true, Misconceptions: []misconception.Candidate{one}}}}, Pen{Width: width})
		flat := strings.Join(strings.Fields(sure), " ")
		assert.Contains(t, flat, "A common misconception would explain acts 31 and 38: that backlash is the same anywhere on the tooth")
		assert.NotContains(t, flat, "Did you think")
		open := debriefText(t, debrief.Debriefing{Report: grading.Report{Weakest: -1, Misconception: misconception.Finding{Misconceptions: []misconception.Candidate{one, two}}}}, Pen{Width: width})
		assert.Equal(t, 2, strings.Count(strings.Join(strings.Fields(open), " "), "Did you think that"))
		for _, line := range strings.Split(sure+open, "\n") {
			assert.LessOrEqual(t, len(line), width)
		}
	}
	none := debriefText(t, debrief.Debriefing{Report: grading.Report{Weakest: -1}}, Pen{Width: 80})
	assert.NotContains(t, none, "may have thought")
	assert.Equal(t, "acts 1, 2 and 3", text.Printer{}.Print(actsWords([]int{1, 2, 3})))
	assert.Equal(t, "act 7", text.Printer{}.Print(actsWords([]int{7})))
}
