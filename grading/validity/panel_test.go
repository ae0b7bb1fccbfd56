package validity_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/misconception"
	"shimwright/grading/reveal"
	"shimwright/grading/validity"
	"shimwright/scenarios"
	"shimwright/scenarios/peopletest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A place is one job of a form.
type place struct {
	family string
	kind   scenarios.Kind
}

// formPlaces are the twelve jobs of a form: every family, the common one three times.
func formPlaces() []place {
	var out []place
	for _, code := range []string{"BEECH", "CEDAR", "DOGWOOD", "GORSE", "ALDER", "ELM", "BEECH", "FIR", "HAZEL", "IRONBARK", "JUNIPER", "BEECH"} {
		out = append(out, place{family: code})
	}
	return out
}

// A play is what a person made of a job.
type play struct {
	steps  []history.Step
	report grading.Report
	cost   float64 // in truth, shop minutes: work, parts and what is still to come
	weighs misconception.Evidence
}

// score is what a job goes down with: none without a signature.
func (p play) score() float64 {
	if !p.report.SignedOff {
		return 0
	}
	return float64(p.report.Score)
}

// A seat is a person and what it made of every job.
type seat struct {
	peopletest.Person
	plays []play
}

func (s seat) scores() []float64 {
	out := make([]float64, len(s.plays))
	for i, p := range s.plays {
		out[i] = p.score()
	}
	return out
}

func (s seat) mean() float64 { return validity.Mean(s.scores()) }

// A panel is jobs, and people who have all done them; the reference technician sits first.
type panel struct {
	jobs  []scenarios.Job
	gains []sim.Gains
	seats []seat
}

// sit has people do jobs on places, their numbers from one up.
func sit(t testing.TB, places []place, from uint64, people []peopletest.Person) panel {
	t.Helper()
	p := panel{seats: []seat{{Person: peopletest.TheReference()}}}
	for _, who := range people {
		p.seats = append(p.seats, seat{Person: who})
	}
	for i, at := range places {
		fam, err := family.Shipped(at.family)
		require.NoError(t, err)
		j, err := scenarios.Order{Family: fam, Kind: at.kind}.Generate(from + uint64(i))
		require.NoError(t, err)
		g, err := sim.NominalGains(j.Card.Family, j.Card.UsedBearings)
		require.NoError(t, err)
		p.jobs, p.gains = append(p.jobs, j), append(p.gains, g)
		for n := range p.seats {
			s := &p.seats[n]
			s.plays = append(s.plays, playOf(t, s.Person, j, g))
		}
	}
	return p
}

func playOf(t testing.TB, who peopletest.Person, j scenarios.Job, g sim.Gains) play {
	t.Helper()
	r, err := who.Play(j)
	require.NoError(t, err)
	costs := cost.Default()
	st := r.Status()
	rest, err := reveal.RestOf(costs, j, r.Steps, technician.Competent())
	require.NoError(t, err, "%s, %s %d", who.Name, j.Card.Family.Code, j.Card.Seed)
	return play{r.Steps, grading.GradeWith(g, costs, j.Card, r.Steps, quantity.Inch), float64(st.Minutes+st.PartsMinutes) + rest, misconception.Of(j.Card, g, r.Steps)}
}

func (p panel) reference() seat { return p.seats[0] }

// extra is what a person's work cost in truth beyond the reference technician's, and what it
// was charged beyond; shop minutes a job.
func (p panel) extra(s seat) (true, charged float64) {
	n := float64(len(p.jobs))
	for i, r := range p.reference().plays {
		true += (s.plays[i].cost - r.cost) / n
		charged += (s.plays[i].report.Lost - r.report.Lost) / n
	}
	return true, charged
}

// of lists the seats of some sorts.
func (p panel) of(sorts ...peopletest.Sort) []seat {
	return slices.DeleteFunc(slices.Clone(p.seats), func(s seat) bool { return !slices.Contains(sorts, s.Sort) })
}

// differs tells whether other acts were done than the reference technician's.
func differs(a, b play) bool { return !slices.Equal(differentActs(a.steps), differentActs(b.steps)) }

// differentActs lists the acts that were done, each once.
func differentActs(steps []history.Step) []string {
	var out []string
	for _, o := range steps {
		if a := o.Act.String(); !slices.Contains(out, a) {
			out = append(out, a)
		}
	}
	return out
}

// auc is the area under the curve of good people's scores against others', on one job where
// those did something else, and over all jobs together.
func (p panel) auc(bad []seat) (one, all float64) {
	good := p.of(peopletest.Reference, peopletest.School)
	var low, high, lowAll, highAll []float64
	for _, s := range good {
		high, highAll = append(high, s.scores()...), append(highAll, s.mean())
	}
	for _, s := range bad {
		lowAll = append(lowAll, s.mean())
		for i, x := range s.plays {
			if differs(x, p.reference().plays[i]) {
				low = append(low, x.score())
			}
		}
	}
	return validity.AUC(low, high), validity.AUC(lowAll, highAll)
}

// A label is what a person is told after some jobs.
type label struct {
	named string // "" nothing
	asked bool   // one of those asked about is held
}

// labelOf joins the evidence of jobs.
func labelOf(s seat, jobs ...int) label {
	var e misconception.Evidence
	for _, i := range jobs {
		e = e.Plus(s.plays[i].weighs)
	}
	f := e.Finding()
	l := label{named: f.Label()}
	for _, c := range f.Misconceptions {
		l.asked = l.asked || !f.Sure && slices.Contains(s.Holds, c.ID)
	}
	return l
}

// shown lists the jobs on which a person did something else than the reference technician.
func (p panel) shown(s seat) []int {
	var out []int
	for i, r := range p.reference().plays {
		if differs(s.plays[i], r) {
			out = append(out, i)
		}
	}
	return out
}

// triples are runs of three jobs.
func triples(jobs []int) [][]int {
	var out [][]int
	for i := 0; i+3 <= len(jobs); i += 3 {
		out = append(out, jobs[i:i+3])
	}
	return out
}

func (p panel) allJobs() []int {
	out := make([]int, len(p.jobs))
	for i := range out {
		out[i] = i
	}
	return out
}

// The same steps give the same grade, and so does the same work done again.
func TestGradingAgainIsTheSame(t *testing.T) {
	people := []peopletest.Person{peopletest.Mixtures(1, 0.7, 1)[0]}
	places := []place{{family: "BEECH"}, {family: "CEDAR"}}
	a, b := sit(t, places, 40, people), sit(t, places, 40, people)
	for n := range a.seats {
		for i := range a.jobs {
			one, two := a.seats[n].plays[i], b.seats[n].plays[i]
			require.Equal(t, one.report, two.report)
			require.Equal(t, math.Float64bits(one.cost), math.Float64bits(two.cost))
		}
	}
}
