package drill

import (
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/sim/act"
	"shimwright/sim/checkstest"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
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
			require.False(t, k.About().IsZero())
			some(t, k, longtest.Pick[uint64](1, seeds), func(t *testing.T, fam family.Family, d Drill) {
				assert.Equal(t, k, d.Kind)
				assert.Equal(t, fam.Code, d.Family)
				_, err := lessons.Find(d.Lesson)
				assert.NoError(t, err)
				assert.Contains(t, checkstest.Strengths(), printed(d.Source.Strength.Name()))
				assert.NotEmpty(t, d.Wrongs, "no misconception leads anywhere else")

				if !d.Answer.IsChoice() {
					assert.False(t, d.Answer.Reason.IsZero())
				}
				for _, w := range d.Wrongs {
					assert.NotEmpty(t, w.Misconception.Name().Code(), "%s has no words", w.Misconception)
				}
				for _, u := range systems() {
					for _, m := range texts(d) {
						text := printer(u).Print(m)
						assert.NotEmpty(t, text)
						assert.NotRegexp(t, `[{}]|NaN|Inf|  |\.\.`, text, "a blank without its value, or a slip of the pen")
					}
				}

				right, wrong := d.Judge(Reply{d.Answer.Figure.Exact(), d.Answer.Right})
				assert.True(t, right)
				assert.Nil(t, wrong)
				for _, w := range d.Wrongs {
					right, fits := d.Judge(Reply{w.Value, w.Choice})
					assert.False(t, right, "%s: %s would be right", printed(d.Asks), w.Misconception)
					if assert.NotNil(t, fits) {
						assert.Equal(t, w.Misconception, fits.Misconception)
					}
				}
				// What the program writes as the answer it also takes as one, in either unit.
				for _, u := range systems() {
					text := printer(u).Print(d.Answer.Says())
					if d.Answer.IsChoice() {
						text = Letter(d.Answer.Right)
					}
					reply, err := d.Answer.Read(text, u)
					require.NoError(t, err, text)
					right, _ := d.Judge(reply)
					assert.True(t, right, "%s for %s", text, printer(u).Print(d.Asks))
				}
			})
		})
	}
}

func printer(u quantity.System) text.Printer { return text.NewPrinter(u, text.Overlay{}) }

// texts are all that a person may read of a drill.
func texts(d Drill) []text.Message {
	out := []text.Message{d.Asks, d.Shows, d.Answer.Takes(), d.Answer.Says(), d.Source.Where, d.Source.Strength.Name()}
	if !d.Answer.Reason.IsZero() {
		out = append(out, d.Answer.Reason)
	}
	for _, s := range d.Working {
		out = append(out, s.Message())
	}
	for _, w := range d.Wrongs {
		out = append(out, w.Why, w.Misconception.Name(), d.Answer.Write(Reply{w.Value, w.Choice}))
	}
	for _, o := range d.Answer.Options {
		if !o.Text.IsZero() {
			out = append(out, o.Text)
		}
	}
	return out
}

// A working adds up as it is printed, whatever the units: the terms as shown make the result
// as shown, to the last figure for sums and to half of it for the rest. What is worked out
// last is the answer, and is as near to the exact amount as its roundings allow.
func TestWorkingsAddUpAsPrinted(t *testing.T) {
	sums := 0
	for _, k := range Kinds() {
		some(t, k, longtest.Pick[uint64](2, 40), func(t *testing.T, _ family.Family, d Drill) {
			for _, u := range systems() {
				for _, s := range d.Working {
					f := s.Figure
					require.NotEmpty(t, f.terms)
					adds(t, f, u, printer(u).Print(s.Message()))
					sums++
				}
				if n := len(d.Working); n > 0 && !d.Answer.IsChoice() {
					last := d.Working[n-1].Figure
					assert.Equal(t, math.Abs(d.Answer.Figure.Number(u)), math.Abs(last.Number(u)), printed(d.Asks))
					assert.InDelta(t, d.Answer.Figure.Exact(), d.Answer.Figure.In(u), d.Answer.Tolerance, printed(d.Asks))
				}
			}
		})
	}
	assert.Greater(t, sums, longtest.Pick(500, 1000))
}

// adds asserts that a figure follows from its terms as they are shown.
func adds(t *testing.T, f Figure, u quantity.System, line string) {
	t.Helper()
	unit := f.Measure.unit(u)
	shown := func(g Figure) float64 { // what is printed, read by its digits
		x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(g.Show(u), "+"), g.Measure.unit(u).name)), 64)
		require.NoError(t, err, line)
		return x
	}
	last := math.Pow10(-unit.decimals)
	switch f.op {
	case sum:
		whole := 0
		for _, term := range f.terms {
			require.Equal(t, f.Measure, term.Measure, line)
			n := int(math.Round(shown(term.Figure) / last))
			if term.minus {
				n = -n
			}
			whole += n
		}
		assert.Equal(t, whole, int(math.Round(shown(f)/last)), line)
		return
	case mean:
		total := 0.0
		for _, term := range f.terms {
			total += shown(term.Figure)
		}
		assert.InDelta(t, total/float64(len(f.terms)), shown(f), last*0.5001, line)
		return
	}
	a, b := f.terms[0], f.terms[1]
	x, y := shown(a.Figure), shown(b.Figure)
	if f.op == product || f.op == part {
		x, y = x*a.Measure.unit(u).base/unit.base, y*b.Measure.unit(u).base
	}
	want := x * y
	if f.op == part || f.op == divi {
		want = x / y
	}
	assert.InDelta(t, want, shown(f), last*0.5001, line)
}

// The JSON of a drill holds codes, numbers, names and what is typed, and never a phrase.
func TestJSONHoldsNoWording(t *testing.T) {
	word := regexp.MustCompile(`^[A-Za-z0-9._-]+$`)
	typed := map[string]bool{}
	for _, u := range act.Usages() {
		typed[u.Line] = true
	}
	for _, k := range Kinds() {
		some(t, k, longtest.Pick[uint64](1, 10), func(t *testing.T, _ family.Family, d Drill) {
			data, err := json.Marshal(d)
			require.NoError(t, err)
			var v any
			require.NoError(t, json.Unmarshal(data, &v))
			var walk func(v any)
			walk = func(v any) {
				switch v := v.(type) {
				case string:
					if !typed[v] {
						assert.Regexp(t, word, v)
					}
				case []any:
					for _, x := range v {
						walk(x)
					}
				case map[string]any:
					for key, x := range v {
						assert.Regexp(t, word, key)
						walk(x)
					}
				}
			}
			walk(v)
			asks, err := json.Marshal(d.Asks)
			require.NoError(t, err)
			assert.NotContains(t, string(asks), `"hidden"`, "the question does not hold its answer")
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
		for i, it := range plan {
			assert.Equal(t, i+1, it.N)
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
	plan, err := Order{Seed: 4, Count: 60, Kinds: []Kind{DepthMark, CheckingDistance}, Families: family.Shelf()}.Plan()
	require.NoError(t, err)
	for _, it := range plan {
		if it.Kind == DepthMark {
			marks[it.Family.Sheet.Marks.String()]++
		} else {
			places[it.Family.Design.DepthShim]++
		}
	}
	const few = 4 // of 30, where 10 are to be expected
	for _, m := range []string{"plus-takes-shim", "plus-thickens-cage-shim", "plus-adds-shim"} {
		assert.Greater(t, marks[m], few, m)
	}
	for _, p := range []family.DepthShimPlace{family.UnderInnerCone, family.BehindInnerCup, family.UnderCageFlange} {
		assert.Greater(t, places[p], few, p)
	}
}

func TestRefusals(t *testing.T) {
	beech := []family.Family{family.Beech()}
	says := func(want string, err error) {
		t.Helper()
		require.Error(t, err)
		assert.Equal(t, want, printer(quantity.Inch).Error(err))
	}
	_, err := Order{Count: 1, Kinds: []Kind{Adjusters}, Families: beech}.Plan()
	says("drill adjusters needs an axle with bearing adjusters; BEECH has side shims", err)
	_, err = Order{Count: 1, Kinds: []Kind{PreloadShims}, Families: beech}.Plan()
	says("drill preload-shims needs an axle with a solid spacer; BEECH has a collapsible spacer", err)
	_, err = Order{Count: 0, Families: beech}.Plan()
	says("0 questions are asked for: a round has from 1 to 200", err)
	_, err = Order{Count: 1}.Plan()
	says("there is no axle family to ask about", err)
	_, err = ParseKind("shims")
	require.Error(t, err)
	assert.Regexp(t, `^no drill is named "shims": there are carrier, hunting, depth-mark, .* and tell-apart$`, printer(quantity.Inch).Error(err))
	_, again := Draw(Item{Kind: "shims", Family: family.Beech()})
	assert.Equal(t, err, again)
	// Mixed, what does not fit is left out.
	plan, err := Order{Count: 40, Families: beech}.Plan()
	require.NoError(t, err)
	for _, it := range plan {
		assert.NotContains(t, []Kind{Adjusters, PreloadShims}, it.Kind)
	}
}

func TestRead(t *testing.T) {
	const exactMM = 1e-9
	of := func(m Measure) Answer { return Answer{Figure: Figure{Measure: m}} }
	size, notches, turning, bolt := of(Length), of(NotchCount), of(Rotating), of(Fastener)
	inches, feet, nm, angle := of(PoundInches), of(PoundFeet), of(NewtonMeters), of(Angle)
	pick := Answer{Options: []Option{{Word: "deep"}, {Word: "close", Also: []string{"near"}}}}
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
		{notches, "OUT 2.5 notches", quantity.Inch, -2.5},
		{notches, "in 1 notch", quantity.Metric, 1},
		{inches, "216", quantity.Metric, quantity.FootPounds(18).Nmm()},
		{feet, "18 lb-ft", quantity.Metric, quantity.FootPounds(18).Nmm()},
		{nm, "2.3", quantity.Inch, 2300},
		{angle, "14", quantity.Inch, 14},
		{angle, "14 deg", quantity.Metric, 14},
	} {
		r, err := c.a.Read(c.text, c.units)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, r.Value, exactMM, c.text)
	}
	for text, want := range map[string]int{"a": 0, "B)": 1, "near": 1, "Close": 1, "Deep.": 0} {
		r, err := pick.Read(text, quantity.Inch)
		require.NoError(t, err, text)
		assert.Equal(t, want, r.Choice, text)
	}
	for _, c := range []struct {
		a    Answer
		text string
	}{
		{size, ""}, {size, "20 lb-in"}, {size, "thick"}, {size, "3 deg"}, {turning, "0.03in"}, {bolt, "1e9"},
		{notches, "out -2"}, {notches, "in"}, {notches, "NaN"}, {notches, "1e300"}, {notches, "3 turns"}, {notches, "up 3"}, {notches, ""}, {pick, "c"}, {pick, ""}, {pick, "shallow"},
		{inches, "18 lb-ft"}, {feet, "24 Nm"}, {nm, "20 lb-in"}, {angle, "1 turn"}, {angle, "0.1in"},
	} {
		_, err := c.a.Read(c.text, quantity.Inch)
		assert.EqualError(t, err, "drill.answer.unread", "%q", c.text)
	}
	// A number of notches needs a direction.
	for _, line := range []string{"3", "-3", "3 notches", "2.5"} {
		_, err := notches.Read(line, quantity.Inch)
		assert.EqualError(t, err, "drill.answer.which-way", line)
	}
	_, err := notches.Read("3", quantity.Inch)
	assert.Equal(t, `"3" does not say which way to turn: enter in 3 or out 3`, printer(quantity.Inch).Error(err))
}

// Whatever is typed, it is read as a number that can be judged or refused in words.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"0.030", "0.76mm", "in 3", "out 2.5 notches", "b)", "high-toe", "20 lb-in", "", "-", "1e400", "NaN", "·nm", "in in 3"} {
		f.Add(seed, true)
	}
	forms := []Answer{{Options: []Option{{Word: "deep"}, {}}}}
	for _, m := range []Measure{Length, Rotating, Fastener, NotchCount, Angle, PoundInches, PoundFeet, NewtonMeters} {
		forms = append(forms, Answer{Figure: Figure{Measure: m}})
	}
	f.Fuzz(func(t *testing.T, line string, metric bool) {
		u := quantity.Inch
		if metric {
			u = quantity.Metric
		}
		for _, a := range forms {
			r, err := a.Read(line, u)
			if err != nil {
				if !strings.HasPrefix(err.Error(), "drill.answer.") {
					t.Fatalf("%q: %v", line, err)
				}
				continue
			}
			if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || r.Choice < 0 || a.IsChoice() && r.Choice >= len(a.Options) {
				t.Fatalf("%q reads as %+v", line, r)
			}
			printer(u).Print(a.Write(r))
		}
	})
}
