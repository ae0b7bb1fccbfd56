package view

import (
	"fmt"

	"shimwright/grading"
)

// CostsUsed says which costs a grade was made with, or nothing where they are the
// program's own.
func CostsUsed(r grading.Report) string {
	if r.Costs == nil {
		return ""
	}
	return fmt.Sprintf("Graded with other costs than the program's own: %s (their mark is %s).", r.Costs.Name, r.Costs.Mark)
}
