package skill_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/skill"
	"shimwright/scenarios/misconception"
	"shimwright/scenarios/peopletest"
	"shimwright/scenarios/scenariostest"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func person(t *testing.T, name string) peopletest.Person {
	t.Helper()
	all := append([]peopletest.Person{peopletest.TheReference()}, peopletest.Holding()...)
	i := slices.IndexFunc(all, func(p peopletest.Person) bool { return p.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return all[i]
}

// worked has a person finish jobs, and returns what the grade says of each, the last first.
func worked(t *testing.T, p peopletest.Person, seeds ...uint64) (out []skill.Job) {
	t.Helper()
	fam, err := family.Shipped("BEECH")
	require.NoError(t, err)
	for _, seed := range seeds {
		j, err := scenariostest.Generate(fam, seed)
		require.NoError(t, err)
		rec, err := p.Play(j)
		require.NoError(t, err)
		r, err := grading.Grade(j.Card, rec.Steps, quantity.Inch)
		require.NoError(t, err)
		out = append([]skill.Job{{Areas: r.Areas, Misconception: r.Misconception.Label()}}, out...)
	}
	return out
}

func levels(s skill.Skill) map[grading.Area]skill.Level {
	out := map[grading.Area]skill.Level{}
	for _, a := range grading.Areas() {
		out[a] = s.In(a).Level
	}
	return out
}

func english(m text.Message) string {
	return text.NewPrinter(quantity.Inch, text.Overlay{}).Print(m)
}

// Who has finished nothing is shown everything.
func TestANewcomerIsShownEverything(t *testing.T) {
	s := skill.Of(nil)
	for a, l := range levels(s) {
		assert.Equal(t, skill.Shown, l, "%s", a)
	}
	assert.Equal(t, "The coach speaks at every stage, because no job of yours is finished yet.", english(s.Message(grading.Areas()...)))
}

// One who is good loses the coach: half of it after one job, all of it after two.
func TestOneWhoIsGoodLosesTheCoach(t *testing.T) {
	jobs := worked(t, person(t, "reference"), 1, 2)
	for a, l := range levels(skill.Of(jobs[1:])) {
		assert.Equal(t, skill.Half, l, "%s after one job", a)
	}
	s := skill.Of(jobs)
	for a, l := range levels(s) {
		assert.Equal(t, skill.Alone, l, "%s after two", a)
	}
	assert.Equal(t, "The coach speaks when it is asked, because your last jobs were sound at pinion depth and side bearings and backlash.", english(s.Message(grading.Depth, grading.Sides)))
}

// One who stays bad keeps the coach, however many jobs are finished.
func TestOneWhoStaysBadKeepsTheCoach(t *testing.T) {
	for seeds := []uint64{1}; len(seeds) <= 4; seeds = append(seeds, uint64(len(seeds)+1)) {
		l := levels(skill.Of(worked(t, person(t, "caps-snug"), seeds...)))
		assert.Equal(t, skill.Shown, l[grading.Sides], "after %d jobs", len(seeds))
		assert.Equal(t, skill.Shown, l[grading.Depth], "after %d jobs: the pattern is never read as it stays", len(seeds))
	}
}

// One who is good at depth and bad at backlash keeps the coach for backlash; when that is
// mended, the coach goes.
func TestGoodAtDepthAndBadAtBacklash(t *testing.T) {
	before := worked(t, person(t, "pinion-free"), 1, 2)
	s := skill.Of(before)
	l := levels(s)
	assert.Equal(t, skill.Alone, l[grading.Depth])
	assert.Equal(t, skill.Alone, l[grading.Preload])
	assert.Equal(t, skill.Shown, l[grading.Sides])
	assert.Equal(t, "The coach speaks at side bearings and backlash (your last jobs fit a misconception there), and not unasked at pinion depth, where your last jobs were sound.",
		english(s.Message(grading.Depth, grading.Sides)))
	after := worked(t, person(t, "reference"), 2, 1)
	assert.Equal(t, skill.Half, skill.Of(append(after[:1:1], before...)).In(grading.Sides).Level, "one sound job after it")
	assert.Equal(t, skill.Alone, skill.Of(append(after, before...)).In(grading.Sides).Level, "two")
}

// A misconception that lost few minutes by luck keeps the coach all the same.
func TestAMisconceptionKeepsTheCoach(t *testing.T) {
	s := skill.Of(worked(t, person(t, "mark-turned"), 1, 2))
	assert.Equal(t, skill.Shown, s.In(grading.Depth).Level)
	assert.Less(t, s.In(grading.Depth).Lost, skill.SoundMin)
	assert.Equal(t, skill.Alone, s.In(grading.Sides).Level)
}

// Every misconception is about an area, so that none goes by unseen.
func TestEveryMisconceptionHasItsArea(t *testing.T) {
	for _, m := range misconception.All() {
		jobs := []skill.Job{{Misconception: m.ID}, {Misconception: m.ID}}
		for i := range jobs {
			for _, a := range grading.Areas() {
				jobs[i].Areas = append(jobs[i].Areas, grading.AreaScore{Area: a, Decisions: 1, Score: 100})
			}
		}
		shown := 0
		for _, l := range levels(skill.Of(jobs)) {
			if l == skill.Shown {
				shown++
			}
		}
		assert.Equal(t, 1, shown, m.ID)
	}
}
