package view

import (
	"fmt"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// AtMinute writes an act with the minute it was done by.
func AtMinute(m shop.Minutes, a act.Act, p Pen) string {
	return Hang(p.Strong(a.String()), p.Width, p.Print(text.Say("view.outcome.min", "{it} min  ", text.Typed("it", fmt.Sprintf("%3.0f", float64(m))))), "    ")
}

// Outcome writes what an act showed: readings, what was noticed, cautions.
func Outcome(o history.Step, p Pen) string {
	var b strings.Builder
	if c := o.Caution.Message(); !c.IsZero() {
		b.WriteString(Hang("CAUTION: "+p.Print(c), p.Width, "  ! ", "    "))
	}
	for _, r := range o.Readings {
		b.WriteString(reading(r, p))
	}
	for _, f := range o.Feels {
		b.WriteString(Hang(sentence(p.Print(f.Message())), p.Width, "    ", "    "))
	}
	return b.String()
}

// Reading writes one reading on one line where it fits, without pictures.
func Reading(r gauge.Reading, p Pen) string {
	if len(r.Patterns) > 0 {
		var words []string
		for _, q := range r.Patterns {
			words = append(words, p.Print(text.Say("view.outcome.toe-heel-root-top", "{flank} {center_s} toe to heel, {center_t} root to top", text.Typed("flank", q.Flank), text.Number("center_s", q.CenterS, 2), text.Number("center_t", q.CenterT, 2))))
		}
		return Hang(p.Print(text.Say("view.outcome.contact-pattern", "contact pattern ({how}): {words}", text.Of("how", r.How()), text.Typed("words", strings.Join(words, "; ")))), p.Width, "    ", "      ")
	}
	return reading(r, p)
}

func reading(r gauge.Reading, p Pen) string {
	if len(r.Patterns) > 0 {
		return patterns(r, p)
	}
	value, found := values(r, p), r.Finding.Message()
	line := p.Print(found)
	if r.Kind == gauge.CaseEntry {
		line = p.Print(text.Say("view.case-entry", "the case {how}", text.Of("how", found)))
	}
	if value == "" {
		return Hang(sentence(line), p.Width, "    ", "    ")
	}
	first := p.Strong(p.Print(r.Kind.Name())+" "+value) + uncertainty(r, p)
	if how := r.How(); !how.IsZero() {
		first += p.Quiet(" (" + p.Print(how) + ")")
	}
	out := Hang(first, p.Width, "    ", "      ")
	if !found.IsZero() {
		out += Hang(sentence(line), p.Width, "    ", "    ")
	}
	return out
}

func values(r gauge.Reading, p Pen) string {
	var v []string
	for _, l := range r.Lengths {
		v = append(v, l.Show(p.Units()))
	}
	for _, t := range r.Torques {
		if isNut(r.Kind) {
			v = append(v, t.ShowFastener(p.Units()))
		} else {
			v = append(v, t.ShowRotating(p.Units()))
		}
	}
	if r.Kind == gauge.AdjusterTurn {
		v = append(v, p.Print(ringTurned(r.Notches)))
	}
	if r.Degrees != 0 {
		v = append(v, p.Print(text.Say("view.outcome.degrees", "{degrees} degrees", text.Number("degrees", r.Degrees, 0))))
	}
	prose := strings.Join(v, ", ")
	if !isNut(r.Kind) && len(r.Torques) == 2 {
		prose = p.Print(text.Say("view.outcome.to", "{it} to {it2}", text.Typed("it", v[0]), text.Typed("it2", v[1])))
	}
	if r.Kind == gauge.Backlash && len(r.Lengths) > 1 {
		mean, least, most := r.Summary()
		prose += p.Print(text.Say("view.outcome.mean-variation", "; mean {mean}, variation {least}", text.Typed("mean", mean.Show(p.Units())), text.Typed("least", (most-least).Show(p.Units()))))
	}
	return prose
}

// ringTurned says how far a bearing adjuster has turned, or stands, in words.
func ringTurned(notches float64) text.Message {
	switch {
	case notches > 0:
		return text.Say("notches.in", "in {notches}", text.Of("notches", notchCount(notches)))
	case notches < 0:
		return text.Say("notches.out", "out {notches}", text.Of("notches", notchCount(-notches)))
	}
	return text.Say("notches.not-turned", "not at all")
}

func notchCount(n float64) text.Message {
	if n == 1 {
		return text.Say("notches.one", "1 notch")
	}
	return text.Say("notches.many", "{n} notches", text.Number("n", n, -1))
}

// uncertainty writes twice the standard uncertainty: about 19 readings in 20 lie
// that close.
func uncertainty(r gauge.Reading, p Pen) string {
	switch {
	case r.StdMM > 0 && len(r.Lengths) == 1:
		return ", +/- " + quantity.Millimetres(2*r.StdMM).Show(p.Units())
	case r.StdMM > 0:
		return p.Print(text.Say("view.outcome.each", ", each +/- {amount}", text.Typed("amount", quantity.Millimetres(2*r.StdMM).Show(p.Units()))))
	case r.StdNmm > 0 && isNut(r.Kind):
		return ", +/- " + quantity.Torque(2*r.StdNmm).ShowFastener(p.Units())
	case r.StdNmm > 0:
		return ", +/- " + quantity.Torque(2*r.StdNmm).ShowRotating(p.Units())
	}
	return ""
}

// isNut tells whether a torque is that of the pinion nut.
func isNut(k gauge.Kind) bool { return k == gauge.NutTorque || k == gauge.NutLoosening }

func patterns(r gauge.Reading, p Pen) string {
	o := picture.Options{Columns: p.Width, Color: p.Color, Title: p.Print(text.Say("view.outcome.contact-pattern-ring-gear", "Contact pattern on the ring gear, {how}", text.Of("how", r.How())))}
	var b strings.Builder
	if p.Color {
		b.WriteString(picture.Terminal(r.Patterns, o))
	} else {
		b.WriteString(picture.Plain(r.Patterns, o))
	}
	for _, q := range r.Patterns {
		b.WriteString(Hang(p.Print(text.Say("view.outcome.center-from-toe-heel", "{flank}: center {center_s} from toe to heel, {center_t} from root to top, each +/- {eye_std}", text.Typed("flank", q.Flank), text.Number("center_s", q.CenterS, 2), text.Number("center_t", q.CenterT, 2), text.Number("eye_std", 2*sim.EyeStd(r.Method), 2))), p.Width, "    ", "      "))
	}
	return b.String()
}
