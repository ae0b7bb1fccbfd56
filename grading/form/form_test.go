package form

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/grading/difficulty"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/text"
)

func blueprint(jobs, forms int) Blueprint {
	return Blueprint{Families: []family.Family{family.Beech()}, Kinds: []scenarios.Kind{scenarios.PreloadJob},
		Jobs: jobs, Forms: forms, First: 1, Numbers: 400, Margins: Usual()}
}

// Forms come out within their margins, without a job twice, each place with its family
// and kind, and the same with one worker and with several.
func TestFormsAreAlike(t *testing.T) {
	juniper, err := family.Shipped("JUNIPER")
	require.NoError(t, err)
	forms := longtest.Pick(2, 4)
	b := blueprint(4, forms)
	b.Families = append(b.Families, juniper)
	b.Kinds = []scenarios.Kind{longtest.Pick(scenarios.DepthJob, scenarios.WholeJob), scenarios.PreloadJob}
	var heard []int
	one, err := Make(b, 1, func(done, about int) {
		heard = append(heard, done)
		assert.LessOrEqual(t, done, about)
	})
	require.NoError(t, err)
	assert.True(t, slices.IsSorted(heard) && len(heard) > 0)
	several, err := Make(b, 3, nil)
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprint(one.Forms), fmt.Sprint(several.Forms))

	seen := map[string]bool{}
	for _, f := range one.Forms {
		require.Len(t, f, 4)
		for i, j := range f {
			id := fmt.Sprint(j.Family.Code, j.Kind, j.Number)
			assert.False(t, seen[id], id)
			seen[id] = true
			assert.Equal(t, b.Places()[i].Kind, j.Kind)
			assert.Equal(t, b.Places()[i].Family.Code, j.Family.Code)
		}
	}
	for _, r := range one.Proof.Rows {
		assert.True(t, r.Met(), r.Name)
		assert.Len(t, r.Means, forms)
		assert.InDelta(t, slices.Max(r.Means)-slices.Min(r.Means), r.Worst, 1e-12)
	}
	// The measure of a job in a form is that of the job of its number.
	j := one.Forms[forms-1][1]
	job, err := scenarios.Order{Family: j.Family, Kind: j.Kind}.Generate(j.Number)
	require.NoError(t, err)
	m, err := difficulty.Of(job)
	require.NoError(t, err)
	assert.Equal(t, m, j.Measure)
}

// A named slip shows in every job.
func TestJobsShowTheMistake(t *testing.T) {
	b := blueprint(2, 2)
	b.Kinds, b.Mistakes = []scenarios.Kind{scenarios.DepthJob}, []string{"mark-turned"}
	s, err := Make(b, 2, nil)
	require.NoError(t, err)
	for _, f := range s.Forms {
		for _, j := range f {
			require.Len(t, j.Measure.Signs, 1)
			assert.GreaterOrEqual(t, j.Measure.Signs[0].Steps, float64(difficulty.ApartSteps))
		}
	}
	assert.Positive(t, s.Proof.WithoutSign, "some marks lie close together")
}

func TestBlueprintsThatCannotBe(t *testing.T) {
	for want, change := range map[string]func(*Blueprint){
		"at least one family": func(b *Blueprint) { b.Families = nil },
		"at least one kind":   func(b *Blueprint) { b.Kinds = nil },
		"0 jobs a form":       func(b *Blueprint) { b.Jobs = 0 },
		"101 forms":           func(b *Blueprint) { b.Forms = 101 },
		`"vile" is not known`: func(b *Blueprint) { b.Band = "vile" },
		"no job numbers":      func(b *Blueprint) { b.Numbers = 0 },
		"do not go on":        func(b *Blueprint) { b.First = math.MaxUint64 },
		`no mistake nosuch`:   func(b *Blueprint) { b.Mistakes = []string{"nosuch"} },
		`no kind of job "x"`:  func(b *Blueprint) { b.Kinds = []scenarios.Kind{"x"} },
		"were not hard": func(b *Blueprint) {
			b.Kinds, b.Band, b.Numbers = []scenarios.Kind{scenarios.DepthJob}, difficulty.Hard, 4
		},
		"mistake would not have": func(b *Blueprint) { b.Mistakes, b.Numbers = []string{"mark-turned"}, 4 },
		"only 3 of 4 jobs found": func(b *Blueprint) { b.Numbers = 3 },
		"cannot be made alike":   func(b *Blueprint) { b.Jobs, b.Forms, b.Margins.Difficulty = 1, 4, 1e-6 },
	} {
		b := blueprint(2, 2)
		change(&b)
		_, err := Make(b, 2, nil)
		assert.Contains(t, text.Printer{}.Error(err), want)
	}
}

// Where the numbers are given, forms are made of them alone, on the bench that is asked for.
func TestFormsAmongGivenNumbers(t *testing.T) {
	b := blueprint(2, 2)
	given := []uint64{901, 3, 77, 12, 500, 8, 41, 42, 43}
	b.Among = func(p Place, most int) []uint64 {
		assert.Equal(t, scenarios.PreloadJob, p.Kind)
		assert.Equal(t, 400, most)
		return given
	}
	b.Bench = Bench{Off: []sim.LeftOff{{Form: act.MeasureSpread}}, Budget: scenarios.Budget{Minutes: 1}}
	s, err := Make(b, 2, nil)
	require.NoError(t, err)
	for _, f := range s.Forms {
		for _, j := range f {
			assert.Contains(t, given, j.Number)
			// The budget that nobody can keep costs every hand its points.
			job, err := scenarios.Order{Family: j.Family, Kind: j.Kind, Off: b.Bench.Off, Budget: b.Bench.Budget}.Generate(j.Number)
			require.NoError(t, err)
			m, err := difficulty.Of(job)
			require.NoError(t, err)
			assert.Equal(t, m, j.Measure)
		}
	}
	given = given[:3]
	_, err = Make(b, 1, nil)
	assert.ErrorContains(t, err, "only 3 of 4 jobs found among 3 numbers")
}

// Places go round families and kinds evenly, whatever their numbers.
func TestPlacesAreEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		families := family.Shelf()[:rapid.IntRange(1, 10).Draw(t, "families")]
		kinds := scenarios.Kinds()[:rapid.IntRange(1, 6).Draw(t, "kinds")]
		b := Blueprint{Families: families, Kinds: kinds, Jobs: rapid.IntRange(1, MostJobs).Draw(t, "jobs")}
		ofKind, ofFamily := map[scenarios.Kind]int{}, map[string]int{}
		for _, p := range b.Places() {
			ofKind[p.Kind]++
			ofFamily[p.Family.Code]++
		}
		if len(ofKind) != min(len(kinds), b.Jobs) {
			t.Fatalf("%d kinds of %d in %d jobs", len(ofKind), len(kinds), b.Jobs)
		}
		if len(ofFamily) < min(len(families), b.Jobs)/2 {
			t.Fatalf("%d families of %d in %d jobs", len(ofFamily), len(families), b.Jobs)
		}
	})
}

// Whatever the jobs, an exchange never drives forms apart, keeps every job, and the gain
// foretold of each is what it brings.
func TestSwapsBringFormsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := blueprint(rapid.IntRange(1, 5).Draw(t, "jobs"), rapid.IntRange(2, 5).Draw(t, "forms"))
		b.Kinds = scenarios.Kinds()[:rapid.IntRange(1, 2).Draw(t, "kinds")]
		pools := b.pools()
		number := uint64(0)
		for _, p := range pools {
			for range p.want(0.5) {
				number++
				p.jobs = append(p.jobs, Job{p.place, number, difficulty.Measure{
					Minutes:        rapid.Float64Range(20, 300).Draw(t, "minutes"),
					Decisions:      rapid.IntRange(2, 30).Draw(t, "decisions"),
					Panel:          rapid.Float64Range(20, 90).Draw(t, "panel"),
					Discrimination: rapid.Float64Range(0, 100).Draw(t, "discrimination"),
				}})
			}
		}
		d := deal(b, pools)
		was := apart(d)
		d.each(func(x exchange) { // those that would drive forms apart, too
			gain := d.gain(x)
			d.make(x)
			if now := apart(d); math.Abs(was-now-gain) > 1e-6*(1+was+now) {
				t.Fatalf("%+v: foretold %g, brought %g", x, gain, was-now)
			}
			d.make(x)
		})
		for {
			best, gain := exchange{}, 1e-9
			d.each(func(x exchange) {
				if g := d.gain(x); g > gain {
					best, gain = x, g
				}
			})
			if gain <= 1e-9 {
				break
			}
			before := apart(d)
			d.make(best)
			if after := apart(d); math.Abs(before-after-gain) > 1e-6*(1+before) {
				t.Fatalf("foretold %g, brought %g", gain, before-after)
			}
		}
		seen := map[uint64]bool{}
		for _, jobs := range slices.Concat(d.forms, d.spare) {
			for _, j := range jobs {
				if seen[j.Number] {
					t.Fatalf("job %d stands twice", j.Number)
				}
				seen[j.Number] = true
			}
		}
		if len(seen) != int(number) {
			t.Fatalf("%d of %d jobs are left", len(seen), number)
		}
	})
}

// apart is what swaps lower, added up afresh.
func apart(d *dealt) float64 {
	sum := 0.0
	for _, v := range d.values {
		totals := make([]float64, len(d.forms))
		mean := 0.0
		for i, f := range d.forms {
			for _, j := range f {
				totals[i] += v.of(j)
			}
			mean += totals[i] / float64(len(d.forms))
		}
		for _, x := range totals {
			sum += (x - mean) * (x - mean)
		}
	}
	return sum
}

// The job far from the middle is the spare.
func TestTrimSetsTheOddOneAside(t *testing.T) {
	p := &pool{need: 4}
	for i, minutes := range []float64{100, 300, 104, 96, 102} {
		p.jobs = append(p.jobs, Job{Number: uint64(i), Measure: difficulty.Measure{Minutes: minutes, Panel: 50, Decisions: 10}})
	}
	keep, spare := trim(p, Usual())
	assert.Len(t, keep, 4)
	require.Len(t, spare, 1)
	assert.Equal(t, uint64(1), spare[0].Number)
}

func TestMedian(t *testing.T) {
	assert.Equal(t, 3.0, median([]float64{5, 1, 3}))
	assert.Equal(t, 2.5, median([]float64{10, 2, 1, 3}))
}
