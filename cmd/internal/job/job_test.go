package job_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Whatever design an axle has, the word any comes upon it, and by the number alone.
func TestAnyFamily(t *testing.T) {
	const enough = 100 // for ten families
	seen := map[string]bool{}
	for seed := range uint64(enough) {
		a, err := job.Find("Any", "whole", "usual", seed)
		require.NoError(t, err)
		seen[a.Code] = true
		again, err := job.Find(job.AnyFamily, "whole", "usual", seed)
		require.NoError(t, err)
		assert.Equal(t, a, again)
	}
	assert.Len(t, seen, len(family.Shelf()))
}

// What is typed for a job asks for the same job again, and names its file.
func TestAJobIsAskedForAgain(t *testing.T) {
	for _, c := range []struct{ family, kind, faults, command, file string }{
		{"beech", "whole", "usual", "practice --family BEECH --seed 7", "shimwright-job-7.jsonl"},
		{"hazel", "depth", "usual", "practice --family HAZEL --kind depth --seed 7", "shimwright-hazel-depth-7.jsonl"},
		{"BEECH", "sides", "none", "practice --family BEECH --kind sides --faults none --seed 7", "shimwright-sides-sound-7.jsonl"},
		{"BEECH", "preload", "seal-tight, ring-gear-cone-high", "practice --family BEECH --kind preload --faults seal-tight,ring-gear-cone-high --seed 7", "shimwright-preload-seal-tight-7.jsonl"},
	} {
		a, err := job.Find(c.family, c.kind, c.faults, 7)
		require.NoError(t, err)
		assert.Equal(t, c.command, a.Practice(7))
		assert.Equal(t, c.file, a.FileName(7))
		of := job.Of(attempt.New(attempt.Terms{}, a.Order(), a.Text, 7, quantity.Inch).Header)
		assert.Equal(t, a, of)
		assert.Empty(t, of.Differs(a))
	}
	for _, wrong := range [][3]string{{"oak", "whole", "usual"}, {"beech", "half", "usual"}, {"beech", "whole", "bent-axle"}} {
		_, err := job.Find(wrong[0], wrong[1], wrong[2], 7)
		assert.Equal(t, exit.Misused, exit.Status(err), wrong)
	}
}

// A job to try something again on the family in hand is asked for as that was, from its
// file too; one on another family by its code.
func TestTryAgainNamesTheFamily(t *testing.T) {
	mine := job.Asked{Name: "my axles/mine.yaml", Kind: scenarios.DepthJob, Faults: scenarios.FaultRule{None: true}}
	mine.Code = "MINE"
	assert.Equal(t, `practice --family 'my axles/mine.yaml' --kind depth --seed 12`, mine.Again("MINE", 12))
	assert.Equal(t, "practice --family CEDAR --kind depth --seed 12", mine.Again("CEDAR", 12))
}

func TestFamiliesOfOneCodeDiffer(t *testing.T) {
	beech := job.Asked{Family: family.Beech(), Name: "BEECH"}
	mine := job.Asked{Family: family.Beech(), Text: "code: BEECH", Name: "mine.yaml"}
	assert.Equal(t, "on BEECH from a file, not the BEECH that comes with the program", text.Printer{}.Print(mine.Differs(beech)))
	assert.Equal(t, "on another BEECH than mine.yaml describes now", text.Printer{}.Print(beech.Differs(mine)))
	other := beech
	other.Code = "HAZEL"
	assert.Equal(t, "on BEECH, not HAZEL", text.Printer{}.Print(beech.Differs(other)))
}
