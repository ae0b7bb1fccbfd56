package stakes_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/cost"
	"shimwright/grading/stakes"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
)

// The default makes good work worth while on every family that comes with the program.
// (Acceptance limits of this project: 9 in 10, one half, four in five.) On sixteen jobs
// careful work comes to 52 or 53 % of work without measuring on three families, whose jobs
// take long and whose old parts are often still right; all together it is well under half.
// IRONBARK's specifications are so wide beside what careful work leaves that reading a finished
// axle costs about what it saves: what asks for the reading there is the acceptance list.
func TestDefaultMakesGoodWorkWorthWhile(t *testing.T) {
	// On four jobs a family has more chance in it: that is what its own limit leaves room for.
	jobs, leastGain := longtest.Pick(4, 16), longtest.Pick(0.7, 0.5)
	careful, blind, turned := 0.0, 0.0, 0.0
	for _, fam := range family.Shelf() {
		r, err := stakes.Of(cost.Default(), fam, jobs)
		require.NoError(t, err)
		t.Logf("%-8s reading pays %.2f, again after the last change %.2f; minutes a job: careful %.0f, never measures %.0f, signs turned %.0f; alone %.2f %s",
			fam.Code, r.Reads, r.Again, r.CarefulMin, r.BlindMin, r.TurnedMin, r.AloneShare, r.Alone)
		if fam.Code != "IRONBARK" {
			assert.GreaterOrEqual(t, r.Reads, 0.9, fam.Code)
		}
		assert.LessOrEqual(t, r.AloneShare, 0.80, fam.Code)
		assert.LessOrEqual(t, r.CarefulMin/r.TurnedMin, leastGain, fam.Code)
		assert.LessOrEqual(t, r.CarefulMin/r.BlindMin, leastGain+0.05, fam.Code)
		careful, blind, turned = careful+r.CarefulMin, blind+r.BlindMin, turned+r.TurnedMin
	}
	assert.LessOrEqual(t, careful/blind, 0.5)
	assert.LessOrEqual(t, careful/turned, 0.5)
}

// A table that makes readings dear and comebacks cheap is told so, each thing in words.
// Below a comeback's own teardown nobody would ever put anything right.
func TestTablesThatAskForCarelessWork(t *testing.T) {
	const jobs = 4
	cheap := cost.Default()
	cheap.ComebackMin, cheap.SideComebackMin, cheap.RunoutComebackMin = 5, 5, 5
	r, err := stakes.Of(cheap, family.Beech(), jobs)
	require.NoError(t, err)
	assert.Less(t, r.Reads, 0.95)
	assert.True(t, r.Again >= 0 && r.Again <= 1, "a share")
	said := strings.Join(r.Warnings(), "\n")
	assert.Contains(t, said, "without reading it")
	assert.Contains(t, said, "work without measuring")

	again, err := stakes.Of(cheap, family.Beech(), jobs)
	require.NoError(t, err)
	assert.Equal(t, r, again)
}

// What only one look is worth is named; the rest of the result stays right by itself.
func TestNothingToChoose(t *testing.T) {
	r := stakes.Result{Reads: 1, CarefulMin: 100, BlindMin: 200, TurnedMin: 200, Alone: "inspect cups", AloneShare: 0.81}
	assert.Equal(t, []string{`by these costs "inspect cups" is the only thing worth doing first on 81 jobs in 100: there is nothing to choose`}, r.Warnings())
	r.AloneShare, r.BlindMin = 0.80, 199.9
	require.Len(t, r.Warnings(), 1)
	assert.Contains(t, r.Warnings()[0], "work without measuring")
}

// What is told of jobs is of those on which it pays not to read.
func TestSharesAreOfWhatIsToldOf(t *testing.T) {
	r := stakes.Result{Reads: 0.7, CarefulMin: 100, BlindMin: 200, TurnedMin: 200}
	require.Len(t, r.Warnings(), 1)
	assert.Contains(t, r.Warnings()[0], "without reading it on 30 jobs in 100")
}
