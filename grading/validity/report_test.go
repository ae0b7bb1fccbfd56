package validity_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/validity"
	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
	"shimwright/scenarios/peopletest"
	"shimwright/sim/longtest"
)

var report = flag.Bool("report", false, "run the whole panel and write testdata/reports/validity.md")

// everyone is the whole panel beside the reference technician.
func everyone() []peopletest.Person {
	const mixtures = 24
	out := append(peopletest.Schools(), peopletest.Hostiles()...)
	out = append(out, peopletest.Mistaken("a mistake on every third job", 2, 0.33)...)
	out = append(out, peopletest.Mistaken("a mistake on every job", 3, 1)...)
	out = append(out, peopletest.Mixtures(mixtures, 0.8, 0.2)...)
	return append(out, peopletest.Holding()...)
}

// reported are the jobs of the report: a form, and jobs of the kinds on which some
// misconceptions alone can show.
func reported() []place {
	out := formPlaces()
	for _, code := range []string{"DOGWOOD", "JUNIPER", "ELM"} {
		out = append(out, place{code, scenarios.PatternJob})
	}
	for _, code := range []string{"BEECH", "CEDAR", "GORSE"} {
		out = append(out, place{code, scenarios.PreviousWork})
	}
	return out
}

// TestReport runs the whole panel on request and writes what came of it.
func TestReport(t *testing.T) {
	if !*report {
		t.Skip("the whole panel runs on request: go test ./grading/validity -run TestReport -report -timeout 2h")
	}
	const from = 4100
	p := sit(t, reported(), from, everyone())
	file := filepath.Join("..", "..", "testdata", "reports", "validity.md")
	require.NoError(t, os.WriteFile(file, []byte(p.write()), 0o644))
}

// harmMinutes is what a misconception has to cost in truth, a job, to count as one that does
// harm.
const harmMinutes = 5.0

func (p panel) write() string {
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("# How well the grade tells technicians apart\n")
	line("Written by `go test ./grading/validity -run TestReport -report -timeout 2h`; model version %s. All technicians are simulated:", scenarios.ModelVersion)
	line("they differ by what was programmed. **Simulated reliability is not reliability with people.** %d people on the same %d jobs.\n", len(p.seats), len(p.jobs))
	good := p.of(peopletest.Reference, peopletest.School)
	hostile := p.of(peopletest.Hostile, peopletest.Random)
	mixed := p.of(peopletest.Mixed)
	one, all := p.auc(append(slices.Clone(hostile), mixed...))
	line("| what | target | result |\n|---|---|---:|")
	line("| reference technician, mean | at least 93 | %.1f |", p.reference().mean())
	least, worst := 100.0, ""
	for _, s := range p.of(peopletest.School) {
		if s.mean() < least {
			least, worst = s.mean(), s.Name
		}
	}
	line("| lowest of %d schools, mean (%s) | at least 92 | %.1f |", len(good)-1, worst, least)
	above := 0
	for _, s := range hostile {
		if true, _ := p.extra(s); true > 60 && s.mean() > 80 {
			above++
		}
	}
	line("| hostile kinds that waste over 60 minutes a job and score above 80 | 0 | %d |", above)
	line("| AUC, reference and schools against hostile and mixed, one job on which these did something else | at least 0.88 | %.3f |", one)
	line("| AUC, %d jobs | at least 0.97 | %.3f |", len(p.jobs), all)
	sure := grading.TheSurety()
	line("| how far one score lies from its person's mean, standard deviation | %.0f is said | %.1f |", sure.JobSD, p.jobSD())
	table := make([][]float64, len(p.seats))
	for i, s := range p.seats {
		table[i] = s.scores()
	}
	if study, err := validity.Analyse(table); err == nil {
		const form = 12
		line("| G of %d jobs | at least 0.85 | %.3f |", form, study.G(form))
	}
	named, other, neither, count := p.mixtures()
	line("| mixtures of two misconceptions that do harm, named one of theirs | at least 80 %% | %d of %d |", named, count)
	line("| mixtures told as sure of one they do not hold | at most 3 %% | %d of %d (%d told nothing) |", other, count, neither)
	falsely, in := 0, 0
	for _, s := range good {
		for _, jobs := range triples(p.allJobs()) {
			in++
			if labelOf(s, jobs...).named != "" {
				falsely++
			}
		}
	}
	line("| reference and schools given a misconception after three jobs | at most 3 %% | %d of %d |", falsely, in)
	line("\n## People\n\nTruth is what the work cost beyond the reference technician's, charge what the grade charged beyond; minutes a job.\n")
	line("| sort | person | score | lowest | truth | charge |\n|---|---|---:|---:|---:|---:|")
	for _, s := range p.seats {
		if s.Sort == peopletest.Pure {
			continue
		}
		true, charged := p.extra(s)
		line("| %s | %s | %.1f | %.0f | %+.0f | %+.0f |", s.Sort, s.Name, s.mean(), slices.Min(s.scores()), true, charged)
	}
	line("\n## Misconceptions\n\nNamed after three jobs on which it changed what was done, or as many as there are.\n")
	line("| held | jobs on which it shows | named | asked about | named as another | truth | charge | score |\n|---|---:|---|---|---|---:|---:|---:|")
	for _, s := range p.of(peopletest.Pure) {
		shown := p.shown(s)
		l := labelOf(s, shown[:min(3, len(shown))]...)
		yes := map[bool]string{true: "yes", false: ""}
		another := ""
		if l.named != "" && !slices.Contains(s.Holds, l.named) {
			another = l.named
		}
		true, charged := p.extra(s)
		line("| %s | %d | %s | %s | %s | %+.0f | %+.0f | %.1f |", s.Name, len(shown), yes[slices.Contains(s.Holds, l.named)], yes[l.asked], another, true, charged, s.mean())
	}
	return b.String()
}

// harmful lists the misconceptions that did harm here.
func (p panel) harmful() map[string]bool {
	out := map[string]bool{}
	for _, s := range p.of(peopletest.Pure) {
		true, _ := p.extra(s)
		out[s.Name] = true >= harmMinutes
	}
	return out
}

// mixtures counts what the holders of two misconceptions are told over all jobs, those of whose
// misconceptions at least one does harm.
func (p panel) mixtures() (named, other, neither, of int) {
	harm := p.harmful()
	for _, s := range p.of(peopletest.Mixed) {
		if !slices.ContainsFunc(s.Holds, func(id string) bool { return harm[id] }) {
			continue
		}
		of++
		switch l := labelOf(s, p.allJobs()...); {
		case slices.Contains(s.Holds, l.named):
			named++
		case l.named != "":
			other++
		default:
			neither++
		}
	}
	return named, other, neither, of
}

// jobSD is how far a job's score lies from the mean of who did it, as a standard deviation
// pooled over all but those who work at random.
func (p panel) jobSD() float64 {
	sum, n := 0.0, 0
	for _, s := range p.seats {
		if s.Sort != peopletest.Random {
			sum += math.Pow(validity.SD(s.scores()), 2)
			n++
		}
	}
	return math.Sqrt(sum / float64(n))
}

// The panel in small: what has to hold in every run of the tests. The bounds leave room for a
// form of few jobs, not for another order.
func TestPanelInSmall(t *testing.T) {
	people := append(longtest.Some(peopletest.Schools(), 7), longtest.Some(peopletest.Hostiles(), 14)...)
	p := sit(t, formPlaces()[:3], 900, append(people, peopletest.Mistaken("a mistake on every job", 2, 1)...))
	right := p.reference().mean()
	assert.GreaterOrEqual(t, right, leastReference)
	for _, s := range p.seats {
		true, charged := p.extra(s)
		t.Logf("%-9s %-60s score %5.1f truth %+6.0f charge %+6.0f", s.Sort, s.Name, s.mean(), true, charged)
		switch {
		case s.Sort == peopletest.School:
			assert.GreaterOrEqual(t, s.mean(), right-mostSchoolBelow, s.Name)
		case s.Sort == peopletest.Random:
			assert.LessOrEqual(t, s.mean(), mostRandom, s.Name)
		case s.Sort == peopletest.Hostile:
			most, capped := atMost()[s.Name]
			if !capped {
				most = right + 3 // a form of three jobs tells no closer
			}
			assert.LessOrEqual(t, s.mean(), most, s.Name)
		}
	}
	one, all := p.auc(p.of(peopletest.Hostile, peopletest.Random))
	t.Logf("AUC %.3f on one job, %.3f on all", one, all)
	assert.GreaterOrEqual(t, one, leastAUCOneJob)
	t.Logf("a score lies %.1f from its person's mean", p.jobSD())
	assert.InDelta(t, grading.TheSurety().JobSD, p.jobSD(), 0.8*grading.TheSurety().JobSD, "what is said of how sure a score is; three jobs of one family are more alike")
}

// A technician for each of some misconceptions, on jobs on which it shows: it is told its own.
func TestMisconceptionsAreToldAsThemselves(t *testing.T) {
	var some []peopletest.Person
	for _, h := range peopletest.Holding() {
		if slices.Contains([]string{"mark-turned", "gauge-turned", "torque-is-preload", "nothing-inspected", "parts-replaced", "plunger-at-toe", "wrong-way"}, h.Name) {
			some = append(some, h)
		}
	}
	p := sit(t, []place{{family: "BEECH"}, {family: "ALDER"}, {family: "GORSE"}, {family: "BEECH"}}, 60001, some)
	for _, s := range p.of(peopletest.Pure) {
		shown := p.shown(s)
		require.NotEmpty(t, shown, s.Name)
		assert.Equal(t, s.Name, labelOf(s, shown...).named, "on %d jobs", len(shown))
	}
	assert.Empty(t, labelOf(p.reference(), p.allJobs()...).named)
	assert.GreaterOrEqual(t, len(misconception.All()), 46)
}

// The order that the statistics rest on: an area under the curve of one half is chance.
func TestAreaOfChance(t *testing.T) {
	assert.InDelta(t, 0.5, validity.AUC([]float64{1, 2, 3}, []float64{1, 2, 3}), 1e-12)
}

// atMost is what some hostile ways of work score at most, by the formula of the score: what is
// not proved, and what is contradicted.
func atMost() map[string]float64 {
	f := grading.TheFormula()
	unproved, contradicted := float64(f.UnprovedMost), float64(f.ContradictedMost)
	return map[string]float64{
		"writes a false build sheet": contradicted, "makes no pattern": unproved, "measures no total torque": unproved,
		"makes no pattern, measures no total torque and no runout": unproved, "believes one reading": unproved,
		"never measures": unproved, "signs at once": contradicted, "first on the menu": contradicted, "copies another axle": unproved, "turns every sign": contradicted,
	}
}

// Bounds of the small panel.
const (
	leastReference  = 80.0
	mostSchoolBelow = 20.0
	mostRandom      = 30.0
	leastAUCOneJob  = 0.8
)
