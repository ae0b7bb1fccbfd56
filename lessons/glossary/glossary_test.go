package glossary_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/lessons/figure"
	"shimwright/lessons/glossary"
	"shimwright/sim/act"
)

// What may be typed in the place of a word of the catalogue is in the glossary, and nothing
// else is said there to be understood. Left out are words written apart or in the singular,
// and words that add nothing.
func TestTypedWordsAreThoseOfTheActs(t *testing.T) {
	var typed, understood []string
	for _, term := range glossary.All() {
		typed = append(typed, term.Typed...)
	}
	same := func(s act.Synonym) bool {
		joined := strings.ReplaceAll(s.Said, " ", "-")
		return s.Meant == "" || joined == s.Meant || joined+"s" == s.Meant || s.Said == "sign-off" || strings.ReplaceAll(s.Said, "ring-gear", "ring gear") != s.Said
	}
	for _, s := range act.Synonyms() {
		if !same(s) || slices.Contains(typed, s.Said) {
			understood = append(understood, s.Said)
		}
	}
	slices.Sort(typed)
	slices.Sort(understood)
	assert.Equal(t, understood, typed)
	assert.Greater(t, len(typed), 40)
}

// A lesson that a term names uses the word, or another for the same thing.
func TestLessonsTreatTheTerm(t *testing.T) {
	linked := map[string]bool{}
	unlinked := 0
	for _, term := range glossary.All() {
		if len(term.Lessons) == 0 {
			unlinked++
		}
		for _, id := range term.Lessons {
			l, err := lessons.Find(id)
			require.NoError(t, err, term.Word)
			linked[id] = true
			text := strings.ToLower(strings.Join([]string{l.Title, l.About, l.Idea, figure.Prose(l.Body)}, "\n"))
			text = strings.ReplaceAll(text, "-", " ")
			assert.True(t, slices.ContainsFunc(term.Names(), func(n string) bool {
				return strings.Contains(text, strings.ReplaceAll(strings.ToLower(n), "-", " "))
			}), "lesson %s does not hold the word %q", id, term.Word)
		}
	}
	assert.LessOrEqual(t, unlinked, 4, "nearly every word is treated somewhere")
	for _, l := range lessons.All() {
		assert.True(t, linked[l.ID] || l.ID == "reuse-or-replace" || l.ID == "read-before-strip" || l.ID == "used-gears", "no term leads to %s", l.ID)
	}
}

func TestFind(t *testing.T) {
	for asked, want := range map[string]string{"crown wheel": "ring gear", "Crush-Sleeve": "collapsible spacer", "CUPS": "cup", "propshaft": "driveshaft",
		"drag": "rotating torque", "bearing adjusters": "bearing adjuster", "notches": "notch", "axle shafts": "axle shaft"} {
		found, err := glossary.Find(asked)
		require.NoError(t, err, asked)
		require.Len(t, found, 1, asked)
		assert.Equal(t, want, found[0].Word, asked)
	}
	found, err := glossary.Find("shims")
	require.NoError(t, err)
	assert.Greater(t, len(found), 3, "a part of several words")
	for _, asked := range []string{"", " ", "carburetor"} {
		_, err := glossary.Find(asked)
		assert.Error(t, err, asked)
	}
}

// One word names one thing: no name stands at two terms.
func TestAWordMeansOneThing(t *testing.T) {
	at := map[string]string{}
	for _, term := range glossary.All() {
		for _, n := range term.Names() {
			n = strings.ToLower(n)
			assert.Empty(t, at[n], "%q stands at %q and at %q", n, at[n], term.Word)
			at[n] = term.Word
		}
		assert.True(t, strings.HasSuffix(term.Meaning, "."), term.Word)
		assert.LessOrEqual(t, len(strings.Fields(term.Meaning)), 40, term.Word)
	}
	assert.Greater(t, len(at), 130)
}
