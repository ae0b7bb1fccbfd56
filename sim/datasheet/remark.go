package datasheet

import "strings"

// Remark returns a text for people as comment lines of a file, 80 columns wide.
func Remark(s string) string { return remark(strings.Fields(s)) }

// RemarkList is Remark for a list of words, each of which stays on one line.
func RemarkList(words []string) string {
	parts := make([]string, len(words))
	for i, w := range words {
		if parts[i] = w; i < len(words)-1 {
			parts[i] += ","
		}
	}
	return remark(parts)
}

func remark(parts []string) string {
	const width = 80
	var b strings.Builder
	line := "#"
	for _, p := range parts {
		if line != "#" && len([]rune(line))+1+len([]rune(p)) > width {
			b.WriteString(line + "\n")
			line = "#"
		}
		line += " " + p
	}
	return b.String() + line + "\n"
}
