package view

import (
	"strconv"
	"strings"
	"unicode"
)

// Visible writes characters that a screen or a page would act on and not show as what they are:
// those that control a terminal, turn the direction of writing, or are no characters at all. A
// name comes from anybody.
func Visible(s string) string {
	acts := func(r rune) bool { return !unicode.IsGraphic(r) || r == unicode.ReplacementChar }
	if !strings.ContainsFunc(s, acts) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if acts(r) {
			quoted := strconv.QuoteRuneToASCII(r)
			b.WriteString(quoted[1 : len(quoted)-1])
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
