package layout

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the map in DEVELOPERS.md and the list of all texts anew")

// houseMap is the map of the house: a line for every row of the order.
func houseMap() string {
	const width, indent = 100, 24
	var b strings.Builder
	for _, r := range order() {
		if r.pkg == "" {
			b.WriteString("\n")
			continue
		}
		what := r.what
		if forTests(r.pkg) {
			what += "; for tests"
		}
		line := r.pkg + strings.Repeat(" ", max(1, indent-len(r.pkg)))
		empty := true
		for _, w := range strings.Fields(what) {
			switch {
			case empty:
				line, empty = line+w, false
			case len(line)+1+len(w) > width:
				b.WriteString(line + "\n")
				line = strings.Repeat(" ", indent) + w
			default:
				line += " " + w
			}
		}
		b.WriteString(line + "\n")
	}
	b.WriteString("\ntestdata/checks         outside figures with their sources\n" +
		"testdata/reports        what the panel of simulated trainees and 10,000 jobs showed\n")
	return b.String()
}

// DEVELOPERS.md shows the order as a map; -update writes it anew.
func TestTheMapIsTheOrder(t *testing.T) {
	const fence = "```\n"
	name := filepath.Join(root(t), "DEVELOPERS.md")
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	head, rest, ok := strings.Cut(string(text), fence)
	require.True(t, ok)
	kept, tail, ok := strings.Cut(rest, fence)
	require.True(t, ok)
	if *update {
		require.NoError(t, os.WriteFile(name, []byte(head+fence+houseMap()+fence+tail), 0o644))
		return
	}
	assert.Equal(t, houseMap(), kept, "go test ./cmd/internal/layout -update writes it anew")
}
