package view

import (
	"fmt"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// AtMinute writes an act with the minute it was done by.
func AtMinute(m shop.Minutes, a act.Act, p Pen) string {
	return Hang(p.Strong(a.String()), p.Width, fmt.Sprintf("%3.0f min  ", float64(m)), "    ")
}

// Outcome writes what an act showed: readings, what was noticed, cautions.
func Outcome(o sim.Outcome, units quantity.System, p Pen) string {
	var b strings.Builder
	for _, c := range o.Cautions {
		b.WriteString(Hang("CAUTION: "+c, p.Width, "  ! ", "    "))
	}
	for _, r := range o.Readings {
		b.WriteString(reading(r, units, p))
	}
	for _, n := range o.Notes {
		b.WriteString(Hang(sentence(n), p.Width, "    ", "    "))
	}
	return b.String()
}

// Reading writes one reading on one line where it fits, without pictures.
func Reading(r gauge.Reading, units quantity.System, p Pen) string {
	if len(r.Patterns) > 0 {
		var words []string
		for _, q := range r.Patterns {
			words = append(words, fmt.Sprintf("%s %.2f toe to heel, %.2f root to top", q.Flank, q.CenterS, q.CenterT))
		}
		return Hang(fmt.Sprintf("print (%s): %s", r.How, strings.Join(words, "; ")), p.Width, "    ", "      ")
	}
	return reading(r, units, p)
}

func reading(r gauge.Reading, units quantity.System, p Pen) string {
	name := strings.ReplaceAll(r.What, "-", " ")
	if len(r.Patterns) > 0 {
		return patterns(r, p)
	}
	value := values(r, units)
	if value == "" {
		return Hang(sentence(r.Observed), p.Width, "    ", "    ")
	}
	text := p.Strong(name+" "+value) + uncertainty(r, units)
	if r.How != "" && r.What != "ring" {
		text += p.Quiet(" (" + r.How + ")")
	}
	out := Hang(text, p.Width, "    ", "      ")
	if r.Observed != "" {
		out += Hang(sentence(r.Observed), p.Width, "    ", "    ")
	}
	return out
}

func values(r gauge.Reading, units quantity.System) string {
	var v []string
	for _, l := range r.Lengths {
		v = append(v, l.Show(units))
	}
	for _, t := range r.Torques {
		if strings.HasPrefix(r.What, "nut") {
			v = append(v, t.ShowFastener(units))
		} else {
			v = append(v, t.ShowRotating(units))
		}
	}
	if r.What == "ring" {
		v = append(v, ringTurned(r.Notches))
	}
	if r.Degrees != 0 {
		v = append(v, fmt.Sprintf("%.0f degrees", r.Degrees))
	}
	text := strings.Join(v, ", ")
	if strings.HasSuffix(r.What, "-drag") && len(r.Torques) == 2 {
		text = v[0] + " to " + v[1]
	}
	if r.What == "backlash" && len(r.Lengths) > 1 {
		mean, least, most := r.Summary()
		text += fmt.Sprintf("; mean %s, spread %s", mean.Show(units), (most - least).Show(units))
	}
	return text
}

// ringTurned says how far a threaded ring has turned, or stands, in words.
func ringTurned(notches float64) string {
	switch {
	case notches > 0:
		return fmt.Sprintf("in %s", notchCount(notches))
	case notches < 0:
		return fmt.Sprintf("out %s", notchCount(-notches))
	}
	return "not turned"
}

func notchCount(n float64) string {
	if n == 1 {
		return "1 slot"
	}
	return fmt.Sprintf("%g slots", n)
}

// uncertainty writes twice the standard uncertainty: about 19 readings in 20 lie
// that close.
func uncertainty(r gauge.Reading, units quantity.System) string {
	switch {
	case r.StdMM > 0 && len(r.Lengths) == 1:
		return ", +/- " + quantity.Millimetres(2*r.StdMM).Show(units)
	case r.StdMM > 0:
		return ", each +/- " + quantity.Millimetres(2*r.StdMM).Show(units)
	case r.StdNmm > 0 && strings.HasPrefix(r.What, "nut"):
		return ", +/- " + quantity.Torque(2*r.StdNmm).ShowFastener(units)
	case r.StdNmm > 0:
		return ", +/- " + quantity.Torque(2*r.StdNmm).ShowRotating(units)
	}
	return ""
}

func patterns(r gauge.Reading, p Pen) string {
	o := picture.Options{Columns: p.Width, Colour: p.Colour, Title: "Print on the ring gear, " + r.How}
	var b strings.Builder
	if p.Colour {
		b.WriteString(picture.Terminal(r.Patterns, o))
	} else {
		b.WriteString(picture.Plain(r.Patterns, o))
	}
	for _, q := range r.Patterns {
		b.WriteString(Hang(fmt.Sprintf("%s: centre %.2f from toe to heel, %.2f from root to top, each +/- %.2f", q.Flank, q.CenterS, q.CenterT, 2*sim.EyeStd(r.How)), p.Width, "    ", "      "))
	}
	return b.String()
}
