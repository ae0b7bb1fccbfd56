package validity_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/validity"
	"shimwright/sim/checkstest"
)

// Data set 4 of Brennan (2001), table 3.2, as persons by items.
var brennan = [][]float64{
	{5, 6, 5, 5, 5, 3, 4, 5, 6, 7, 3, 3}, {9, 3, 7, 7, 7, 5, 5, 5, 7, 7, 5, 2}, {3, 4, 3, 3, 5, 3, 3, 5, 6, 5, 1, 6},
	{7, 5, 5, 3, 3, 1, 4, 3, 5, 3, 3, 5}, {9, 2, 9, 7, 7, 7, 3, 7, 2, 7, 5, 3}, {3, 4, 3, 5, 3, 3, 6, 3, 4, 5, 1, 2},
	{7, 3, 7, 7, 7, 5, 5, 7, 5, 5, 5, 4}, {5, 8, 5, 7, 7, 5, 5, 4, 3, 2, 1, 1}, {9, 9, 8, 8, 6, 6, 6, 5, 5, 8, 1, 1},
	{4, 4, 4, 3, 3, 5, 6, 5, 5, 7, 1, 1},
}

// Six targets by four judges, Shrout and Fleiss (1979); from memory.
var judges = [][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}

// Mavro of the NIST reference sets, in hundred-thousandths above 2.
var mavro = []float64{18, 17, 18, 19, 18, 17, 15, 14, 15, 15, 17, 18, 18, 19, 19, 21, 20, 16, 14, 13, 13, 15, 15, 16, 15,
	14, 13, 14, 15, 14, 15, 16, 15, 16, 19, 20, 20, 21, 22, 23, 24, 25, 27, 26, 26, 26, 27, 26, 25, 24}

// numAcc builds the NIST sets of a first value and two that come by turns.
func numAcc(first, a, b float64) []float64 {
	out := []float64{first}
	for range 500 {
		out = append(out, a, b)
	}
	return out
}

func repeated(counts ...int) []float64 {
	var out []float64
	for i, n := range counts {
		out = append(out, slices.Repeat([]float64{float64(i + 1)}, n)...)
	}
	return out
}

// Sources and strengths stand in the table's own columns.
func TestStatisticsAgainstOutsideFigures(t *testing.T) {
	alpha, err := validity.Alpha(brennan)
	require.NoError(t, err)
	b, err := validity.Analyse(brennan)
	require.NoError(t, err)
	j, err := validity.Analyse(judges)
	require.NoError(t, err)
	worn := make([]float64, len(mavro))
	for i, v := range mavro {
		worn[i] = 2 + v*1e-4
	}
	first := []float64{10000001, 10000003, 10000002}
	figures := map[string]float64{
		"stat-01": b.MSPerson, "stat-02": b.MSJob, "stat-03": b.VarPerson, "stat-04": b.VarJob, "stat-05": b.VarRest,
		"stat-06": b.G(12), "stat-07": b.Phi(12), "stat-08": alpha, "stat-09": b.G(5), "stat-10": b.Phi(30),
		"stat-11": j.G(4), "stat-12": j.Phi(4), "stat-13": j.G(1), "stat-14": j.Phi(1),
		"stat-15": validity.Study{VarPerson: 0.25, VarRest: 0.75}.Needed(0.8), "stat-16": validity.Study{VarPerson: 0.15, VarRest: 0.85}.Needed(0.8),
		"stat-20": validity.AUC([]float64{0.1, 0.4}, []float64{0.35, 0.8}),
		"stat-21": validity.AUC(repeated(33, 6, 6, 11, 2), repeated(3, 2, 2, 11, 33)),
		"stat-22": validity.AUC([]float64{1, 1}, []float64{1, 1, 1}),
		"stat-30": validity.Correlation([]float64{0, 0, 1, 1}, []float64{1, 2, 2, 3}),
		"stat-31": validity.Correlation(validity.Ranks([]float64{106, 100, 86, 101, 99, 103, 97, 113, 112, 110}), validity.Ranks([]float64{7, 27, 2, 50, 28, 29, 20, 12, 6, 17})),
		"stat-32": validity.Correlation(validity.Ranks([]float64{1, 2, 2, 3}), []float64{1, 2, 3, 4}),
		"stat-40": validity.Mean(first), "stat-41": validity.SD(first),
		"stat-42": validity.SD(numAcc(10000000.2, 10000000.1, 10000000.3)),
		"stat-43": validity.Mean(worn), "stat-44": validity.SD(worn),
		"stat-45": validity.SD(numAcc(1.2, 1.1, 1.3)), "stat-46": validity.SD(numAcc(1000000.2, 1000000.1, 1000000.3)),
	}
	ledger := checkstest.Given(t)
	for id, figure := range figures {
		ledger.Meets(t, checkstest.Find(t, "statistics", id), figure)
	}
}

// What holds of any table, with no figure to look up.
func TestStudyProperties(t *testing.T) {
	b, err := validity.Analyse(brennan)
	require.NoError(t, err)
	alpha, err := validity.Alpha(brennan)
	require.NoError(t, err)
	const rounding = 1e-12
	assert.InDelta(t, b.G(12), alpha, rounding, "alpha is G of the same form")
	turned := slices.Clone(brennan)
	slices.Reverse(turned)
	r, err := validity.Analyse(turned)
	require.NoError(t, err)
	assert.InDelta(t, b.VarPerson, r.VarPerson, rounding, "who comes first does not matter")
	assert.Less(t, b.Phi(12), b.G(12), "passing a mark asks more than ranking")
	assert.Greater(t, b.G(20), b.G(12))
	assert.InDelta(t, 12, b.Needed(b.G(12)), 1e-9, "as many jobs as gave it")
	assert.Equal(t, []float64{1, 2.5, 2.5, 4}, validity.Ranks([]float64{-1, 7, 7, 9}), "equals share their places")

	alike := [][]float64{{1, 2}, {1, 2}, {1, 2}}
	s, err := validity.Analyse(alike)
	require.NoError(t, err)
	assert.Zero(t, s.VarPerson)
	assert.True(t, math.IsNaN(validity.Correlation([]float64{1, 1}, []float64{1, 2})))
}

func TestTableThatIsNotOne(t *testing.T) {
	for _, bad := range [][][]float64{nil, {{1, 2}}, {{1}, {2}}, {{1, 2}, {1}}} {
		_, err := validity.Analyse(bad)
		assert.Error(t, err)
		_, err = validity.Alpha(bad)
		assert.Error(t, err)
	}
}

// A job on which the better persons do better discriminates; one turned round does not.
func TestDiscrimination(t *testing.T) {
	scores := [][]float64{{1, 1, 9}, {2, 2, 8}, {3, 4, 7}, {4, 5, 6}}
	assert.Less(t, validity.Discrimination(scores, 2), -0.9)
	assert.Less(t, validity.Discrimination([][]float64{{1, 9}, {2, 8}}, 0), 0.0)
}
