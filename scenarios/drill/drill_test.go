package drill

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/sim/checkstest"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

// seeds is how many drills of a kind are looked at on each family.
const seeds = 3

// each draws drills of a kind on every family it fits.
func each(t *testing.T, k Kind, look func(t *testing.T, fam family.Family, d Drill)) {
	t.Helper()
	some(t, k, seeds, look)
}

// some draws so many drills of a kind on every family it fits.
func some(t *testing.T, k Kind, seeds uint64, look func(t *testing.T, fam family.Family, d Drill)) {
	t.Helper()
	n := 0
	for _, fam := range family.Shelf() {
		if k.Fits(fam) != nil {
			continue
		}
		for seed := range seeds {
			d, err := Draw(Item{Kind: k, Family: fam, Seed: seed + 1, N: 1 + n%7})
			require.NoError(t, err, "%s on %s, seed %d", k, fam.Code, seed+1)
			look(t, fam, d)
			n++
		}
	}
	require.Positive(t, n)
}

func systems() []quantity.System { return []quantity.System{quantity.Inch, quantity.Metric} }

// What every drill must be, of whatever kind.
func TestEveryDrill(t *testing.T) {
	for _, k := range Kinds() {
		t.Run(string(k), func(t *testing.T) {
			require.NotEmpty(t, k.About())
			some(t, k, longtest.Pick[uint64](1, seeds), func(t *testing.T, fam family.Family, d Drill) {
				assert.Equal(t, k, d.Kind)
				assert.Equal(t, fam.Code, d.Family)
				_, err := lessons.Find(d.Lesson)
				assert.NoError(t, err)
				assert.Contains(t, checkstest.Strengths(), d.Source.Strength)
				assert.NotEmpty(t, d.Source.Where)
				assert.NotEmpty(t, d.Wrongs, "no idea leads anywhere else")

				for _, u := range systems() {
					texts := []Text{d.Asks, d.Shows}
					if d.Answer.Form != Choice {
						texts = append(texts, d.Answer.Reason)
					}
					for _, w := range d.Wrongs {
						texts = append(texts, w.Why)
						assert.NotEqual(t, string(w.Misconception), w.Misconception.String(), "the idea has no words")
					}
					for _, x := range texts {
						text := x.In(u)
						assert.NotEmpty(t, text)
						assert.NotContains(t, text, "%!", text)
						assert.NotContains(t, text, "NaN", text)
					}
					assert.NotEqual(t, d.Answer.Takes(u), "")
				}

				right, wrong := d.Judge(Reply{d.Answer.Value, d.Answer.Right})
				assert.True(t, right)
				assert.Nil(t, wrong)
				for _, w := range d.Wrongs {
					right, fits := d.Judge(Reply{w.Value, w.Choice})
					assert.False(t, right, "%s: %s would be right", d.Asks.In(quantity.Inch), w.Misconception)
					if assert.NotNil(t, fits) {
						assert.Equal(t, w.Misconception, fits.Misconception)
					}
				}
				// What the program writes as the answer it also takes as one, in either unit.
				for _, u := range systems() {
					text := d.Answer.In(u)
					if d.Answer.Form == Choice {
						text = Letter(d.Answer.Right)
					}
					reply, err := d.Answer.Read(text, u)
					require.NoError(t, err, text)
					right, _ := d.Judge(reply)
					assert.True(t, right, "%s for %s", text, d.Asks.In(u))
				}
			})
		})
	}
}

func TestSameOrderSameDrills(t *testing.T) {
	o := Order{Seed: 9, Count: 30, Families: family.Shelf()}
	plan, err := o.Plan()
	require.NoError(t, err)
	again, err := o.Plan()
	require.NoError(t, err)
	assert.Equal(t, plan, again)
	// In another order, and one of them alone.
	for _, i := range []int{7, 0, 7} {
		a, err := Draw(plan[i])
		require.NoError(t, err)
		b, err := Draw(again[i])
		require.NoError(t, err)
		assert.Equal(t, a, b)
	}
	o.Seed++
	other, err := o.Plan()
	require.NoError(t, err)
	assert.NotEqual(t, plan, other)
}

func TestPlanMixesKinds(t *testing.T) {
	all := len(Kinds())
	for seed := range uint64(40) {
		plan, err := Order{Seed: seed, Count: 3 * all, Families: family.Shelf()}.Plan()
		require.NoError(t, err)
		for r := range 3 {
			round := map[Kind]bool{}
			for _, it := range plan[r*all : (r+1)*all] {
				round[it.Kind] = true
			}
			assert.Len(t, round, all, "all come round before one comes again")
		}
		for i := range plan[1:] {
			assert.NotEqual(t, plan[i].Kind, plan[i+1].Kind, "seed %d, drill %d", seed, i+1)
			assert.NoError(t, plan[i].Kind.Fits(plan[i].Family))
		}
	}
}

// All conventions and all places of a depth shim are asked, though some are on one
// family only.
func TestPlanMixesConventions(t *testing.T) {
	marks, places := map[string]int{}, map[family.DepthShimPlace]int{}
	plan, err := Order{Seed: 4, Count: 60, Kinds: []Kind{Mark, Height}, Families: family.Shelf()}.Plan()
	require.NoError(t, err)
	for _, it := range plan {
		if it.Kind == Mark {
			marks[it.Family.Sheet.Marks.String()]++
		} else {
			places[it.Family.Design.DepthShim]++
		}
	}
	const few = 4 // of 30, where 10 are to be expected
	for _, m := range []string{"P-inside", "P-cage", "Q-shim"} {
		assert.Greater(t, marks[m], few, m)
	}
	for _, p := range []family.DepthShimPlace{family.UnderInnerCone, family.BehindInnerCup, family.UnderCageFlange} {
		assert.Greater(t, places[p], few, p)
	}
}

func TestRefusals(t *testing.T) {
	beech := []family.Family{family.Beech()}
	_, err := Order{Count: 1, Kinds: []Kind{Notches}, Families: beech}.Plan()
	assert.EqualError(t, err, "drill slots needs an axle with threaded rings; BEECH has side shims (drill split)")
	_, err = Order{Count: 1, Kinds: []Kind{PreloadShims}, Families: beech}.Plan()
	assert.EqualError(t, err, "drill pack needs an axle with a solid spacer; BEECH has a collapsible one")
	_, err = Order{Count: 0, Families: beech}.Plan()
	assert.EqualError(t, err, "0 drills are asked for: from 1 to 200 can be")
	_, err = Order{Count: 1}.Plan()
	assert.EqualError(t, err, "there is no axle family to ask about")
	_, err = ParseKind("shims")
	assert.ErrorContains(t, err, `no drill is called "shims": there are mark, height,`)
	_, err = Draw(Item{Kind: "shims", Family: family.Beech()})
	assert.ErrorContains(t, err, "no drill is called")
	// Mixed, what does not fit is left out.
	plan, err := Order{Count: 40, Families: beech}.Plan()
	require.NoError(t, err)
	for _, it := range plan {
		assert.NotContains(t, []Kind{Notches, PreloadShims}, it.Kind)
	}
}

func TestRead(t *testing.T) {
	const exactMM = 1e-9
	size, notches := Answer{Form: Length}, Answer{Form: NotchCount}
	turning, bolt := Answer{Form: Turning}, Answer{Form: Tight}
	pick := Answer{Form: Choice, Options: []Option{{Word: "deep"}, {Word: "near"}}}
	for _, c := range []struct {
		a     Answer
		text  string
		units quantity.System
		want  float64
	}{
		{size, "0.030", quantity.Inch, 0.762},
		{size, "0.76", quantity.Metric, 0.76},
		{size, "30 thou", quantity.Metric, 0.762},
		{size, " 0.76 mm ", quantity.Inch, 0.76},
		{turning, "20", quantity.Inch, quantity.InchPounds(20).Nmm()},
		{turning, "2.3", quantity.Metric, 2300},
		{turning, "2 lb-ft", quantity.Inch, quantity.InchPounds(24).Nmm()},
		{bolt, "50", quantity.Inch, quantity.FootPounds(50).Nmm()},
		{bolt, "70", quantity.Metric, 70_000},
		{notches, "in 3", quantity.Inch, 3},
		{notches, "OUT 2.5 slots", quantity.Inch, -2.5},
		{notches, "-2", quantity.Metric, -2},
		{notches, "1 slot", quantity.Metric, 1},
	} {
		r, err := c.a.Read(c.text, c.units)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, r.Value, exactMM, c.text)
	}
	for text, want := range map[string]int{"a": 0, "B)": 1, "near": 1, "Deep.": 0} {
		r, err := pick.Read(text, quantity.Inch)
		require.NoError(t, err, text)
		assert.Equal(t, want, r.Choice, text)
	}
	for _, c := range []struct {
		a    Answer
		text string
	}{
		{size, ""}, {size, "20 lb-in"}, {size, "thick"}, {size, "3 deg"}, {turning, "0.03in"}, {bolt, "1e9"},
		{notches, "out -2"}, {notches, "in"}, {notches, "NaN"}, {notches, "1e300"}, {notches, "3 turns"}, {pick, "c"}, {pick, ""}, {pick, "shallow"},
	} {
		_, err := c.a.Read(c.text, quantity.Inch)
		assert.ErrorContains(t, err, "is no answer here: write ", "%q", c.text)
	}
}

// Whatever is typed, it is read as a number that can be judged or refused in words.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"0.030", "0.76mm", "in 3", "out 2.5 slots", "b)", "high-toe", "20 lb-in", "", "-", "1e400", "NaN", "·nm", "in in 3"} {
		f.Add(seed, true)
	}
	forms := []Answer{{Form: Length}, {Form: Turning}, {Form: Tight}, {Form: NotchCount}, {Form: Choice, Options: []Option{{Word: "deep"}, {}}}}
	f.Fuzz(func(t *testing.T, text string, metric bool) {
		u := quantity.Inch
		if metric {
			u = quantity.Metric
		}
		for _, a := range forms {
			r, err := a.Read(text, u)
			if err != nil {
				if !strings.Contains(err.Error(), "write ") {
					t.Fatalf("%q: %v", text, err)
				}
				continue
			}
			if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || r.Choice < 0 || a.Form == Choice && r.Choice >= len(a.Options) {
				t.Fatalf("%q reads as %+v", text, r)
			}
			a.Write(r, u)
		}
	})
}
