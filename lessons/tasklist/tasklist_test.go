package tasklist_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/lessons/tasklist"
	"shimwright/scenarios/drill"
	"shimwright/scenarios/exercise"
)

// Every task has lessons, a drill unless it is paper work, and an exercise; every lesson and
// every drill trains a task.
func TestEveryTaskIsTrained(t *testing.T) {
	var ids, taught, drilled []string
	for i, tr := range tasklist.Trainings() {
		require.Less(t, i, len(exercise.Tasks()))
		ids = append(ids, tr.Task)
		assert.Equal(t, exercise.Tasks()[i].ID, tr.Task)
		assert.NotEmpty(t, tr.Lessons, tr.Task)
		for _, id := range tr.Lessons {
			_, err := lessons.Find(id)
			assert.NoError(t, err, tr.Task)
			taught = append(taught, id)
		}
		assert.Equal(t, tr.Task == "records", len(tr.Drills) == 0, tr.Task)
		for _, k := range tr.Drills {
			assert.Contains(t, drill.Kinds(), drill.Kind(k), tr.Task)
			drilled = append(drilled, k)
		}
		assert.True(t, slices.ContainsFunc(exercise.All(), func(e exercise.Exercise) bool { return slices.Contains(e.Tasks, tr.Task) }), tr.Task)
	}
	assert.Len(t, ids, len(exercise.Tasks()))
	for _, l := range lessons.All() {
		assert.Contains(t, taught, l.ID)
	}
	for _, k := range drill.Kinds() {
		assert.Contains(t, drilled, string(k))
	}
}

func TestEntriesAskForKnownTasks(t *testing.T) {
	verified := 0
	for _, e := range tasklist.Entries() {
		assert.NotEmpty(t, e.Code, e.List)
		assert.NotEmpty(t, e.About, e.List)
		require.NotEmpty(t, e.Tasks, e.List)
		for _, id := range e.Tasks {
			assert.True(t, slices.ContainsFunc(exercise.Tasks(), func(k exercise.Task) bool { return k.ID == id }), "%s %s: %s", e.Place, e.Code, id)
		}
		if e.Verified {
			verified++
		}
	}
	assert.Greater(t, verified, len(tasklist.Entries())/2)
	assert.Less(t, verified, len(tasklist.Entries()), "what is from memory says so")
}
