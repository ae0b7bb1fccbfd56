package exercise

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/fault"
)

// quoted writes a text so that any YAML reader takes it for that text. It holds no
// control characters.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

func list[T any](values []T, word func(T) string) string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = word(v)
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// Encode writes the exercise as a file. Parse reads the same exercise back.
func (e Exercise) Encode() []byte {
	var b strings.Builder
	key := func(name, format string, args ...any) { fmt.Fprintf(&b, name+": "+format+"\n", args...) }
	plain := func(s string) string { return s }
	key("shimwright_exercise", "%d", formatVersion)
	key("title", "%s", quoted(e.Title))
	key("about", "%s", quoted(e.About))
	key("families", "%s", list(e.Families, func(c Chosen) string { return quoted(c.Name) }))
	kinds := make([]string, len(e.Kinds))
	for i, k := range e.Kinds {
		kinds[i] = k.String()
	}
	key("kinds", "%s", list(kinds, plain))
	id := func(f fault.ID) string { return string(f) }
	switch {
	case len(e.Faults.OneOf) > 0:
		key("faults", oneOf)
		key("fault_list", "%s", list(e.Faults.OneOf, id))
	case len(e.Faults.Only) > 0:
		key("faults", onlyThese)
		key("fault_list", "%s", list(e.Faults.Only, id))
	case e.Faults.None:
		key("faults", noFaults)
	default:
		key("faults", allFaults)
	}
	key("units", "%s", e.Units)
	if len(e.Off) > 0 {
		off := make([]string, len(e.Off))
		for i, l := range e.Off {
			off[i] = l.String()
		}
		key("left_off", "%s", list(off, plain))
	}
	if e.Budget.Minutes > 0 {
		key("minutes", "%v", float64(e.Budget.Minutes))
	}
	if e.Budget.Parts > 0 {
		key("parts_minutes", "%v", float64(e.Budget.Parts))
	}
	if len(e.Weights) > 0 {
		b.WriteString("weights:\n")
		for _, id := range scenarios.Points() {
			if w, ok := e.Weights[id]; ok {
				key("  "+id, "%s", w)
			}
		}
	}
	if e.Band != "" {
		key("difficulty", "%s", e.Band)
	}
	key("help", "%s", e.Help)
	key("mode", "%s", e.Mode)
	if e.Open != attempt.AsItStands {
		key("open_job", "%s", e.Open)
	}
	if len(e.Tasks) > 0 {
		key("tasks", "%s", list(e.Tasks, plain))
	}
	if e.Note != "" {
		key("note", "%s", quoted(e.Note))
	}
	if len(e.Seeds) > 0 {
		key("jobs", "%s", list(e.Seeds, func(n uint64) string { return fmt.Sprint(n) }))
	} else {
		key("first_job", "%d", e.First)
		if e.Count > 0 {
			key("job_count", "%d", e.Count)
		}
	}
	return []byte(b.String())
}
