package validity_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/grading/validity"
	"shimwright/scenarios"
	held "shimwright/scenarios/misconception"
)

// verdict says whether a target is met.
func verdict(met bool) string {
	if met {
		return "met"
	}
	return "MISSED"
}

func count[T any](of []T, which func(T) bool) int {
	n := 0
	for _, x := range of {
		if which(x) {
			n++
		}
	}
	return n
}

// write is the report.
func write(t testing.TB, o outcome) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, `# How well the grader tells hands apart

Written by `+"`go test ./grading/validity -run Report -report`"+`; model version %s. All hands are
simulated: they differ by what was programmed. **Simulated reliability is not reliability
with people.** It shows only that the scoring is not what stands in the way.

For the classroom: no figure on this page says how far a person's grade can be relied on.
Apprentices differ in less than these hands do and in more ways, tire, guess and talk to each
other. Before a mark hangs on a grade, let a class of twenty or more do the same twelve jobs,
compare with what their instructors make of the same work, and work the figures out anew.
Until then the score is for practice: it says which decisions to talk about.

%d persons, each on the same %d jobs (%d forms of %d): %d competent hands, who count 0.6, 0.7 and
0.8 of the ring gear's travel as backlash, %d hands that make one slip on every third job, %d
beginners who make one slip on every job, one hand for each wrong idea that is competent
otherwise, %d that do anything the bench lets them. Resampled: %d times %d jobs out of these,
with putting back. Findings were worked out on other jobs than those reported here.

`, scenarios.ModelVersion, len(o.people), o.jobs(), o.size.forms, jobsInForm, len(careful()), o.size.persons, o.size.persons, o.size.persons/2, resamples, jobsInForm)
	o.writeTargets(t, &b)
	o.writeKinds(&b)
	o.writeStudy(t, &b)
	o.writeMisconceptions(&b)
	return b.String()
}

func (o outcome) writeTargets(t testing.TB, b *strings.Builder) {
	t.Helper()
	forms, m := o.forms(), o.means(o.allJobs())
	study, err := validity.Analyse(o.table())
	require.NoError(t, err)
	b.WriteString("## Targets\n\n| what | target | result | |\n| --- | --- | --- | --- |\n")
	row := func(what, target, result string, met bool) {
		fmt.Fprintf(b, "| %s | %s | %s | %s |\n", what, target, result, verdict(met))
	}
	row("competent hands, mean", fmt.Sprintf("at least %.0f", leastCompetent), fmt.Sprintf("%.1f", m[skilled]), m[skilled] >= leastCompetent)
	inOrder, _ := o.order(forms)
	row("order competent, slips, beginner, random", "all resamples", fmt.Sprintf("%d of %d", inOrder, resamples), inOrder == resamples)
	var harmful, ideas []scored
	for _, p := range o.people {
		if p.idea == "" {
			continue
		}
		ideas = append(ideas, p)
		if o.harmful(p) {
			harmful = append(harmful, p)
		}
	}
	below := count(harmful, func(p scored) bool { return p.on(o.allJobs()) < m[skilled] })
	row("each idea that does harm below competent work", "all", fmt.Sprintf("%d of %d", below, len(harmful)), below == len(harmful))
	always := count(harmful, func(p scored) bool { u, _ := o.under(p, forms); return u == resamples })
	row("the same in every resample, jobs on which it does not come up included", "all", fmt.Sprintf("%d of %d", always, len(harmful)), always == len(harmful))
	always = count(harmful, func(p scored) bool { return o.underWhereShown(p) == resamples })
	row("the same in every resample of jobs on which it comes up", "all", fmt.Sprintf("%d of %d", always, len(harmful)), always == len(harmful))
	above := count(ideas, func(p scored) bool { _, a := o.under(p, forms); return a == resamples })
	row("each idea above random in every resample", "all", fmt.Sprintf("%d of %d", above, len(ideas)), above == len(ideas))
	any, same, least := o.auc(forms, o.harmful)
	row("AUC on a form of 12 jobs: competent against beginners, random and ideas that do harm", fmt.Sprintf("at least %.2f", leastAUC), fmt.Sprintf("%.3f", same), same >= leastAUC)
	one := o.aucOneJob(o.harmful, true)
	row("AUC on one job, where these did something else", fmt.Sprintf("at least %.2f", leastAUCOneJob), fmt.Sprintf("%.3f", one), one >= leastAUCOneJob)
	row("G of 12 jobs", fmt.Sprintf("at least %.2f", leastG), fmt.Sprintf("%.3f", study.G(jobsInForm)), study.G(jobsInForm) >= leastG)
	named, found := 0, 0
	for _, i := range held.All() {
		n, f := o.labelled(i.ID)
		if n >= leastLabelled {
			named++
		}
		if f >= leastLabelled {
			found++
		}
	}
	all := len(held.All())
	row("ideas named as themselves after three jobs", fmt.Sprintf("each in %.0f %%", 100*leastLabelled), fmt.Sprintf("%d of %d", named, all), named == all)
	row("ideas named, or asked about beside another that makes a person do the same", fmt.Sprintf("each in %.0f %%", 100*leastLabelled), fmt.Sprintf("%d of %d", found, all), found == all)
	wrong := float64(o.falseOf) / float64(o.falseIn)
	row("competent hands given an idea after three jobs", fmt.Sprintf("at most %.0f %%", 100*mostFalse), fmt.Sprintf("%.1f %% (%d of %d); asked: %d", 100*wrong, o.falseOf, o.falseIn, o.askedOf), wrong <= mostFalse)
	row("graded again, the same to the last bit", "all", fmt.Sprintf("%d of %d", o.again-o.differed, o.again), o.differed == 0)

	most := 0.0
	for _, p := range harmful {
		if o.underWhereShown(p) < resamples {
			most = max(most, validity.Mean(p.costs))
		}
	}
	every := func(s scored) bool { return s.kind() != skilled && s.kind() != mistakenly }
	_, allForms, _ := o.auc(forms, every)
	fmt.Fprintf(b, `
The area on a form is the mean over forms that all hands do; it is %.3f or more on all forms
but one in forty. Taken over hands on different forms, of which no two are made alike in
difficulty as those that are dealt are, it is %.3f.

An idea does harm where it costs in truth %.0f minutes a job or more beyond competent work, an
hour on a form: minutes worked, parts, and %s where the finished axle misses
its sheet, which the grader never sees. That was found on %d jobs that are not scored here.
%d of %d ideas do no such harm. Their hands score as they work: well. Counted in with the rest
they bring the area down to %.3f on 12 jobs and to %.3f on any one job, whether the idea came
up on it or not. No fair score could tell these hands apart; the findings below do, from what
was done and not from what was lost.

An idea that was not below competent work in every resample of jobs on which it came up costs
%.0f minutes a job in truth at most: less than luck gives or takes on some forms of twelve.

Over all hands but the competent ones the score goes with what the work came to in truth by
a rank correlation of %.2f.
`, least, any, harmMinutes, "an axle that comes back", o.size.forms*jobsInForm, len(ideas)-len(harmful), len(ideas), allForms, o.aucOneJob(every, false), most, o.truth())
}

func (o outcome) writeKinds(b *strings.Builder) {
	forms, m := o.forms(), o.means(o.allJobs())
	_, above := o.order(forms)
	b.WriteString("\n## Kinds of hand\n\n| kind | mean | above the next, resamples | AUC of the competent against it, 12 jobs | one job | one job on which it did something else |\n| --- | ---: | ---: | ---: | ---: | ---: |\n")
	for _, k := range kinds() {
		next := ""
		if i := slices.Index(ordered(), k); i >= 0 && i < len(above) {
			next = fmt.Sprintf("%d of %d", above[i], resamples)
		}
		area := " |  | "
		if k != skilled {
			of := func(s scored) bool { return s.kind() == k }
			_, same, _ := o.auc(forms, of)
			area = fmt.Sprintf("%.3f | %.3f | %.3f", same, o.aucOneJob(of, false), o.aucOneJob(of, true))
		}
		fmt.Fprintf(b, "| %s | %.1f | %s | %s |\n", k, m[k], next, area)
	}
	b.WriteString(`
No place in the order is claimed for the ideas as a kind: a beginner here slips on every job,
an idea shows only where it comes up, and what it costs is its own affair.
`)
}

func (o outcome) writeStudy(t testing.TB, b *strings.Builder) {
	t.Helper()
	study, err := validity.Analyse(o.table())
	require.NoError(t, err)
	alpha, err := validity.Alpha(o.table())
	require.NoError(t, err)
	var discrimination []float64
	for j := range o.jobs() {
		discrimination = append(discrimination, validity.Discrimination(o.table(), j))
	}
	slices.Sort(discrimination)
	fmt.Fprintf(b, `
## Persons by jobs

Variance of persons %.1f, jobs %.1f, rest %.1f. G %.3f on one job, %.3f on twelve; Phi %.3f and
%.3f. Cronbach's alpha of all %d jobs %.3f. %d jobs would give these hands a G of 0.80, %d one of 0.90:
people will need more. A job's score goes with the mean of the others by %.2f at least, %.2f
in the middle.
`, study.VarPerson, study.VarJob, study.VarRest, study.G(1), study.G(jobsInForm), study.Phi(1), study.Phi(jobsInForm), o.jobs(), alpha,
		needed(study, 0.80), needed(study, 0.90), discrimination[0], discrimination[len(discrimination)/2])
}

func (o outcome) writeMisconceptions(b *strings.Builder) {
	fmt.Fprintf(b, `
## Ideas

After three jobs on which the idea changes what is done, %d times. "Truth" is what the idea
cost beyond competent work, minutes a job over the common jobs, on which some ideas never come
up; "score" the mean over the same jobs; "shown" the share of them on which something else
was done. The hands act out the very signs that the findings look for; people will be less
pure.

| idea at work | named | asked about | neither | named as another | shown | truth | score | below competent, resamples | where it shows |
| --- | ---: | ---: | ---: | --- | ---: | ---: | ---: | ---: | ---: |
`, o.size.triples)
	forms := o.forms()
	people := slices.DeleteFunc(slices.Clone(o.people), func(p scored) bool { return p.idea == "" })
	slices.SortStableFunc(people, func(a, b scored) int { return cmp.Compare(validity.Mean(a.costs), validity.Mean(b.costs)) })
	for _, p := range people {
		id := p.idea
		var others []string
		for _, other := range held.All() {
			if n := o.labels[id][other.ID]; n > 0 && other.ID != id {
				others = append(others, fmt.Sprintf("%s %d", other.ID, n))
			}
		}
		shown := float64(count(p.other, func(x bool) bool { return x })) / float64(o.jobs())
		under, _ := o.under(p, forms)
		fmt.Fprintf(b, "| %s | %d | %d | %d | %s | %.0f %% | %+.0f | %.0f | %d | %d |\n", id, o.labels[id][id], o.labels[id][asked], o.labels[id][""],
			strings.Join(others, ", "), 100*shown, validity.Mean(p.costs), validity.Mean(p.scores), under, o.underWhereShown(p))
	}
}
