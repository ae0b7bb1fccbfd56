package view

import (
	"fmt"

	"shimwright/grading"
)

// CostsUsed says which costs a grade was made with, or nothing where they are the
// program's own.
func CostsUsed(c *grading.CostsUsed) string {
	if c == nil {
		return ""
	}
	return fmt.Sprintf("Graded with other costs than the program's own: %s (their mark is %s).", c.Name, c.Mark)
}
