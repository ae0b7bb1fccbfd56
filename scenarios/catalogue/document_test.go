package catalogue_test

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/catalogue"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

var update = flag.Bool("update", false, "write testdata/faults.md anew")

const documentPath = "../../testdata/faults.md"

// document is the catalogue as a text for people.
func document() string {
	var b strings.Builder
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	write := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	cell := func(m text.Message) string { return strings.ReplaceAll(p.Print(m), "|", "/") }
	write("# What can be wrong with an axle on the bench\n")
	write("Written by `go test ./scenarios/catalogue -update` from the catalogue; do not edit.\n")
	write("Difficulty runs from 1, one odd reading that points at itself, to 5, nothing on the bench cures it. Causes, signs and")
	write("remedies are common practice unless a source is named. How often each comes up, and its size, are chosen for practice,")
	write("not for how often it is met on the road; the rates stand on every job card.\n")
	for _, kind := range catalogue.Kinds() {
		if kind == catalogue.FaultState {
			write("## Faults an axle can come with\n")
			write("Rate is out of 100 jobs that can bring the fault. Late is what it costs on average when it is found late, in minutes of")
			write("shop work, and the share of such axles assumed to come back from the customer.\n")
			write("| Id | Name | Area | Rate | Size | Easily mistaken for | Told apart by | Test | Cure | Late | Diff. | Source |")
			write("|---|---|---|---|---|---|---|---|---|---|---|---|")
		} else {
			write("\n## Mistakes of the previous technician, on a previous-work axle\n")
			write("Rate is out of 100 previous-work axles on which the mistake can be made, over the families.\n")
			write("| Id | Name | Stage | Rate | Easily mistaken for | Told apart by | Leaves behind | Remedy | Diff. | Source |")
			write("|---|---|---|---|---|---|---|---|---|---|")
		}
		for _, e := range catalogue.All() {
			if e.Kind != kind {
				continue
			}
			source := p.Print(e.Strength.Name())
			if !e.Source.IsZero() {
				source += ": " + p.Print(e.Source)
			}
			often := fmt.Sprintf("%.0f", 100*e.Often)
			if len(e.On) > 0 {
				often += " (" + printed(p, e.On) + ")"
			}
			alikes := strings.Join(e.LookAlikes, ", ")
			if kind == catalogue.FaultState {
				write("| %s | %s | %s | %s | %s | %s | %s | `%s` | `%s` | %.0f, %.0f %% | %d | %s |", e.ID, cell(e.Name), cell(e.AreaName), often, cell(e.Size.Range()),
					alikes, cell(e.Told), form(e.Test), form(e.Cure), e.Late.Average, 100*e.Late.Back, e.Difficulty, source)
				continue
			}
			write("| %s | %s | %s | %s | %s | %s | %s | %s | %d | %s |", e.ID, cell(e.Name), cell(e.AreaName), often,
				alikes, cell(e.Told), cell(e.Shows), cell(e.Remedy), e.Difficulty, source)
		}
	}
	write("\n## Look-alikes\n")
	write("Each pair is acted out in a test: the first reading agrees, the second decides.\n")
	write("| One | The other | What agrees | What decides |")
	write("|---|---|---|---|")
	for _, l := range catalogue.Pairs() {
		write("| %s | %s | %s | %s |", l.A, l.B, cell(l.Agree), cell(l.Apart))
	}
	write("\n## What goes wrong in the trade, and what the bench has of it\n")
	counts := map[catalogue.How]int{}
	for _, t := range catalogue.Scope() {
		counts[t.How]++
	}
	write("Out of %d things that go wrong:\n", len(catalogue.Scope()))
	for _, h := range catalogue.Hows() {
		write("- %s: %d", cell(h.Name()), counts[h])
	}
	write("\nWhat is no entry above:\n")
	write("| What goes wrong | On the bench | Where, or why not |")
	write("|---|---|---|")
	for _, t := range catalogue.Scope() {
		at := cell(t.At)
		switch t.How {
		case catalogue.AsFault, catalogue.AsMistake:
			continue
		case catalogue.AsAct:
			at = "`" + at + "`"
		}
		write("| %s | %s | %s |", cell(t.Name), cell(t.How.Name()), at)
	}
	return b.String()
}

// form writes an act for a cell of a table.
func form(a act.Form) string { return strings.ReplaceAll(a.String(), "|", "/") }

func printed(p text.Printer, ms []text.Message) string {
	var out []string
	for _, m := range ms {
		out = append(out, p.Print(m))
	}
	return strings.Join(out, "; ")
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
		assert.NotEmpty(t, e.Area, e.ID)
		assert.NotEmpty(t, e.Lesson, e.ID)
		for what, m := range map[string]text.Message{"name": e.Name, "area": e.AreaName, "shows": e.Shows, "told": e.Told, "remedy": e.Remedy, "missed": e.Missed} {
			assert.NotEmpty(t, text.Printer{}.Print(m), "%s: %s", e.ID, what)
		}
		assert.GreaterOrEqual(t, e.Difficulty, 1, e.ID)
		assert.LessOrEqual(t, e.Difficulty, 5, e.ID)
		assert.Contains(t, []fault.Strength{fault.Manual, fault.Standard, fault.Practice, fault.Memory}, e.Strength, e.ID)
		assert.Equal(t, e.Strength == fault.Manual || e.Strength == fault.Standard, !e.Source.IsZero(), "%s: a source and no strength, or the reverse", e.ID)
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
	assert.Contains(t, text.Printer{}.Error(err), "caps-swapped")
	_, err = catalogue.Find("gremlins")
	assert.Contains(t, text.Printer{}.Error(err), "not in the catalogue")
}

// The scope holds every entry once, and every act in it is one.
func TestScope(t *testing.T) {
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	names, entries := map[string]bool{}, 0
	for _, s := range catalogue.Scope() {
		name := p.Print(s.Name)
		assert.False(t, names[name], "%s stands twice", name)
		names[name] = true
		assert.NotEmpty(t, p.Print(s.At), name)
		switch s.How {
		case catalogue.AsFault, catalogue.AsMistake:
			entries++
			_, err := catalogue.Find(p.Print(s.At))
			require.NoError(t, err, name)
		case catalogue.AsAct:
			words := strings.Fields(p.Print(s.At))
			assert.True(t, slices.ContainsFunc(act.Usages(), func(u act.Usage) bool { return strings.HasPrefix(u.Line, strings.Join(words[:2], " ")) }), name)
		}
	}
	assert.Equal(t, len(catalogue.All()), entries)
}
