package grading_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

func asJSON(t *testing.T, rep grading.Report) string {
	t.Helper()
	out, err := json.Marshal(rep)
	require.NoError(t, err)
	return string(out)
}

// Graded twice, an attempt has the same grade to the last byte, and grading changes
// nothing of what it is given.
func TestGradeIsPure(t *testing.T) {
	for _, name := range []string{"competent", "never measures"} {
		for _, one := range played(t, name)[:8] {
			before, err := json.Marshal(one.bench.outs)
			require.NoError(t, err)
			first := asJSON(t, grade(t, one.job, one.bench.outs))
			again := asJSON(t, grade(t, one.job, one.bench.outs))
			assert.Equal(t, first, again)
			assert.Equal(t, asJSON(t, one.rep), first)
			after, err := json.Marshal(one.bench.outs)
			require.NoError(t, err)
			assert.Equal(t, string(before), string(after))
		}
	}
}

// The units change nothing of a report: it holds no words.
func TestUnitsChangeNothing(t *testing.T) {
	for _, name := range []string{"competent", "signs turned", "never measures"} {
		for _, one := range played(t, name)[:longtest.Pick(2, 6)] {
			in, err := grading.Grade(one.job.Card, one.bench.outs, quantity.Inch)
			require.NoError(t, err)
			mm, err := grading.Grade(one.job.Card, one.bench.outs, quantity.Metric)
			require.NoError(t, err)
			assert.Equal(t, in, mm)
		}
	}
}

// Two axles that differ only in what nobody has read yet get the same grade for the
// same acts. One of them carries faults in all that a trial build, a final build and
// the looks taken here cannot show.
func TestGradeDoesNotDependOnHiddenTruth(t *testing.T) {
	j := job(t, 1)
	x, _ := truth.Open(j.Sealed())
	other := x
	other.Spacers = append([]truth.Spacer(nil), x.Spacers...)
	other.RingGearConeGapMM, other.IndicatorLoose = 0.2, true
	other.Put(truth.Effect{Of: fault.CapsSwapped, CaseNmm: 2500, CaseWanderMM: 0.03})
	other.FlangeTIRMM, other.GearDirtTIRMM = 0.2, 0.15
	other.RingGearZeroMM += 0.1
	other.OppositeZeroMM -= 0.25
	other.RingGearPedestalNPerMM *= 0.8
	other.Coast.LengthMM *= 1.2
	other.Faults = []truth.Fault{{ID: fault.CapsSwapped, Size: 1}}

	lines := []string{"inspect cups", "inspect bearings", "inspect spacer", "inspect seal", "fit depth-shim 0.030in", "measure depth-shim",
		"fit pinion mock-up", "measure depth", "remove pinion", "fit pinion final", "tighten nut to 150 lb-ft", "tighten nut 30 deg", "tighten nut 20 deg",
		"turn pinion 5", "measure torque rotating wrench", "measure torque rotating string", "fit side-shims ring-gear 0.070in opposite 0.070in"}
	var reports, shown []string
	for _, hidden := range []truth.Axle{x, other} {
		s, err := sim.New(j.Card.Family, truth.Seal(hidden, truth.Finish{}), j.Card.Seed)
		require.NoError(t, err)
		b := &bench{Stand: s}
		script(t, b, lines...)
		reports = append(reports, asJSON(t, grade(t, j, b.outs)))
		codes := ""
		for _, o := range b.outs {
			for _, r := range o.Readings {
				codes += r.Code() + "\n"
			}
		}
		shown = append(shown, codes)
	}
	require.Equal(t, shown[0], shown[1], "the two axles show the same so far")
	assert.Equal(t, reports[0], reports[1])
}

// Grading cannot see the hidden state: outside the reveal no source of it opens or
// seals an envelope, and but for what measures and gathers jobs before a trainee sees
// them, what plays an attempt again, and what tells of one that is signed, none compares
// with the truth or stands an axle up.
func TestGradingNeverOpensTheEnvelope(t *testing.T) {
	banned := map[string]bool{"truth.Open": true, "truth.Seal": true, "truth.Axle": true, "truth.Finish": true, "truth.Sealed": true,
		"sim.New": true, "sim.Stand": true, "verdict.Check": true, "verdict.Met": true, "scenarios.Maker": true, "scenarios.Job": true}
	before := map[string]bool{"sim.Stand": true, "verdict.Check": true, "scenarios.Maker": true, "scenarios.Job": true}
	standers := []string{"difficulty", "form", "stakes", "whatif", "debrief", "class"}
	files, reveals := 0, 0
	require.NoError(t, filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		folder, _, _ := strings.Cut(filepath.ToSlash(path), "/")
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		files++
		for _, i := range file.Imports {
			if p := strings.Trim(i.Path.Value, `"`); strings.HasPrefix(p, "shimwright/") && i.Name != nil {
				t.Errorf("%s imports %s under the name %s, past this test", path, p, i.Name.Name)
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if pkg, ok := sel.X.(*ast.Ident); ok && banned[pkg.Name+"."+sel.Sel.Name] {
				switch {
				case folder == "reveal":
					reveals++
				case slices.Contains(standers, folder) && before[pkg.Name+"."+sel.Sel.Name]:
				default:
					t.Errorf("%s uses %s.%s", path, pkg.Name, sel.Sel.Name)
				}
			}
			return true
		})
		return nil
	}))
	assert.GreaterOrEqual(t, files, 8, "the sources have moved")
	assert.Positive(t, reveals, "the test no longer sees what the reveal does")
}

// A card without outcomes is an attempt that has not begun.
func TestNothingDone(t *testing.T) {
	rep := grade(t, job(t, 1), nil)
	assert.False(t, rep.SignedOff)
	assert.Empty(t, rep.Areas)
	assert.Equal(t, 0, rep.Score)
	assert.Equal(t, -1, rep.Weakest)
	checkBounds(t, rep)
}

// A family whose gears cannot mesh is an error in words, not a grade.
func TestUngradableFamily(t *testing.T) {
	one := played(t, "competent")[0]
	card := one.job.Card
	card.Family.Model.Gears.PinionTeeth = 0
	_, err := grading.Grade(card, one.bench.outs, quantity.Inch)
	assert.ErrorContains(t, err, "cannot be graded")
}

// An attempt cut off anywhere has a grade without the area it never came to.
func TestUnfinishedAttempt(t *testing.T) {
	j := job(t, 3)
	full, b := work(t, j, technician.Competent(), nil)
	for n := 7; n < len(b.outs); n += 7 {
		rep := grade(t, j, b.outs[:n])
		assert.False(t, rep.SignedOff)
		for _, a := range rep.Areas {
			assert.NotEqual(t, grading.Stopping, a.Area)
		}
		for _, id := range []string{"caps", "sheet-true", "nut"} {
			assert.NotEqual(t, acceptance.Contradicted, outcomeOf(rep, id), "what is not signed is not false")
		}
		assert.LessOrEqual(t, rep.Score, grading.TheFormula().OpenMost)
		checkBounds(t, rep)
		// What has been decided is not judged anew by what comes later.
		require.LessOrEqual(t, len(rep.Decisions), len(full.Decisions))
		for i, d := range rep.Decisions {
			assert.Equal(t, full.Decisions[i], d)
		}
	}
}
