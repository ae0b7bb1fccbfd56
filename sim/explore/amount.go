package explore

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
)

// A Kind is what an amount measures. Amounts are held in millimeters, newton millimeters,
// newtons, degrees, radians, kelvin and shares.
type Kind int

// The kinds.
const (
	Length   Kind = iota
	Signed        // length that can go either way
	Rotating      // rotating torque
	Fastener      // fastener torque
	Force
	Stiffness // N/mm
	Micro     // microradians
	Turned    // degrees
	Tilt      // small angle, radians
	Warmth    // difference of temperature, kelvin
	Percent   // share, typed and shown in hundredths
	Share
	YesNo
	Word
)

const (
	radPerDeg      = math.Pi / 180
	fahrenheitPerK = 1.8 // of a difference of temperature
)

// A figure is an amount in one unit.
type figure struct {
	value    float64
	decimals int
	unit     string
}

// in returns an amount in the unit it is shown in.
func (k Kind) in(v float64, units quantity.System) figure {
	metric := units == quantity.Metric
	switch k {
	case Force:
		if metric {
			return figure{v, 0, "N"}
		}
		return figure{quantity.Force(v).PoundsForce(), 0, "lbf"}
	case Turned:
		return figure{v, 0, "deg"}
	case Tilt:
		return figure{v / radPerDeg, 3, "deg"}
	case Warmth:
		if metric {
			return figure{v, 0, "°C"}
		}
		return figure{v * fahrenheitPerK, 0, "°F"}
	case Percent:
		return figure{100 * v, 1, "%"}
	}
	return figure{v, 2, ""}
}

// Show writes an amount with its unit.
func (k Kind) Show(v float64, units quantity.System) string {
	switch k {
	case Length:
		return quantity.Millimetres(v).Show(units)
	case Signed:
		const nothingMM = 1e-6
		if math.Abs(v) < nothingMM {
			v = 0 // one sign for nothing
		}
		return quantity.Millimetres(v).ShowSigned(units)
	case Rotating:
		return quantity.Torque(v).ShowRotating(units)
	case Fastener:
		return quantity.Torque(v).ShowFastener(units)
	}
	f := k.in(v, units)
	return strings.TrimSpace(strconv.FormatFloat(f.value, 'f', f.decimals, 64) + " " + f.unit)
}

// Number is Show without the unit.
func (k Kind) Number(v float64, units quantity.System) string {
	return strings.Fields(k.Show(v, units))[0]
}

// Unit is the unit that Show writes; "" for a share.
func (k Kind) Unit(units quantity.System) string {
	if f := strings.Fields(k.Show(0, units)); len(f) > 1 {
		return f[1]
	}
	return ""
}

// Plotted is an amount in the unit that Show writes, not rounded.
func (k Kind) Plotted(v float64, units quantity.System) float64 {
	metric := units == quantity.Metric
	switch k {
	case Length, Signed:
		if metric {
			return v
		}
		return quantity.Millimetres(v).Inches()
	case Rotating, Fastener:
		switch t := quantity.Torque(v); {
		case metric:
			return t.NewtonMetres()
		case k == Rotating:
			return t.InchPounds()
		default:
			return t.FootPounds()
		}
	}
	return k.in(v, units).value
}

// entered returns what a kind takes when it is typed: its unit where none is, and an
// example.
func (k Kind) entered(units quantity.System) (fallback quantity.Unit, like string) {
	metric := units == quantity.Metric
	switch k {
	case Rotating:
		fallback, like = quantity.UnitInchLb, "a torque, such as 25lb-in or 2.8Nm"
	case Fastener:
		fallback, like = quantity.UnitFootLb, "a torque, such as 250lb-ft or 340Nm"
	case Turned, Tilt:
		return quantity.UnitDegree, "an angle, such as 180deg"
	default:
		fallback, like = quantity.UnitInch, "a length, such as 0.004in or 0.1mm"
		if metric {
			fallback = quantity.UnitMM
		}
		return fallback, like
	}
	if metric {
		fallback = quantity.UnitNm
	}
	return fallback, like
}

// Parse reads an amount that a person typed; what names it in an error. A bare number is in
// the units given.
func (k Kind) Parse(what, text string, units quantity.System) (float64, error) {
	switch k {
	case Warmth:
		return parseWarmth(text, units == quantity.Metric)
	case Percent:
		return parsePercent(text)
	}
	fallback, like := k.entered(units)
	e, err := quantity.ParseEntered(text, fallback)
	if err != nil {
		return 0, err
	}
	if v, ok := k.of(e); ok {
		return v, nil
	}
	return 0, fmt.Errorf("%s is not what %s takes: write %s", e, what, like)
}

// of returns an entered amount in the unit the kind is held in; ok is false where it
// measures something else.
func (k Kind) of(e quantity.Entered) (v float64, ok bool) {
	switch k {
	case Rotating, Fastener:
		t, ok := e.Torque()
		return t.Nmm(), ok
	case Turned, Tilt:
		switch {
		case e.Unit == quantity.UnitTurn && k == Turned:
			return e.Number * 360, true
		case e.Unit != quantity.UnitDegree:
			return 0, false
		case k == Tilt:
			return e.Number * radPerDeg, true
		}
		return e.Number, true
	}
	l, ok := e.Length()
	return l.MM(), ok
}

// parseWarmth reads a difference of temperature and returns it in kelvin.
func parseWarmth(text string, metric bool) (float64, error) {
	t := strings.ToUpper(strings.TrimSpace(text))
	perK := fahrenheitPerK
	if strings.HasSuffix(t, "C") || metric && !strings.HasSuffix(t, "F") {
		perK = 1
	}
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimRight(t, "CF"), "DEG"), "°"))
	v, err := plainNumber(number)
	if err != nil {
		return 0, fmt.Errorf("%q is not a temperature difference: write how much warmer, such as 40C or 72F", text)
	}
	return v / perK, nil
}

func parsePercent(text string) (float64, error) {
	t := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(text), "%"), "percent"))
	v, err := plainNumber(t)
	if err != nil {
		return 0, fmt.Errorf("%q is not a percentage: write how much too high it reads, such as 20%%, or -20%% for too low", text)
	}
	return v / 100, nil
}

// plainNumber reads digits and a point, with a sign.
func plainNumber(text string) (float64, error) {
	if strings.Trim(text, "+-.0123456789") != "" {
		return 0, errors.New("not a plain number")
	}
	return strconv.ParseFloat(text, 64)
}
