package lessons

import (
	"slices"
	"strings"

	"shimwright/lessons/figure"
)

// A Found is a lesson in which words were found, with a line of its text that has them.
type Found struct {
	Lesson Lesson
	Line   string
}

// Search finds the lessons that hold every word, those with more of them in title, subject
// or misconceptions first, the title before the others, else in the order of the course. Words count as the beginnings
// of words, whatever their case; a hyphen counts as a blank.
func Search(words string) []Found {
	asked := strings.Fields(flat(words))
	if len(asked) == 0 {
		return nil
	}
	var out []Found
	heads := map[string]int{}
	for _, l := range loaded() {
		head := flat(strings.Join(append([]string{l.ID, l.Title, l.About, l.Idea}, l.Misconceptions...), " "))
		body := figure.Prose(l.Body)
		if in(head+" "+flat(body), asked) < len(asked) {
			continue
		}
		best, most := l.About, 0
		for line := range strings.SplitSeq(body, "\n") {
			if n := in(flat(line), asked); n > most && !strings.HasPrefix(line, "#") {
				best, most = line, n
			}
		}
		heads[l.ID] = in(head, asked) + in(flat(l.ID+" "+l.Title), asked)
		out = append(out, Found{l, best})
	}
	slices.SortStableFunc(out, func(a, b Found) int { return heads[b.Lesson.ID] - heads[a.Lesson.ID] })
	return out
}

// flat brings a text to words in small letters with one blank before each.
func flat(text string) string {
	return " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '.' || r > 127)
	}), " ")
}

// in counts the words that a flat text holds.
func in(text string, words []string) int {
	n := 0
	for _, w := range words {
		if strings.Contains(text, " "+w) {
			n++
		}
	}
	return n
}
