package validity_test

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/peopletest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

// A trial is a charged act and what became of it and of the advice on it, on the true axle, each
// with the reference technician after it; shop minutes.
type trial struct {
	who, did, advice string
	stated           float64 // what the grade says the advice would have saved
	saved            float64 // what it saved
	// Whether the axle ended outside a specification: after the advice, after what was done, and
	// the reference technician's.
	wrong, other, reference bool
}

// ends is what a job comes to in truth that goes on from some steps with an act and then by the
// reference technician; ok is false where it cannot be gone on with.
func ends(t testing.TB, j scenarios.Job, before []history.Step, a act.Act) (minutes float64, wrong, ok bool) {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	r := &sim.Recorder{Stand: s}
	for _, o := range before {
		_, err := r.Do(o.Act)
		require.NoError(t, err)
	}
	if _, err := r.Do(a); err != nil {
		return 0, false, false
	}
	if !r.Status().SignedOff {
		if _, err := technician.GoOn(r, j.Card.Known, technician.Competent(), j.Card.Before, r.Steps); err != nil {
			return 0, false, false
		}
	}
	bill := reveal.BillOf(cost.Default(), j.Card, r.Stand)
	st := r.Status()
	return float64(st.Minutes+st.PartsMinutes) + bill.TotalMin(), missed(bill), true
}

// missed tells whether a line of the specification sheet is truly missed.
func missed(b reveal.Bill) bool { return b.DepthMin+b.TorqueMin+b.BacklashMin+b.SideFitMin > 0 }

// tried tries the advice on the dearest charged acts of a person's job.
func tried(t testing.TB, who peopletest.Person, j scenarios.Job, g sim.Gains, most int) []trial {
	t.Helper()
	const leastMin = 5
	r, err := who.Play(j)
	require.NoError(t, err)
	rep := grading.GradeWith(g, cost.Default(), j.Card, r.Steps, quantity.Inch)
	dearest := slices.Clone(rep.Decisions)
	slices.SortStableFunc(dearest, func(a, b grading.Decision) int { return int(math.Copysign(1, b.Lost-a.Lost)) })
	good, err := peopletest.TheReference().Play(j)
	require.NoError(t, err)
	reference := missed(reveal.BillOf(cost.Default(), j.Card, good.Stand))
	var out []trial
	acts := map[int]bool{}
	for _, d := range dearest {
		if len(out) >= most || d.Lost < leastMin {
			break
		}
		if acts[d.Act] || len(d.Alternatives) == 0 {
			continue
		}
		acts[d.Act] = true
		advised, err := act.Parse(d.Alternatives[0].What, quantity.Inch)
		require.NoError(t, err, d.Alternatives[0].What)
		before := r.Steps[:d.Act-1]
		after, wrong, ok := ends(t, j, before, advised)
		done, other, also := ends(t, j, before, r.Steps[d.Act-1].Act)
		if ok && also {
			out = append(out, trial{who.Name, d.Did, d.Alternatives[0].What, rep.Lines[d.Act-1].Charge, done - after, wrong, other, reference})
		}
	}
	return out
}

// advise tries the advice that some people get, each on a job of each of some families.
func advise(t testing.TB, people []peopletest.Person, codes []string, from uint64, most int) []trial {
	t.Helper()
	var out []trial
	for i, code := range codes {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		m, err := scenarios.Order{Family: fam}.Maker()
		require.NoError(t, err)
		for n, who := range people {
			j, err := m.Generate(from + uint64(100*i+n))
			require.NoError(t, err)
			g, err := sim.NominalGains(j.Card.Family, j.Card.UsedBearings)
			require.NoError(t, err)
			out = append(out, tried(t, who, j, g, most)...)
		}
	}
	return out
}

// advised are the people whose charged acts are tried.
func advised() []peopletest.Person {
	out := append(peopletest.Hostiles(), peopletest.Holding()...)
	return append(out, peopletest.Mixtures(12, 0.8, 0.2)...)
}

// A tally is what trials came to: means in minutes, and how many ended outside a specification.
type tally struct {
	n, stated, saved    float64
	wrong, other, right int // after the advice, after what was done, and the reference technician's
}

func sums(all []trial) tally {
	s := tally{n: float64(len(all))}
	for _, x := range all {
		s.stated, s.saved = s.stated+x.stated/s.n, s.saved+x.saved/s.n
		for _, c := range []struct {
			is bool
			n  *int
		}{{x.wrong, &s.wrong}, {x.other, &s.other}, {x.reference, &s.right}} {
			if c.is {
				*c.n++
			}
		}
	}
	return s
}

// TestAdviceReport tries the advice on request and writes what came of it.
func TestAdviceReport(t *testing.T) {
	if !*report {
		t.Skip("all advice is tried on request: go test ./grading/validity -run TestAdviceReport -report -timeout 2h")
	}
	var codes []string
	for _, f := range family.Shelf() {
		codes = append(codes, f.Code)
	}
	all := advise(t, advised(), codes, 7000, 2)
	s := sums(all)
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("# What following the advice saves\n")
	line("Written by `go test ./grading/validity -run TestAdviceReport -report -timeout 2h`; model version %s. The dearest charged", scenarios.ModelVersion)
	line("decisions of %d simulated technicians on a job of every family: the advised act, and the reference technician after it,", len(advised()))
	line("beside what was done, and the reference technician after that; on the true axle, in shop minutes.\n")
	line("| what | target | result |\n|---|---|---:|")
	line("| charged decisions tried | at least 500 | %.0f |", s.n)
	line("| stated to be saved, mean | | %.1f |", s.stated)
	line("| saved, mean | within 20 %% | %.1f (%+.0f %%) |", s.saved, 100*(s.saved/s.stated-1))
	line("| ended outside a specification after the advice | no more than the reference technician | %d |", s.wrong)
	line("| the reference technician on the same jobs | | %d |", s.right)
	line("| after what was done | | %d |", s.other)
	line("\n## By what was advised in the place of what\n\n| advised | done | tried | stated | saved |\n|---|---|---:|---:|---:|")
	by := map[string][]trial{}
	form := func(s string) string { return strings.Join(strings.Fields(s)[:2], " ") }
	for _, x := range all {
		key := "| " + form(x.advice) + " | " + form(x.did) + " |"
		by[key] = append(by[key], x)
	}
	const few = 8
	for _, key := range slices.Sorted(maps.Keys(by)) {
		if x := sums(by[key]); x.n >= few {
			line("%s %.0f | %.1f | %.1f |", key, x.n, x.stated, x.saved)
		}
	}
	require.NoError(t, os.WriteFile(filepath.Join("..", "..", "testdata", "reports", "advice.md"), []byte(b.String()), 0o644))
}

// Following the advice saves about what is stated, on the true axles. The bound leaves room for a
// few dozen decisions; the report has hundreds.
func TestAdviceSavesWhatIsStated(t *testing.T) {
	people := slices.DeleteFunc(advised(), func(p peopletest.Person) bool {
		return !slices.Contains([]string{"never measures", "inspects nothing", "torque-is-preload", "caps-snug", "wrong-way", "no-side-preload", "nothing-inspected", "seats the cups 40 times"}, p.Name)
	})
	s := sums(advise(t, people, longtest.Pick([]string{"BEECH", "ALDER"}, []string{"BEECH", "ALDER", "HAZEL", "JUNIPER"}), 7000, 2))
	t.Logf("%.0f decisions: %.1f stated, %.1f saved; outside a specification %d, %d after what was done", s.n, s.stated, s.saved, s.wrong, s.other)
	assert.Greater(t, s.n, 8.0)
	assert.InDelta(t, s.stated, s.saved, 0.4*s.stated)
	assert.LessOrEqual(t, s.wrong, s.other)
}
