package view

import (
	"fmt"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/grading"
	"shimwright/grading/misconception"
	"shimwright/grading/reveal"
)

// Debrief writes the grade for a person: score by area, where the minutes went,
// the decisions that cost something, the rubric, and, for a finished job, what the
// axle really was.
func Debrief(r grading.Report, rev *reveal.Reveal, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(fmt.Sprintf("Debrief: %d out of 100", r.Score)))
	if !r.SignedOff {
		b.WriteString(Wrap("The job is not signed off; this is the grade of the work so far.", p.Width, ""))
	}
	lost := fmt.Sprintf("about %.0f minutes were lost", r.Lost)
	if r.Lost < 1.5 {
		lost = "hardly a minute was lost"
	}
	b.WriteString(Wrap(fmt.Sprintf("%.0f minutes of work and parts worth %.0f more. Against the best choices on the same readings, %s.",
		float64(r.Minutes), float64(r.PartsMinutes), lost), p.Width, ""))
	if len(r.Areas) > 0 {
		b.WriteByte('\n')
	}
	for _, a := range r.Areas {
		b.WriteString(p.Field(fmt.Sprintf("  %s %3d", pad(string(a.Area), 26), a.Score), lostWords(a), 35))
	}
	b.WriteByte('\n')
	b.WriteString(costly(r, p))
	b.WriteString(ideaText(r.Idea, p))
	b.WriteString(rubricText(r, p))
	if rev != nil {
		b.WriteString(revealText(*rev, p))
	}
	return b.String()
}

func lostWords(a grading.AreaScore) string {
	n := "decisions"
	if a.Decisions == 1 {
		n = "decision"
	}
	return fmt.Sprintf("%d %s, %.1f minutes lost", a.Decisions, n, a.Lost)
}

// detailed is how many decisions are told in full.
const detailed = 3

func costly(r grading.Report, p Pen) string {
	var b strings.Builder
	if len(r.Decisions) == 0 {
		return "Nothing has been decided yet.\n\n"
	}
	var bars []picture.Bar
	for _, d := range r.Decisions {
		if d.Lost > 3 {
			bars = append(bars, picture.Bar{Label: fmt.Sprintf("%d %s", d.Act, firstWords(d.Did)), Value: d.Lost, Note: d.Band()})
		}
	}
	if len(bars) == 0 {
		return Wrap("Every decision was as good as the readings allowed.", p.Width, "") + "\n"
	}
	b.WriteString(p.Strong("Minutes lost along the job") + "\n")
	b.WriteString(picture.Bars(bars, picture.Options{Columns: p.Width, Unit: "min"}))
	b.WriteByte('\n')
	for _, i := range worst(r.Decisions, detailed) {
		d := r.Decisions[i]
		if d.Lost <= 3 {
			continue
		}
		b.WriteString(Hang(p.Strong(fmt.Sprintf("Act %d, %s: %s, %.1f minutes", d.Act, firstWords(d.Did), d.Band(), d.Lost)), p.Width, "", "  "))
		row := func(name, text string) {
			b.WriteString(p.Field("  "+name, sentence(text), 16))
		}
		row("Known", d.Knew)
		row("It meant", d.Means)
		row("Done", d.Did)
		row("Least costly", d.Best)
		b.WriteByte('\n')
	}
	return b.String()
}

// firstWords is the act without the shims it was done with.
func firstWords(did string) string {
	act, _, _ := strings.Cut(did, " on ")
	return act
}

// worst returns the indices of the n most costly decisions, in the order they were
// made.
func worst(ds []grading.Decision, n int) []int {
	picked := make([]bool, len(ds))
	for range min(n, len(ds)) {
		best := -1
		for i, d := range ds {
			if !picked[i] && (best < 0 || d.Lost > ds[best].Lost) {
				best = i
			}
		}
		picked[best] = true
	}
	var out []int
	for i := range ds {
		if picked[i] {
			out = append(out, i)
		}
	}
	return out
}

// ideaText says which idea would explain the acts, or asks where several would; nothing
// where none is needed.
func ideaText(f misconception.Finding, p Pen) string {
	if len(f.Ideas) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString(p.Strong("What may have been behind it") + "\n")
	if f.Sure {
		c := f.Ideas[0]
		b.WriteString(Wrap(fmt.Sprintf("The idea that %s would explain %s: %s. %s", c.Says, actsWords(c.Acts), c.Makes, c.Right), p.Width, "  "))
		b.WriteString(Wrap(fmt.Sprintf("That is read from the acts alone, about %.0f %% sure. If you had another reason, that reason counts.", 100*c.Probability), p.Width, "  "))
		return b.String() + "\n"
	}
	b.WriteString(Wrap("The acts leave it open; only you know.", p.Width, "  "))
	for _, c := range f.Ideas {
		b.WriteString(Hang(fmt.Sprintf("Did you mean that %s (%s)? If so: %s", c.Says, actsWords(c.Acts), c.Right), p.Width, "  - ", "    "))
	}
	return b.String() + "\n"
}

// actsWords names acts by their numbers: "act 3", "acts 3, 7 and 9".
func actsWords(acts []int) string {
	var n []string
	for _, a := range acts {
		n = append(n, fmt.Sprint(a))
	}
	switch len(n) {
	case 0:
		return "what was done"
	case 1:
		return "act " + n[0]
	}
	return "acts " + strings.Join(n[:len(n)-1], ", ") + " and " + n[len(n)-1]
}

func rubricText(r grading.Report, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Strong("Safety and process") + "\n")
	for _, m := range r.Rubric {
		if m.Outcome == grading.NotApplicable {
			continue
		}
		box := "[x]"
		if m.Outcome == grading.NotMet {
			box = "[ ]"
		}
		b.WriteString(Hang(sentence(m.Item), p.Width, "  "+box+" ", "      "))
		if m.Outcome == grading.NotMet {
			b.WriteString(Hang(fmt.Sprintf("Not met (%s): %s.", m.Severity, m.Evidence), p.Width, "      ", "      "))
		}
	}
	b.WriteByte('\n')
	return b.String()
}

func revealText(v reveal.Reveal, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Strong("What the axle really was") + "\n")
	switch {
	case v.Slip != nil:
		b.WriteString(Hang(fmt.Sprintf("The hand before: %s. It leaves %s. Told by: %s. Put right by: %s.", v.Slip.Name, v.Slip.Shows, v.Slip.Told, v.Slip.Remedy), p.Width, "  * ", "    "))
	case v.TakenOver:
		b.WriteString(Wrap("The hand before had set it right: it could be signed as it was.", p.Width, "  "))
	}
	if len(v.Faults) == 0 && !v.TakenOver {
		b.WriteString(Wrap("It carried no fault; it only had to be set up.", p.Width, "  "))
	}
	for _, f := range v.Faults {
		size := ""
		if f.Amount != "" {
			size = " (" + f.Amount + ")"
		}
		state := "cured"
		if f.Still {
			state = "STILL THERE: " + f.Missed
		}
		b.WriteString(Hang(fmt.Sprintf("%s%s: %s. %s", sentence(f.Name)[:len(sentence(f.Name))-1], size, f.Shows, sentence(state)), p.Width, "  * ", "    "))
	}
	b.WriteString(Wrap("The right depth shim, with the cups as they came, measured "+v.RightShim+".", p.Width, "  "))
	b.WriteByte('\n')
	for _, l := range v.Lines {
		box := "[x]"
		if !l.Met {
			box = "[ ]"
		}
		text := l.Name
		if l.Value != "" {
			text += ": " + l.Value
		}
		if l.Window != "" {
			text += " (sheet: " + l.Window + ")"
		}
		if l.Near != "" {
			text += "; " + l.Near
		}
		b.WriteString(Hang(text, p.Width, "  "+box+" ", "      "))
	}
	for _, t := range v.Luck {
		b.WriteString(Wrap(t, p.Width, "  "))
	}
	b.WriteByte('\n')
	b.WriteString(serviceText(v.Service, p))
	return b.String()
}

// serviceText tells what would have happened to the axle in use: one sentence, or one
// that leads in a short list.
func serviceText(s reveal.Service, p Pen) string {
	var b strings.Builder
	for i, line := range s.Says {
		if i == 0 {
			b.WriteString(Wrap(line, p.Width, "  "))
			continue
		}
		b.WriteString(Hang(line, p.Width, "  - ", "    "))
	}
	b.WriteByte('\n')
	return b.String()
}

// Lesson writes a lesson with its title and the command to try again with.
func Lesson(title, body, tryAgain string, p Pen) (string, error) {
	style := Plain
	if p.Colour {
		style = Colour
	}
	src := fmt.Sprintf("# %s\n\n%s\n\n**Try again:** `%s`\n", title, body, tryAgain)
	return Markdown(src, p.Width, style)
}
