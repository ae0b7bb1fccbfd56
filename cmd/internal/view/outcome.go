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
	return Hang(p.Strong(a.String()), p.Width, fmt.Sprintf("%3.0f min  ", float64(m)), "    ")
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
			words = append(words, fmt.Sprintf("%s %.2f toe to heel, %.2f root to top", q.Flank, q.CenterS, q.CenterT))
		}
		return Hang(fmt.Sprintf("contact pattern (%s): %s", p.Print(r.How()), strings.Join(words, "; ")), p.Width, "    ", "      ")
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
		v = append(v, ringTurned(r.Notches))
	}
	if r.Degrees != 0 {
		v = append(v, fmt.Sprintf("%.0f degrees", r.Degrees))
	}
	text := strings.Join(v, ", ")
	if !isNut(r.Kind) && len(r.Torques) == 2 {
		text = v[0] + " to " + v[1]
	}
	if r.Kind == gauge.Backlash && len(r.Lengths) > 1 {
		mean, least, most := r.Summary()
		text += fmt.Sprintf("; mean %s, variation %s", mean.Show(p.Units()), (most - least).Show(p.Units()))
	}
	return text
}

// ringTurned says how far a bearing adjuster has turned, or stands, in words.
func ringTurned(notches float64) string {
	switch {
	case notches > 0:
		return fmt.Sprintf("in %s", notchCount(notches))
	case notches < 0:
		return fmt.Sprintf("out %s", notchCount(-notches))
	}
	return "not at all"
}

func notchCount(n float64) string {
	if n == 1 {
		return "1 notch"
	}
	return fmt.Sprintf("%g notches", n)
}

// uncertainty writes twice the standard uncertainty: about 19 readings in 20 lie
// that close.
func uncertainty(r gauge.Reading, p Pen) string {
	switch {
	case r.StdMM > 0 && len(r.Lengths) == 1:
		return ", +/- " + quantity.Millimetres(2*r.StdMM).Show(p.Units())
	case r.StdMM > 0:
		return ", each +/- " + quantity.Millimetres(2*r.StdMM).Show(p.Units())
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
	o := picture.Options{Columns: p.Width, Color: p.Color, Title: "Contact pattern on the ring gear, " + p.Print(r.How())}
	var b strings.Builder
	if p.Color {
		b.WriteString(picture.Terminal(r.Patterns, o))
	} else {
		b.WriteString(picture.Plain(r.Patterns, o))
	}
	for _, q := range r.Patterns {
		b.WriteString(Hang(fmt.Sprintf("%s: center %.2f from toe to heel, %.2f from root to top, each +/- %.2f", q.Flank, q.CenterS, q.CenterT, 2*sim.EyeStd(r.Method)), p.Width, "    ", "      "))
	}
	return b.String()
}
