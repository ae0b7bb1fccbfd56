package scenariostest

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// A Figure is a number that an axle hides, as it would be written: in inch units and metric
// ones, at the precision that the program writes such an amount with, and with more digits.
type Figure struct {
	Name    string
	Written []string
}

// Hidden lists the figures of a hidden state and of how the work on it stands: every number
// that is not zero. Lengths are written in mm and inches, torques in N·mm, N·m, lb-in and
// lb-ft, forces in N and lb, angles in radians, all others as they are.
func Hidden(s truth.Sealed) []Figure {
	axle, finish := truth.Open(s)
	var out []Figure
	figures(reflect.ValueOf(axle), "axle", &out)
	figures(reflect.ValueOf(finish), "finish", &out)
	return out
}

func figures(v reflect.Value, name string, out *[]Figure) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			figures(v.Field(i), name+"."+v.Type().Field(i).Name, out)
		}
	case reflect.Slice:
		for i := range v.Len() {
			figures(v.Index(i), fmt.Sprintf("%s.%d", name, i), out)
		}
	case reflect.Float64:
		if v.Float() != 0 {
			*out = append(*out, Figure{name, written(name, v.Float())})
		}
	}
}

// written writes a number in the units of its field, which end its name.
func written(name string, x float64) (out []string) {
	const most = 9 // digits, as figures for programs have
	add := func(x float64, decimals ...int) {
		for _, d := range decimals {
			out = append(out, quantity.Decimal(x, d))
		}
		for digits := 5; digits <= most; digits++ {
			out = append(out, strconv.FormatFloat(quantity.Significant(x, digits), 'f', -1, 64))
		}
	}
	switch {
	case strings.HasSuffix(name, "PerMM"):
		add(x)
	case strings.HasSuffix(name, "MM"):
		l := quantity.Millimetres(x)
		add(l.MM(), 2, 3)
		add(l.Inches(), 3, 4)
	case strings.HasSuffix(name, "Nmm"):
		t := quantity.Torque(x)
		add(t.Nmm())
		add(t.NewtonMetres(), 2)
		add(t.InchPounds(), 1)
		add(t.FootPounds(), 1)
	case strings.HasSuffix(name, "N"):
		f := quantity.Force(x)
		add(f.N(), 1)
		add(f.PoundsForce(), 1)
	default:
		add(x, 3)
	}
	return out
}

// number is a number with a point as it stands in a page.
var number = regexp.MustCompile(`\d+\.\d+`)

// drawn is what draws a picture: where its lines run is drawn from readings, in tenths.
var drawn = regexp.MustCompile(` (d|x|y|width|height|cx|cy|r|viewBox|transform)="[^"]*"`)

// Numbers are the numbers with a point that stand in pages, without zeros at their ends; those
// that place the lines of a picture are among them only if they have five digits and more.
func Numbers(pages string) map[string]bool {
	out := map[string]bool{}
	enter := func(in string, least int) {
		for _, n := range number.FindAllString(in, -1) {
			n = plain(n)
			if digits(n) >= least {
				out[n] = true
			}
		}
	}
	const exact = 5
	for _, d := range drawn.FindAllString(pages, -1) {
		enter(d, exact)
	}
	enter(drawn.ReplaceAllString(pages, ""), 1)
	return out
}

// Told lists the hidden figures that stand in what was sent and not in what is shown on
// purpose, of those that are written with so many digits: fewer are met by chance.
func Told(hidden []Figure, sent, shown map[string]bool, least int) (out []string) {
	for _, f := range hidden {
		for _, w := range f.Written {
			if n := plain(strings.TrimPrefix(w, "-")); strings.Contains(n, ".") && digits(n) >= least && sent[n] && !shown[n] {
				out = append(out, f.Name+" "+n)
			}
		}
	}
	return out
}

// plain leaves off the zeros behind the last digit that says something.
func plain(n string) string {
	if strings.Contains(n, ".") {
		n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	}
	return n
}

// digits counts those that say something.
func digits(n string) int {
	return len(strings.TrimLeft(strings.ReplaceAll(n, ".", ""), "0"))
}
