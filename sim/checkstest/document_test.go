package checkstest

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tables lists the tables in the order of the document, with a line on each.
var tables = [][2]string{
	{"trade-practice", "Shims, marks, backlash, preload and torque at the bench."},
	{"measurement", "Torque adapters, indicators, measurement uncertainty."},
	{"gear-mesh", "Teeth, contact and backlash. Set A is a hypoid, set B a spiral bevel, E0 one cut with a small cutter; all are invented."},
	{"gear-handbook", "Blanks out of a handbook, and what must hold of any set."},
	{"mechanics", "Bearings, threads, spacers, housing. D rows belong to one complete default axle."},
	{"service", "A finished axle in use: loads, bearings, warmth, clamp."},
	{"statistics", "The statistics by which the grader is judged, and the average its prices are taken with."},
	{"prediction", "How near a foretold reading came: the score of an interval."},
	{"solver", "Roots and coverage factors, against another library."},
	{"minutes", "Minutes of whole pieces of work, against labor guides and maintenance charts. The charts say that their hours include preparation, finding the fault and quality control."},
	{"lessons", "Figures that a lesson quotes. The tests of package lessons look for each in its text."},
}

// An entry is a row with what has been found about it.
type entry struct {
	Row
	gives    float64
	answered bool
	remark   Remark
	remarked bool
}

// verdict says in words how the row stands; open is set when nothing answers it.
func (e entry) verdict(table string) (words string, open bool) {
	switch {
	case e.answered && e.Agrees(e.gives):
		return "agrees", false
	case e.answered && e.remarked && e.remark.Differs:
		return "differs: " + e.remark.Why, false
	case !e.answered && e.remarked && !e.remark.Differs:
		return "not answered: " + e.remark.Why, false
	case !e.answered && table == "lessons":
		return "quoted", false
	}
	return "", true
}

// figure writes what the model gives to one digit more than the tolerance can tell.
func (e entry) figure() string {
	if !e.answered {
		return ""
	}
	digits := 5
	if e.Tolerance > 0 && e.gives != 0 {
		digits = int(math.Ceil(math.Log10(math.Abs(e.gives)))) - int(math.Floor(math.Log10(e.Tolerance))) + 1
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(e.gives, 'g', max(1, min(10, digits)), 64), 64)
	return strconv.FormatFloat(rounded, 'g', -1, 64)
}

// given reads every ledger.
func given(t testing.TB) map[string]float64 {
	t.Helper()
	files, err := filepath.Glob(folder(t, "given", "*.csv"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string]float64{}
	for _, f := range files {
		for id, v := range readGiven(t, strings.TrimSuffix(filepath.Base(f), ".csv")) {
			_, twice := out[id]
			require.False(t, twice, "%s is in two ledgers", id)
			out[id] = v
		}
	}
	return out
}

// entries reads a table with all that is known of its rows.
func entries(t testing.TB, table string, figures map[string]float64, remarks []Remark) []entry {
	t.Helper()
	var out []entry
	for _, r := range Read(t, table) {
		e := entry{Row: r}
		e.gives, e.answered = figures[r.ID]
		e.remark, e.remarked = find(remarks, r.ID)
		// A remark on a group of rows is for those of them that need one.
		if e.remarked && strings.HasSuffix(e.remark.ID, "*") && e.answered && e.Agrees(e.gives) {
			e.remarked = false
		}
		out = append(out, e)
	}
	return out
}

// document writes CHECKS.md.
func document(t testing.TB) string {
	t.Helper()
	figures, remarks := given(t), Remarks(t)
	var body strings.Builder
	counts := map[string]map[string]int{}
	cell := strings.NewReplacer("|", `\|`, "\n", " ").Replace
	for _, table := range tables {
		fmt.Fprintf(&body, "\n## %s\n\n%s\n\n", table[0], table[1])
		body.WriteString("| id | what, and from what | unit | expected | within | model gives | verdict | source | strength |\n")
		body.WriteString("| --- | --- | --- | ---: | ---: | ---: | --- | --- | --- |\n")
		for _, e := range entries(t, table[0], figures, remarks) {
			words, _ := e.verdict(table[0])
			kind, _, _ := strings.Cut(words, ":")
			if counts[e.Strength] == nil {
				counts[e.Strength] = map[string]int{}
			}
			counts[e.Strength][kind]++
			within := ""
			if e.Tolerance > 0 {
				within = strconv.FormatFloat(e.Tolerance, 'g', 3, 64)
			}
			fmt.Fprintf(&body, "| %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", e.ID, cell(e.Input), e.Unit,
				strconv.FormatFloat(e.Expected, 'g', 9, 64), within, e.figure(), cell(words), cell(e.Source), e.Strength)
		}
	}
	var head strings.Builder
	head.WriteString(documentHead)
	head.WriteString("\n| strength | agree | differ | not answered | quoted |\n| --- | ---: | ---: | ---: | ---: |\n")
	for _, s := range Strengths() {
		c := counts[s]
		fmt.Fprintf(&head, "| %s | %d | %d | %d | %d |\n", s, c["agrees"], c["differs"], c["not answered"], c["quoted"])
	}
	return head.String() + body.String()
}

const documentHead = `# Every outside figure, and what the model gives

Written by the tests of ` + "`sim/checkstest`" + ` from the tables of this folder; change those and
run ` + "`go test ./sim/checkstest -update`" + `, not this file. What the model gives is worked out by
the tests of the packages themselves and kept in ` + "`given`" + `. Columns and strengths are
explained in ` + "`README.md`" + `.

A row *agrees* when the model is within the figure's tolerance; a direction, when the sign
is the same; a least or a most that is only quoted, when the model or the sheets keep to
its side. Where the model *differs*, the physics or the invented sheet was kept, and the
reason stands in the row. A row that is *not answered* asks for something the model does
not hold.

No figure here is for use on a real axle. That takes its maker's manual.
`

// readDocument returns the document as it stands, or nothing when there is none.
func readDocument(t testing.TB) string {
	t.Helper()
	b, err := os.ReadFile(folder(t, "CHECKS.md"))
	if os.IsNotExist(err) {
		return ""
	}
	require.NoError(t, err)
	return string(b)
}
