package view

import (
	"shimwright/grading"
	"shimwright/sim/text"
)

// HowScored says how a score comes about and how sure it is, a sentence each, by the figures
// that grades are reckoned with.
func HowScored(p text.Printer) []string {
	var out []string
	for _, m := range append(grading.TheFormula().Messages(), grading.TheSurety().Messages()...) {
		out = append(out, sentence(p.Print(m)))
	}
	return out
}
