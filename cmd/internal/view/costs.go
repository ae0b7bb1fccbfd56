package view

import (
	"shimwright/grading"

	"shimwright/sim/text"
)

// CostsUsed says which costs a grade was made with, or nothing where they are the
// program's own.
func CostsUsed(c *grading.CostsUsed) text.Message {
	if c == nil {
		return text.Message{}
	}
	return text.Say("view.costs.graded-other-costs-than", "Graded with other costs than the program's own: {name} (their mark is {mark}).", text.Typed("name", c.Name), text.Typed("mark", c.Mark))
}
