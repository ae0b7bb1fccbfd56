package lessons

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSearch(t *testing.T) {
	for words, want := range map[string]string{
		"crush spacer": "crush-spacer", "Timing Marks": "matched-set", "compressed air": "reuse-or-replace", "read-before-strip": "read-before-strip", "breakaway": "rotating-torque",
	} {
		found := Search(words)
		require.NotEmpty(t, found, words)
		assert.Equal(t, want, found[0].Lesson.ID, words)
		assert.NotEmpty(t, found[0].Line, words)
	}
	assert.Greater(t, len(Search("backlash")), 10)
	assert.Empty(t, Search("carburetor"))
	assert.Empty(t, Search("backlash carburetor"), "every word counts")
	assert.Empty(t, Search(" - "))
}

// The sheets are for a real axle: they name no invented one, and none is empty.
func TestSheets(t *testing.T) {
	require.Len(t, Sheets(), 3)
	for _, s := range Sheets() {
		got, err := FindSheet(s.ID)
		require.NoError(t, err)
		assert.Equal(t, s, got)
		assert.NotEmpty(t, s.Title)
		assert.NotRegexp(t, "ALDER|BEECH|CEDAR|DOGWOOD|ELM|FIR|GORSE|HAZEL|IRONBARK|JUNIPER", s.Body)
	}
	_, err := FindSheet("spanner")
	assert.ErrorContains(t, err, "tools, checks, build")
	checks, err := FindSheet("checks")
	require.NoError(t, err)
	for _, must := range []string{"Contact pattern on drive and coast, made after the last change", "Total rotating torque", "Match numbers", "Vent open"} {
		assert.Contains(t, checks.Body, must)
	}
}
