package catalogue_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/catalogue"
	"shimwright/scenarios/fault"
)

var update = flag.Bool("update", false, "write testdata/faults.md anew")

const documentPath = "../../testdata/faults.md"

// document is the catalogue as a text for people.
func document() string {
	var b strings.Builder
	write := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	cell := func(s string) string { return strings.ReplaceAll(s, "|", "/") }
	write("# What can be wrong with an axle on the bench\n")
	write("Written by `go test ./scenarios/catalogue -update` from the catalogue; do not edit.\n")
	write("Difficulty runs from 1, one odd reading that points at itself, to 5, nothing on the bench")
	write("cures it. Causes, signs and remedies are common practice unless a source is named; how often")
	write("each turns up, and its size, are invented for practice and stand on every job card.\n")
	for _, kind := range []catalogue.Kind{catalogue.FaultState, catalogue.Mistake} {
		if kind == catalogue.FaultState {
			write("## Fault states an axle can come with\n")
			write("How often is out of a hundred jobs that can bring it.\n")
			write("| Id | Name | Area | Often | Easily taken for | Told apart by | Test | Cure | Diff. | Source |")
			write("|---|---|---|---|---|---|---|---|---|---|")
		} else {
			write("\n## Slips of another hand, on a previous-work axle\n")
			write("How often is out of a hundred previous-work axles on which it can be made, over the families.\n")
			write("| Id | Name | Stage | Often | Easily taken for | Told apart by | Leaves behind | Remedy | Diff. | Source |")
			write("|---|---|---|---|---|---|---|---|---|---|")
		}
		for _, e := range catalogue.All() {
			if e.Kind != kind {
				continue
			}
			third, fourth := e.Shows, e.Remedy
			if kind == catalogue.FaultState {
				third, fourth = "`"+e.Test.String()+"`", "`"+e.Cure.String()+"`"
			}
			source := string(e.Strength)
			if e.Source != "" {
				source += ": " + e.Source
			}
			often := fmt.Sprintf("%.0f", 100*e.Often)
			if e.On != "" {
				often += " (" + e.On + ")"
			}
			write("| %s | %s | %s | %s | %s | %s | %s | %s | %d | %s |", e.ID, cell(e.Name), e.Area, often,
				strings.Join(e.LookAlikes, ", "), cell(e.Told), cell(third), cell(fourth), e.Difficulty, cell(source))
		}
	}
	write("\n## Look-alikes\n")
	write("Each pair is acted out in a test: the first reading agrees, the second decides.\n")
	write("| One | The other | What agrees | What decides |")
	write("|---|---|---|---|")
	for _, p := range catalogue.Pairs() {
		write("| %s | %s | %s | %s |", p.A, p.B, p.Agree, p.Apart)
	}
	write("\n## What goes wrong in the trade, and what the bench has of it\n")
	counts := map[catalogue.How]int{}
	for _, t := range catalogue.Scope() {
		counts[t.How]++
	}
	write("Out of %d things that go wrong:\n", len(catalogue.Scope()))
	for _, h := range catalogue.Hows() {
		write("- %s: %d", h, counts[h])
	}
	write("\n| What goes wrong | On the bench | Where, or why not |")
	write("|---|---|---|")
	for _, t := range catalogue.Scope() {
		at := t.At
		if t.How == catalogue.AsAct {
			at = "`" + at + "`"
		}
		write("| %s | %s | %s |", t.Name, t.How, at)
	}
	return b.String()
}

// The committed table is the catalogue's.
func TestTheTableIsCurrent(t *testing.T) {
	if *update {
		require.NoError(t, os.WriteFile(documentPath, []byte(document()), 0o644))
	}
	have, err := os.ReadFile(documentPath)
	require.NoError(t, err)
	assert.Equal(t, document(), string(have), "run go test ./scenarios/catalogue -update and look at the difference")
}

func TestEveryEntryIsComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range catalogue.All() {
		assert.False(t, seen[e.ID], "%s stands twice", e.ID)
		seen[e.ID] = true
		for what, text := range map[string]string{"name": e.Name, "area": e.Area, "shows": e.Shows, "told": e.Told, "remedy": e.Remedy, "missed": e.Missed, "lesson": e.Lesson} {
			assert.NotEmpty(t, text, "%s: %s", e.ID, what)
		}
		assert.GreaterOrEqual(t, e.Difficulty, 1, e.ID)
		assert.LessOrEqual(t, e.Difficulty, 5, e.ID)
		assert.Contains(t, []fault.Strength{fault.Manual, fault.Standard, fault.Practice, fault.Memory}, e.Strength, e.ID)
		assert.Equal(t, e.Strength == fault.Manual || e.Strength == fault.Standard, e.Source != "", "%s: a source and no strength, or the reverse", e.ID)
		assert.Greater(t, e.Often, 0.0, e.ID)
		assert.Less(t, e.Often, 0.2, e.ID)
		if e.Kind == catalogue.FaultState {
			assert.NotEmpty(t, e.LookAlikes, e.ID)
		}
		for _, id := range e.LookAlikes {
			other, err := catalogue.Find(id)
			require.NoError(t, err)
			assert.Contains(t, other.LookAlikes, e.ID, "both ways")
			assert.NotEqual(t, e.ID, id)
		}
	}
}

func TestFindNamesWhatIsNear(t *testing.T) {
	_, err := catalogue.Find("caps-changed")
	assert.ErrorContains(t, err, "caps-swapped")
	_, err = catalogue.Find("gremlins")
	assert.ErrorContains(t, err, "not in the catalogue")
}

// What the scope calls a fault state or a slip is one, and every slip but the one that
// stands for many has its place in it.
func TestScopeNamesEntries(t *testing.T) {
	names := map[string]bool{}
	for _, s := range catalogue.Scope() {
		assert.False(t, names[s.Name], "%s stands twice", s.Name)
		names[s.Name] = true
		assert.NotEmpty(t, s.At, s.Name)
		kind := map[catalogue.How]catalogue.Kind{catalogue.AsFault: catalogue.FaultState, catalogue.AsMistake: catalogue.Mistake}[s.How]
		if kind == "" {
			continue
		}
		e, err := catalogue.Find(s.At)
		require.NoError(t, err, s.Name)
		assert.Equal(t, kind, e.Kind, s.Name)
	}
}
