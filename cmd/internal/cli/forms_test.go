package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/longtest"
)

// A person is told how far the long work has come; a script hears nothing but the result.
func TestFormsTellAPersonHowFarTheyAre(t *testing.T) {
	for _, person := range []bool{true, false} {
		var out, errs bytes.Buffer
		s := term.Streams{In: &bytes.Buffer{}, Out: &out, Err: &errs, Person: person, Width: 80}
		code := Main(s, []string{"forms", "--kind", "depth", "--forms", "2", "--jobs", "2", "--out", filepath.Join(t.TempDir(), "new", "folder")})
		assert.Equal(t, exit.Done, code, errs.String())
		if person {
			assert.Regexp(t, `(?m)^100 %: \d+ jobs measured of about \d+$`, errs.String())
		} else {
			assert.Empty(t, errs.String())
		}
		assert.Contains(t, out.String(), "2 forms of 2 jobs each")
	}
}

// Every job on the pages of forms can be started by what stands there, is the one that was
// measured, and can be graded; with whatever faults, and on a family of one's own.
func TestWhatFormsPrintStartsTheJob(t *testing.T) {
	hazel, err := os.ReadFile(filepath.Join("..", "..", "..", "sim", "family", "data", "hazel.yaml"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("my oak.yaml", bytes.Replace(hazel, []byte("code: HAZEL"), []byte("code: OAK"), 1), 0o600))
	run := func(args ...string) string {
		var out, errs bytes.Buffer
		code := Main(term.Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Width: 80}, args)
		require.Equal(t, exit.Done, code, "%s: %s", args, errs.String())
		return out.String()
	}
	for i, asked := range [][]string{
		{"forms", "--kind", longtest.Pick("pattern", "all"), "--jobs", longtest.Pick("1", "6"), "--forms", "1"},
		{"forms", "--kind", longtest.Pick("sides", "sides,previous-work"), "--jobs", longtest.Pick("1", "2"), "--forms", "1", "--faults", "seal-tight,ring-gear-cone-high"},
		{"forms", "--family", longtest.Pick("my oak.yaml", "my oak.yaml,juniper"), "--kind", "preload", "--jobs", longtest.Pick("1", "2"), "--forms", "1", "--faults", "none"},
		{"exercise", "forms", "previous-technicians", "--jobs", longtest.Pick("1", "3"), "--forms", "1"},
	} {
		if i == 1 && !longtest.On() {
			continue // jobs that have to carry a fault take the longest to find
		}
		folder := fmt.Sprint("class", i)
		run(append(asked, "--out", folder)...)
		pages, err := os.ReadFile(filepath.Join(folder, "pages.txt"))
		require.NoError(t, err)
		table, err := os.ReadFile(filepath.Join(folder, "forms.csv"))
		require.NoError(t, err)
		rows := strings.Split(strings.TrimSpace(string(table)), "\n")[1:]
		typed := regexp.MustCompile(`(?m)^ +\d+  _____   shimwright (.*)$`).FindAllStringSubmatch(string(pages), -1)
		require.Len(t, typed, len(rows))
		for k, m := range typed {
			words := strings.Fields(strings.ReplaceAll(m[1], "'my oak.yaml'", "my+oak.yaml"))
			for i := range words {
				words[i] = strings.ReplaceAll(words[i], "+", " ")
			}
			record := fmt.Sprintf("%s-%d.jsonl", folder, k)
			run(append(words, "--record", record)...)
			f, err := os.Open(record)
			require.NoError(t, err)
			rec, err := attempt.Read(f)
			f.Close()
			require.NoError(t, err)
			cells := strings.Split(rows[k], ",")
			assert.Equal(t, cells[2:5], []string{rec.Header.Family.Code, rec.Header.Kind.String(), fmt.Sprint(rec.Header.Seed)})
			assert.Equal(t, i == 0, reflect.DeepEqual(scenarios.FaultRule{}, rec.Header.Faults))
			assert.Equal(t, i == 3, rec.Header.Exercise == "previous-technicians")
			assert.Contains(t, run("grade", record), "not signed off")
		}
	}
}
