package drill

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
)

// A Measure is a kind of amount, in its base unit, and how it is written.
type Measure int

// The measures. Those from PoundInches on are written alike in both systems of units.
const (
	Length        Measure = iota + 1 // a shim or a reading, mm
	FineLength                       // the travel of one notch, mm
	Size                             // a tool or a part by the rule, mm
	Radius                           // half of such a size, mm
	Rotating                         // rotating torque, N·mm
	Fastener                         // the torque of a nut or bolt, N·mm
	Pull                             // N
	Angle                            // degrees
	NotchCount                       // notches of a bearing adjuster, screwed in is plus
	Share                            // a place on the tooth, 0 root .. 1 top
	Ratio                            // a pure number
	Factor                           // a pure number, one decimal more
	Count                            // a whole number
	Mark                             // a pinion's mark, signed
	PoundInches                      // torque in lb-in, N·mm
	PoundFeet                        // torque in lb-ft, N·mm
	NewtonMeters                     // torque in N·m, N·mm
	InInches                         // length in inches, mm
	InMillimeters                    // length in millimeters, mm
)

// A unit is what a measure is written in.
type unit struct {
	name     string
	base     float64 // base units in one
	decimals int
	trim     bool // leave zeros at the end out
}

func (m Measure) unit(u quantity.System) unit {
	metric := u == quantity.Metric
	inch, lbIn, lbFt := quantity.Inches(1).MM(), quantity.InchPounds(1).Nmm(), quantity.FootPounds(1).Nmm()
	nm := quantity.NewtonMetres(1).Nmm()
	switch m {
	case Length:
		if metric {
			return unit{" mm", 1, 3, false}
		}
		return unit{" in", inch, 4, false}
	case FineLength:
		if metric {
			return unit{" mm", 1, 4, false}
		}
		return unit{" in", inch, 5, false}
	case Size:
		if metric {
			return unit{" mm", 1, 1, true}
		}
		return unit{" in", inch, 2, true}
	case Radius:
		if metric {
			return unit{" mm", 1, 2, true}
		}
		return unit{" in", inch, 3, true}
	case Rotating:
		if metric {
			return unit{" N·m", nm, 2, false}
		}
		return unit{" lb-in", lbIn, 1, false}
	case Fastener:
		if metric {
			return unit{" N·m", nm, 0, false}
		}
		return unit{" lb-ft", lbFt, 0, false}
	case Pull:
		if metric {
			return unit{" N", 1, 1, true}
		}
		return unit{" lb", quantity.PoundsForce(1).N(), 2, true}
	case Angle:
		return unit{"°", 1, 0, false}
	case NotchCount:
		return unit{"", 1, 1, true}
	case Share:
		return unit{"", 1, 2, false}
	case Ratio:
		return unit{"", 1, 2, true}
	case Factor:
		return unit{"", 1, 3, true}
	case PoundInches:
		return unit{" lb-in", lbIn, 1, true}
	case PoundFeet:
		return unit{" lb-ft", lbFt, 2, true}
	case NewtonMeters:
		return unit{" N·m", nm, 2, true}
	case InInches:
		return unit{" in", inch, 4, true}
	case InMillimeters:
		return unit{" mm", 1, 3, true}
	}
	return unit{"", 1, 0, false}
}

// key is the name of the base unit, for JSON.
func (m Measure) key() string {
	switch m {
	case Length, FineLength, Size, Radius, InInches, InMillimeters:
		return "mm"
	case Rotating, Fastener, PoundInches, PoundFeet, NewtonMeters:
		return "nmm"
	case Pull:
		return "n"
	case Angle:
		return "deg"
	}
	return "number"
}

// An operation makes a figure out of others.
type operation string

const (
	given   operation = ""
	sum     operation = "sum"
	mean    operation = "mean"
	product operation = "product"
	part    operation = "quotient"
	multi   operation = "multiply-by"
	divi    operation = "divide-by"
)

// A Figure is an amount as a person on paper has it: rounded as it is shown in the units in
// which it is shown, and where it is worked from others, worked from those as they are
// shown. So every working adds up as it is printed, in both systems of units.
type Figure struct {
	Measure Measure
	exact   float64 // of a given one, in the base unit
	op      operation
	terms   []term
}

// A term is what a figure is worked from; minus in a sum only.
type term struct {
	Figure
	minus bool
}

func figure(m Measure, base float64) Figure { return Figure{Measure: m, exact: base} }

func length(mm float64) Figure    { return figure(Length, mm) }
func size(mm float64) Figure      { return figure(Size, mm) }
func rotating(nmm float64) Figure { return figure(Rotating, nmm) }
func fastener(nmm float64) Figure { return figure(Fastener, nmm) }
func pull(n float64) Figure       { return figure(Pull, n) }
func share(x float64) Figure      { return figure(Share, x) }
func count(n int) Figure          { return figure(Count, float64(n)) }
func mark(n int) Figure           { return figure(Mark, float64(n)) }

func work(m Measure, op operation, from ...Figure) Figure {
	f := Figure{Measure: m, op: op}
	for _, g := range from {
		f.terms = append(f.terms, term{Figure: g})
	}
	return f
}

// plus adds figures of one measure.
func (f Figure) plus(others ...Figure) Figure {
	return work(f.Measure, sum, append([]Figure{f}, others...)...)
}

// minus takes a figure of the same measure away.
func (f Figure) minus(g Figure) Figure {
	d := work(f.Measure, sum, f, g)
	d.terms[1].minus = true
	return d
}

// shifted is plus, or minus where up is false.
func (f Figure) shifted(up bool, g Figure) Figure {
	if up {
		return f.plus(g)
	}
	return f.minus(g)
}

// apart is the difference of two figures, never below zero.
func apart(a, b Figure) Figure {
	if a.Exact() < b.Exact() {
		a, b = b, a
	}
	return a.minus(b)
}

func meanOf(first Figure, others ...Figure) Figure {
	return work(first.Measure, mean, append([]Figure{first}, others...)...)
}

func (f Figure) times(g Figure, m Measure) Figure { return work(m, product, f, g) }
func (f Figure) over(g Figure, m Measure) Figure  { return work(m, part, f, g) }

// Exact is the amount in its base unit with nothing rounded.
func (f Figure) Exact() float64 {
	switch f.op {
	case given:
		return f.exact
	case multi, divi:
		return f.terms[0].Exact()
	}
	return f.worked(Figure.Exact)
}

// worked does the operation on the terms as a way of taking them gives them.
func (f Figure) worked(of func(Figure) float64) float64 {
	switch f.op {
	case product:
		return of(f.terms[0].Figure) * of(f.terms[1].Figure)
	case part:
		return of(f.terms[0].Figure) / of(f.terms[1].Figure)
	}
	total := 0.0
	for _, t := range f.terms {
		if t.minus {
			total -= of(t.Figure)
		} else {
			total += of(t.Figure)
		}
	}
	if f.op == mean {
		total /= float64(len(f.terms))
	}
	return total
}

// Number is the amount as it is shown in a system of units: the number before the unit.
func (f Figure) Number(u quantity.System) float64 {
	to := f.Measure.unit(u)
	switch f.op {
	case given:
		return rounded(f.exact/to.base, to.decimals)
	case multi:
		return rounded(f.terms[0].Number(u)*f.terms[1].Number(u), to.decimals)
	case divi:
		return rounded(f.terms[0].Number(u)/f.terms[1].Number(u), to.decimals)
	}
	return rounded(f.worked(func(g Figure) float64 { return g.In(u) })/to.base, to.decimals)
}

// In is the amount as it is shown in a system of units, in its base unit.
func (f Figure) In(u quantity.System) float64 { return f.Number(u) * f.Measure.unit(u).base }

// rounded rounds halves away from zero. The small nudge keeps a half from falling either
// way by its last bit.
func rounded(x float64, decimals int) float64 {
	const nudge = 1e-7
	tens := math.Pow10(decimals)
	return math.Copysign(math.Floor(math.Abs(x)*tens+0.5+nudge)/tens, x)
}

// Show writes the amount with its unit.
func (f Figure) Show(u quantity.System) string {
	to, x := f.Measure.unit(u), f.Number(u)
	if f.Measure == Mark && x > 0 {
		return "+" + quantity.Decimal(x, 0)
	}
	decimals := to.decimals
	if to.trim {
		decimals = -1
	}
	if x == 0 {
		x = 0 // no negative zero
	}
	return quantity.Decimal(x, decimals) + to.name
}

// Data is the amount under the name of its base unit.
func (f Figure) Data() any { return map[string]float64{f.Measure.key(): f.Exact()} }

// MarshalJSON writes Data.
func (f Figure) MarshalJSON() ([]byte, error) { return json.Marshal(f.Data()) }

// An equation shows how a figure is worked, and what it is.
type equation struct{ Figure }

// Show writes the working as on paper.
func (e equation) Show(u quantity.System) string {
	var b strings.Builder
	for i, t := range e.terms {
		text, below := t.Show(u), t.Number(u) < 0
		switch {
		case i > 0 && (e.op == sum || e.op == mean):
			if below != t.minus {
				b.WriteString(" - ")
			} else {
				b.WriteString(" + ")
			}
			text = strings.TrimPrefix(text, "-")
		case i > 0 && (e.op == product || e.op == multi):
			b.WriteString(" × ")
		case i > 0:
			b.WriteString(" ÷ ")
		}
		b.WriteString(text)
	}
	work := b.String()
	if e.op == mean {
		work = "(" + work + ") ÷ " + strconv.Itoa(len(e.terms))
	}
	return work + " = " + e.Figure.Show(u)
}

// Data is the result and the terms.
func (e equation) Data() any {
	of := make([]any, len(e.terms))
	for i, t := range e.terms {
		x := t.Exact()
		if t.minus {
			x = -x
		}
		of[i] = map[string]float64{t.Measure.key(): x}
	}
	return map[string]any{e.Measure.key(): e.Exact(), "by": string(e.op), "of": of}
}

// A bareUnit is the unit of a measure.
type bareUnit Measure

// Show writes its name.
func (m bareUnit) Show(u quantity.System) string {
	return strings.TrimSpace(Measure(m).unit(u).name)
}

// Data is the name of the base unit.
func (m bareUnit) Data() any { return Measure(m).key() }
