package cost_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/cost"
	"shimwright/sim/act"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

var update = flag.Bool("update", false, "write testdata/default.yaml anew")

// The default as a file, for whoever wants to read it.
func TestDefaultFile(t *testing.T) {
	path := filepath.Join("testdata", "default.yaml")
	file := cost.Text(cost.Default(), text.Printer{})
	if *update {
		require.NoError(t, os.WriteFile(path, file, 0o644))
	}
	have, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(have), string(file), "run go test ./grading/cost -update and look at the difference")
}

// What is written out is read back as it was, and written the same again.
func TestRoundTrip(t *testing.T) {
	file := cost.Text(cost.Default(), text.Printer{})
	back, problems := cost.Read(file, "x")
	require.Empty(t, problems)
	assert.True(t, back.IsDefault())
	assert.Equal(t, cost.Default().Mark(), back.Mark())
	assert.Equal(t, string(file), string(cost.Text(back, text.Printer{})))

	// Every figure can be changed, and comes back changed.
	line := regexp.MustCompile(`(?m)^(  \w+: )([0-9.]+)( +#)`)
	figures := 0
	for _, at := range line.FindAllSubmatchIndex(file, -1) {
		figures++
		key, figure := string(file[at[2]:at[3]]), "0.8" // inside the limits of all but one
		if strings.Contains(key, "fade_min") {
			figure = "21"
		}
		other, problems := cost.Read([]byte(string(file[:at[4]])+figure+string(file[at[5]:])), "x")
		require.Empty(t, problems, key)
		assert.False(t, other.IsDefault(), key)
		assert.NotEqual(t, back.Mark(), other.Mark(), key)
		again, problems := cost.Read(cost.Text(other, text.Printer{}), "x")
		require.Empty(t, problems)
		assert.Equal(t, other, again)
	}
	assert.Equal(t, strings.Count(string(file), "\n  "), figures, "every line of a group was tried")
}

// The default prices work and parts as the bench counts them, on every design that comes
// with the program, and late faults as the catalogue does.
func TestDefaultIsTheBenchsAndTheCatalogues(t *testing.T) {
	costs := cost.Default()
	for _, f := range family.Shelf() {
		for _, u := range act.Usages() {
			for _, places := range []int{0, 1, 4, 8} {
				assert.Equal(t, float64(shop.TimeOf(f.Design, u.Form, places)), costs.TimeOf(f.Design, u.Form, places), "%s, %s", f.Code, u.Line)
			}
		}
	}
	for _, p := range append(shop.Parts(), "gold") {
		assert.Equal(t, float64(shop.PriceOf(p)), costs.PriceOf(p), p)
	}
	for _, f := range fault.All() {
		assert.Equal(t, float64(f.Late.Average), costs.LateMin(f.ID), f.ID)
	}
	assert.Zero(t, costs.LateMin("rust"))
}

// Each act that takes time has its line, so that none is free by being forgotten.
func TestEveryActHasItsLine(t *testing.T) {
	file := string(cost.Text(cost.Default(), text.Printer{}))
	for _, u := range act.Usages() {
		if u.Form == act.ExpectValue || u.Form == act.RecordValue || u.Form == act.SignOff {
			continue // part of the work around them
		}
		assert.Contains(t, file, "# "+text.Printer{}.Print(u.Help)+" ("+text.Printer{}.Print(shop.Basis(u.Form))+")\n", u.Line)
	}
	for f := range fault.Each() {
		assert.Regexp(t, fmt.Sprintf(`# %s \(estimate; %.0f %% of such axles assumed to come back\)\n`, regexp.QuoteMeta(text.Printer{}.Print(f.Name)), 100*f.Late.Back), file)
	}
	for _, l := range strings.Split(file, "\n") {
		if strings.HasPrefix(l, " ") {
			assert.Regexp(t, `^  \w+(_min|_risk): [0-9.]+ +# \w`, l)
		}
	}
}

// A mistake is named with its place and what would be right, and all at once.
func TestNamesMistakes(t *testing.T) {
	file := string(cost.Text(cost.Default(), text.Printer{}))
	replace := strings.NewReplacer("\n  comeback_min: 240", "\n  comeback_min: lots", "  inspect_cups_min: 2 ", "  inspect_cupz_min: 2 ",
		"loose_caps_risk: 0.9", "loose_caps_risk: 90", "torque_caps_min: 3", "torque_caps_min: 0")
	bad, problems := cost.Read([]byte(replace.Replace(file)), "mine.yaml")
	require.Len(t, problems, 4, "%v", problems)
	var all []string
	for _, p := range problems {
		all = append(all, text.Printer{}.Print(p.Tell()))
	}
	said := strings.Join(all, "\n")
	assert.Contains(t, said, `comeback_min holds the text "lots"`)
	assert.Contains(t, said, "needed: inspect_cups_min")
	assert.Contains(t, said, "between 0 and 1")
	assert.Contains(t, said, "between 0.25 and 600 minutes")
	assert.True(t, bad.IsDefault(), "no half-read table")

	line := 1 + strings.Count(file[:strings.Index(file, "loose_caps_risk")], "\n")
	assert.Condition(t, func() bool {
		for _, p := range problems {
			if p.Line == line && p.Column == len("  loose_caps_risk: ")+1 {
				return true
			}
		}
		return false
	})
	for _, other := range []string{"", "shimwright_family: 1\n", "shimwright_costs: 2\n"} {
		_, problems := cost.Read([]byte(other), "x")
		assert.ErrorIs(t, problems, cost.ErrNotCosts, other)
	}
	_, problems = cost.Read([]byte("shimwright_costs: 1\n"), "x")
	assert.NotErrorIs(t, problems, cost.ErrNotCosts, "an empty table is one, though all of it is missing")
	assert.NotEmpty(t, problems)
}

// Any bytes are a table or a list of mistakes, and what is a table can be written out.
func FuzzRead(f *testing.F) {
	f.Add(cost.Text(cost.Default(), text.Printer{}))
	f.Add([]byte("shimwright_costs: 1\nname: x\nscoring: {allowance_min: 3, fade_min: 20}"))
	f.Add([]byte("\xff"))
	f.Fuzz(func(t *testing.T, file []byte) {
		table, problems := cost.Read(file, "x")
		if len(problems) > 0 {
			assert.NotPanics(t, func() { _ = datasheet.Problems(problems).Error() })
			return
		}
		again, problems := cost.Read(cost.Text(table, text.Printer{}), "x")
		assert.Empty(t, problems)
		assert.Equal(t, table, again)
	})
}
