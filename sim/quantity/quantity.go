package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Exact conversion factors; see the package comment.
const (
	mmPerInch     = 25.4
	newtonsPerLbf = 4.4482216152605
	nmmPerInchLb  = newtonsPerLbf * mmPerInch
	nmmPerFootLb  = nmmPerInchLb * 12
	nmmPerNm      = 1000
	thouPerInch   = 1000
)

// A Length is a distance in millimetres.
type Length float64

// Millimetres makes a Length from millimetres.
func Millimetres(mm float64) Length { return Length(mm) }

// Inches makes a Length from inches.
func Inches(in float64) Length { return Length(in * mmPerInch) }

// Thou makes a Length from thousandths of an inch.
func Thou(thou float64) Length { return Length(thou * mmPerInch / thouPerInch) }

// MM returns the length in millimetres.
func (l Length) MM() float64 { return float64(l) }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l) / mmPerInch }

// Thou returns the length in thousandths of an inch.
func (l Length) Thou() float64 { return float64(l) / mmPerInch * thouPerInch }

// A Torque is a turning effort in newton millimetres.
type Torque float64

// NewtonMetres makes a Torque from newton metres.
func NewtonMetres(nm float64) Torque { return Torque(nm * nmmPerNm) }

// InchPounds makes a Torque from pound-force inches (lb-in).
func InchPounds(lbin float64) Torque { return Torque(lbin * nmmPerInchLb) }

// FootPounds makes a Torque from pound-force feet (lb-ft).
func FootPounds(lbft float64) Torque { return Torque(lbft * nmmPerFootLb) }

// Nmm returns the torque in newton millimetres.
func (t Torque) Nmm() float64 { return float64(t) }

// NewtonMetres returns the torque in newton metres.
func (t Torque) NewtonMetres() float64 { return float64(t) / nmmPerNm }

// InchPounds returns the torque in lb-in.
func (t Torque) InchPounds() float64 { return float64(t) / nmmPerInchLb }

// FootPounds returns the torque in lb-ft.
func (t Torque) FootPounds() float64 { return float64(t) / nmmPerFootLb }

// A Force is a push or pull in newtons.
type Force float64

// PoundsForce makes a Force from pounds-force.
func PoundsForce(lbf float64) Force { return Force(lbf * newtonsPerLbf) }

// N returns the force in newtons.
func (f Force) N() float64 { return float64(f) }

// PoundsForce returns the force in pounds-force.
func (f Force) PoundsForce() float64 { return float64(f) / newtonsPerLbf }

// A System is a person's choice of units.
type System int

const (
	Inch   System = iota // inches, lb-in, lb-ft
	Metric               // millimetres, newton metres
)

// String returns "inch" or "metric".
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "inch"
}

// Other returns the system that is not this one.
func (s System) Other() System {
	if s == Metric {
		return Inch
	}
	return Metric
}

// A Fault is what can be wrong with an amount or a system of units as typed.
type Fault int

// What can be wrong.
const (
	NoSystem    Fault = iota + 1 // neither inch nor metric
	NoAmount                     // no number
	NoUnit                       // a number without the unit that it needs
	UnknownUnit                  // a number with a unit that there is not
)

// An Error is of something typed that cannot be read. Package text has the words for it.
type Error struct {
	Fault Fault
	Typed string // all of it
	Unit  string // the unit, where that is not known
}

func (e *Error) Error() string { return fmt.Sprintf("quantity %d: %q %q", e.Fault, e.Typed, e.Unit) }

// ParseSystem reads "inch" or "metric". Errors: Error.
func ParseSystem(text string) (System, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "inch", "in", "inches":
		return Inch, nil
	case "metric", "mm":
		return Metric, nil
	}
	return Inch, &Error{NoSystem, text, ""}
}

// Show writes the length the way a build sheet does: inches to the ten-thousandth
// or millimetres to the thousandth.
func (l Length) Show(s System) string {
	if s == Metric {
		return fixed(l.MM(), 3) + " mm"
	}
	return fixed(l.Inches(), 4) + " in"
}

// ShowSigned is Show with an explicit plus sign.
func (l Length) ShowSigned(s System) string {
	if l >= 0 {
		return "+" + l.Show(s)
	}
	return l.Show(s)
}

// ShowRotating writes a rotating torque: lb-in or N·m, to the instrument's half unit.
func (t Torque) ShowRotating(s System) string {
	if s == Metric {
		return fixed(t.NewtonMetres(), 2) + " N·m"
	}
	return fixed(t.InchPounds(), 1) + " lb-in"
}

// ShowFastener writes a fastener torque: lb-ft or N·m, whole units.
func (t Torque) ShowFastener(s System) string {
	if s == Metric {
		return fixed(t.NewtonMetres(), 0) + " N·m"
	}
	return fixed(t.FootPounds(), 0) + " lb-ft"
}

// Decimal writes a plain number with so many decimals, or with -1 as many as it has. It
// never shows a negative zero.
func Decimal(x float64, decimals int) string { return fixed(x, decimals) }

// Significant rounds to a number of significant digits.
func Significant(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// fixed formats with a fixed number of decimals and never shows a negative zero.
func fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// A Unit is one the bench understands in what a person types.
type Unit string

// The units, in the spelling the program writes.
const (
	UnitInch   Unit = "in"
	UnitThou   Unit = "thou"
	UnitMM     Unit = "mm"
	UnitInchLb Unit = "lb-in"
	UnitFootLb Unit = "lb-ft"
	UnitNm     Unit = "Nm"
	UnitDegree Unit = "deg"
	UnitTurn   Unit = "turns"
	UnitShare  Unit = "share" // of a whole, 0 to 1
)

// An Entered is an amount exactly as a person gave it: the number and its unit.
// Keeping both lets a record say what was typed and still read back to the same
// amount on any machine.
type Entered struct {
	Number float64
	Unit   Unit
}

// String writes the amount so that ParseEntered reads the same one back.
func (e Entered) String() string {
	return strconv.FormatFloat(e.Number, 'f', -1, 64) + string(e.Unit)
}

// Length converts to a length; ok is false for other kinds of amount.
func (e Entered) Length() (l Length, ok bool) {
	switch e.Unit {
	case UnitInch:
		return Inches(e.Number), true
	case UnitThou:
		return Thou(e.Number), true
	case UnitMM:
		return Millimetres(e.Number), true
	}
	return 0, false
}

// Torque converts to a torque; ok is false for other kinds of amount.
func (e Entered) Torque() (t Torque, ok bool) {
	switch e.Unit {
	case UnitInchLb:
		return InchPounds(e.Number), true
	case UnitFootLb:
		return FootPounds(e.Number), true
	case UnitNm:
		return NewtonMetres(e.Number), true
	}
	return 0, false
}

// limit on what a person can sensibly type; keeps arithmetic finite.
const maxEntered = 1e6

// ParseEntered reads a number with its unit, such as "0.030in", "30 thou",
// "0.76 mm", "250 lb-ft", "20 lb-in", "28 Nm" or "15 deg". A bare number takes
// the fallback unit; with an empty fallback a bare number is an error. One comma in the
// place of the point is read as one. Errors: Error.
func ParseEntered(text string, fallback Unit) (Entered, error) {
	t := strings.TrimSpace(text)
	if whole, part, comma := strings.Cut(t, ","); comma && !strings.ContainsAny(t, ".") {
		t = whole + "." + part // a decimal comma
	}
	end := 0
	for end < len(t) && (t[end] >= '0' && t[end] <= '9' || t[end] == '.' || (end == 0 && (t[end] == '-' || t[end] == '+'))) {
		end++
	}
	n, err := strconv.ParseFloat(t[:end], 64)
	if err != nil || math.IsNaN(n) || math.Abs(n) > maxEntered {
		return Entered{}, &Error{NoAmount, text, ""}
	}
	if n == 0 {
		n = 0 // no negative zero
	}
	word := strings.ToLower(strings.TrimSpace(t[end:]))
	word = strings.ReplaceAll(word, "·", "")
	switch word {
	case "":
		if fallback == "" {
			return Entered{}, &Error{NoUnit, text, ""}
		}
		return Entered{n, fallback}, nil
	case "in", "inch", "inches", `"`:
		return Entered{n, UnitInch}, nil
	case "thou", "thous", "mil":
		return Entered{n, UnitThou}, nil
	case "mm":
		return Entered{n, UnitMM}, nil
	case "lb-in", "lbin", "in-lb", "inlb", "lb.in":
		return Entered{n, UnitInchLb}, nil
	case "lb-ft", "lbft", "ft-lb", "ftlb", "lb.ft":
		return Entered{n, UnitFootLb}, nil
	case "nm", "n-m", "n.m":
		return Entered{n, UnitNm}, nil
	case "deg", "degree", "degrees", "°":
		return Entered{n, UnitDegree}, nil
	case "turn", "turns":
		return Entered{n, UnitTurn}, nil
	case "share":
		return Entered{n, UnitShare}, nil
	}
	return Entered{}, &Error{UnknownUnit, text, strings.TrimSpace(t[end:])}
}
