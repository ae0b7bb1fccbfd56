package view

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"shimwright/grading/form"
	"shimwright/scenarios"
	"shimwright/sim/text"
)

// FormsCSV writes forms as a table for other programs: a line a job, with what was
// measured of it.
func FormsCSV(s form.Set) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	// A strings.Builder takes all that is written to it.
	_ = w.Write([]string{"form", "place", "family", "kind", "job", "difficulty", "band", "minutes", "acts", "decisions", "bits_open",
		"panel_score", "careful_score", "discrimination", "wrong_move_loses_min", "signs_turned_loses_min", "never_measures_loses_min"})
	n := func(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }
	for i, f := range s.Forms {
		for k, j := range f {
			m := j.Measure
			_ = w.Write([]string{strconv.Itoa(i + 1), strconv.Itoa(k + 1), j.Family.Code, j.Kind.String(), strconv.FormatUint(j.Number, 10),
				n(m.Number()), string(m.Band()), n(m.Minutes), strconv.Itoa(m.Acts), strconv.Itoa(m.Decisions), n(m.Entropy),
				n(m.Panel), strconv.Itoa(m.Careful), n(m.Discrimination), n(m.WrongMoveLoses), n(m.SignsTurnedLoses), n(m.NeverMeasuresLoses)})
		}
	}
	w.Flush()
	return b.String()
}

// FormPages writes a page a form to hand out: what to type for each job, and room for the
// scores. start says what to type after the program's name. Pages are set apart by form
// feeds, so that each patterns on a sheet of its own.
func FormPages(s form.Set, start func(form.Job) string, p Pen) string {
	var b strings.Builder
	for i, f := range s.Forms {
		if i > 0 {
			b.WriteByte('\f')
		}
		b.WriteString(p.Heading(p.Print(text.Say("forms.form", "Form {number}: {jobs} {jobs:job|jobs}", text.Typed("number", strconv.Itoa(i+1)), text.Count("jobs", len(f))))))
		b.WriteString("\nName: ____________________   Date: ____________\n\n")
		b.WriteString("      " + p.Print(text.Say("view.forms.score-type", `score   type
`)))
		for k, j := range f {
			fmt.Fprintf(&b, "%4d  _____   %s\n", k+1, p.Command(start(j)))
		}
		said := map[string]bool{}
		b.WriteByte('\n')
		for _, j := range f {
			if !said[j.Kind.String()] {
				said[j.Kind.String()] = true
				b.WriteString(p.Field(j.Kind.String(), p.Print(j.Kind.Explain()), 13))
			}
		}
		b.WriteString("\n" + Wrap(p.Print(text.Say("view.forms.axles-figures-invented-for", "Axles and figures are invented, for practice. On a real axle the maker's manual, local rules and a qualified person decide. A score certifies nobody.")), p.Width, ""))
	}
	return b.String()
}

// FormsReport writes what shows that forms are alike.
func FormsReport(s form.Set, p Pen) string {
	var b strings.Builder
	bp, proof := s.Blueprint, s.Proof
	b.WriteString(p.Heading(p.Print(text.Say("forms.size", "{forms} {forms:form|forms} of {jobs} {jobs:job|jobs} each", text.Count("forms", len(s.Forms)), text.Count("jobs", bp.Jobs)))))
	var places []string
	for _, place := range bp.Places() {
		places = append(places, place.Family.Code+" "+place.Kind.String())
	}
	b.WriteString(p.Field(p.Print(text.Say("view.forms.every-form", "Every form")), strings.Join(places, ", "), 17))
	b.WriteString(p.Field(p.Print(text.Say("view.forms.faults", "Faults")), faultsWords(bp.Faults, p), 17))
	if bp.Band != "" {
		b.WriteString(p.Field(p.Print(text.Say("view.forms.difficulty", "Difficulty")), string(bp.Band), 17))
	}
	if len(bp.Mistakes) > 0 {
		b.WriteString(p.Field(p.Print(text.Say("view.forms.mistakes-shown", "Mistakes shown")), strings.Join(bp.Mistakes, " or "), 17))
	}
	tried := strconv.Itoa(proof.Tried)
	if bp.Among == nil {
		tried += p.Print(text.Say("view.forms.from-number-each-place", ", from number {first} on at each place", text.Typed("first", fmt.Sprint(bp.First))))
	}
	b.WriteString(p.Field(p.Print(text.Say("view.forms.jobs-tried", "Jobs tried")), tried, 17))
	b.WriteString(p.Field(p.Print(text.Say("view.forms.passed-over", "Passed over")), p.Print(text.Say("view.forms.another-difficulty-would-not", "{outside_band} of another difficulty, {without_sign} that would not show the mistake, {unfinishable} that could not be finished", text.Count("outside_band", proof.OutsideBand), text.Count("without_sign", proof.WithoutSign), text.Count("unfinishable", proof.Unfinishable))), 17))
	b.WriteString(p.Field(p.Print(text.Say("view.forms.exchanges", "Exchanges")), strconv.Itoa(proof.Swaps), 17))

	b.WriteString("\n" + p.Heading(p.Print(text.Say("view.forms.greatest-difference-between-any", "Greatest difference between any two forms, means over their jobs"))))
	for _, r := range proof.Rows {
		prose := fmt.Sprintf("%.*f", r.Decimal, r.Worst)
		switch {
		case r.Margin == 0:
			prose += p.Print(text.Say("view.forms.not-matched-for-comparison", ", not matched, for comparison"))
		case r.Met():
			prose += p.Print(text.Say("forms.within", ", within {margin}", text.Number("margin", r.Margin, r.Decimal)))
		default:
			prose += p.Print(text.Say("forms.more-than", ", more than {margin}", text.Number("margin", r.Margin, r.Decimal)))
		}
		b.WriteString(p.Field(r.Name, prose, 30))
	}

	b.WriteString("\n" + p.Heading(p.Print(text.Say("view.forms.form-by-form", "Form by form"))))
	b.WriteString(p.Print(text.Say("view.forms.form-difficulty-minutes-decisions", `form  difficulty  minutes  decisions  discrim.  panel
`)))
	for i := range s.Forms {
		v := func(row int) float64 { return proof.Rows[row].Means[i] }
		fmt.Fprintf(&b, "%4d  %10.1f  %7.1f  %9.1f  %8.1f  %5.1f\n", i+1, v(0), v(1), v(2), v(3), v(4))
	}
	b.WriteString("\n" + Wrap(p.Print(text.Say("view.forms.difficulty-runs-from-0", "Difficulty runs from 0 to 100. Seven simulated technicians work each job; difficulty counts what mistakes cost, minutes, decisions and what the card leaves open. Minutes and decisions are those of the careful one. Discrimination is its score less the score of those that cannot get the job right. Simulated technicians are not people: equal forms here have not been shown to be equal for people.")), p.Width, ""))
	return b.String()
}

// faultsWords says what a fault rule comes to.
func faultsWords(r scenarios.FaultRule, p Pen) string {
	switch {
	case len(r.OneOf) > 0:
		var names []string
		for _, id := range r.OneOf {
			names = append(names, string(id))
		}
		return p.Print(text.Say("view.forms.one", "one of {names}", text.Typed("names", strings.Join(names, ", "))))
	case r.None:
		return p.Print(text.Say("view.forms.none", "none"))
	}
	return p.Print(text.Say("view.forms.as-often-as-catalogue", "as often as in the catalogue"))
}
