package class_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/class"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

func typed(t *testing.T, pupil string, seed uint64, lines ...string) class.Attempt {
	r := attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech()}, "", seed, quantity.Inch)
	for _, l := range lines {
		a, err := act.Parse(l, quantity.Inch)
		require.NoError(t, err, l)
		r.Add(history.Step{Act: a})
	}
	return class.Attempt{Pupil: pupil, File: pupil, Record: r}
}

func TestNearCopies(t *testing.T) {
	whole := []string{"inspect cups", "inspect shim-seat", "fit depth-shim 0.030in", "fit pinion mock-up", "measure depth", "remove pinion",
		"fit depth-shim 0.032in", "fit pinion mock-up", "measure depth", "record depth-shim 0.032in", "sign off"}
	more := slices.Insert(slices.Clone(whole), 4, "expect 2.4in", "inspect bearings")
	metric := slices.Clone(whole)
	metric[2], metric[6] = "fit depth-shim 0.762mm", "fit depth-shim 0.8128mm"
	own := slices.Clone(whole)
	own[2], own[6], own[9] = "fit depth-shim 0.034in", "fit depth-shim 0.031in", "record depth-shim 0.031in"
	late := append(slices.Clone(whole[5:]), whole[:5]...)
	got := class.NearCopies([]class.Attempt{
		typed(t, "ann", 7, whole...), typed(t, "bo", 7, more...), typed(t, "cy", 9, metric...), typed(t, "dee", 7, own...),
		typed(t, "eli", 7, late...), typed(t, "ann", 8, whole...), typed(t, "fay", 7, whole[:7]...), {Pupil: "gus", Err: attempt.ErrForeign},
	})
	assert.Equal(t, []class.Near{
		{A: "ann", B: "bo", Same: 11, Of: 12}, {A: "ann", B: "cy", Same: 11, Of: 11}, {A: "bo", B: "cy", Same: 11, Of: 12},
		{A: "bo", B: "ann", Same: 11, Of: 12}, {A: "cy", B: "ann", Same: 11, Of: 11},
	}, got)
}
