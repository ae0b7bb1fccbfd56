package drill

import (
	"fmt"
	"strconv"

	"shimwright/sim/quantity"
)

// A Text is a sentence with amounts in it, to be written in either system of units.
type Text struct {
	form string
	with []any
}

// say makes a text: each %s of the form stands for an amount, a text or a plain word.
func say(form string, with ...any) Text { return Text{form, with} }

// In writes the text in a person's units.
func (t Text) In(units quantity.System) string {
	out := make([]any, len(t.with))
	for i, x := range t.with {
		switch x := x.(type) {
		case amount:
			out[i] = x.in(units)
		case Text:
			out[i] = x.In(units)
		default:
			out[i] = x
		}
	}
	return fmt.Sprintf(t.form, out...)
}

// Empty tells that there is nothing to say.
func (t Text) Empty() bool { return t.form == "" }

// A measure is how an amount is written.
type measure int

const (
	aLength measure = iota // a shim or a reading, mm
	aSize                  // a tool's size, mm
	aTorque                // N·mm
	aTight                 // N·mm
	aPull                  // N
)

// An amount is one in mm, N·mm or N, and how it is written.
type amount struct {
	of float64
	as measure
}

func length(mm float64) amount    { return amount{mm, aLength} }
func size(mm float64) amount      { return amount{mm, aSize} }
func asTorque(nmm float64) amount { return amount{nmm, aTorque} }
func tight(nmm float64) amount    { return amount{nmm, aTight} }
func pull(n float64) amount       { return amount{n, aPull} }

func (a amount) in(units quantity.System) string {
	l, t := quantity.Millimetres(a.of), quantity.Torque(a.of)
	switch a.as {
	case aSize:
		if units == quantity.Metric {
			return number(l.MM(), 1) + " mm"
		}
		return number(l.Inches(), 2) + " in"
	case aTorque:
		return t.ShowRotating(units)
	case aTight:
		return t.ShowFastener(units)
	case aPull:
		if units == quantity.Metric {
			return number(a.of, 1) + " N"
		}
		return number(quantity.Force(a.of).PoundsForce(), 2) + " lb"
	}
	return l.Show(units)
}

// number writes a number to so many decimals and leaves out what is zero at the end.
func number(x float64, decimals int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', decimals, 64), 64) // its own digits
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
