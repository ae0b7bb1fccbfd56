package picture

import (
	"strings"

	"shimwright/sim/gauge"
)

// Words says in one sentence where the pattern sits and how far it reaches, for
// people and for screen readers. It describes and does not judge. A pattern with
// nothing rubbed has a sentence of its own.
//
// Off-center by up to 0.03 of the flank is called centered, up to 0.12 "a little",
// up to 0.25 plainly off, beyond that at the edge: this package's own steps. The
// pattern is said to reach an edge when at least an eighth of the cells along that
// edge are rubbed by half or more.
func Words(p gauge.ToothPattern) string { return newFlank(p).words() }

func (f flank) words() string {
	name := f.name
	switch strings.ToLower(name) {
	case driveName:
		name = "Drive"
	case coastName:
		name = "Coast"
	case nameless:
		name = "Unnamed side"
	}
	if !f.found {
		return name + ": no pattern; the compound was not touched."
	}
	up := step(f.t, "at the root", "toward the root (flank contact)", "a little toward the root",
		"a little toward the top", "toward the top (face contact)", "at the top")
	along := step(f.s, "at the toe", "toward the toe", "a little toward the toe",
		"a little toward the heel", "toward the heel", "at the heel")
	var b strings.Builder
	b.WriteString(name + ": ")
	switch {
	case up == "" && along == "":
		b.WriteString("centered root to top and toe to heel")
	case up == "":
		b.WriteString("centered root to top, " + along)
	case along == "":
		b.WriteString(up + ", centered toe to heel")
	default:
		b.WriteString(up + ", and " + along)
	}
	if f.length > 0 {
		b.WriteString("; covers " + portion(f.length) + " the length")
		if f.height > 0 {
			b.WriteString(" and " + strings.TrimPrefix(portion(f.height), "about ") + " the height")
		}
	}
	if e := f.edges(); len(e) > 0 {
		b.WriteString("; reaches " + list(e))
	}
	b.WriteString(".")
	if f.ink == nil {
		b.WriteString(" " + notKept)
	}
	return b.String()
}

// step picks the phrase for a place x along 0..1, or "" in the middle. Places are
// read to hundredths, so the limits lie between two of them.
func step(x float64, far, off, near, near2, off2, far2 string) string {
	switch d := x - 0.5; {
	case d < -0.255:
		return far
	case d < -0.125:
		return off
	case d < -0.035:
		return near
	case d <= 0.035:
		return ""
	case d <= 0.125:
		return near2
	case d <= 0.255:
		return off2
	}
	return far2
}

// portion puts a share into words, to the nearest of the fractions people use.
func portion(x float64) string {
	switch {
	case x < 0.05:
		return "a sliver of"
	case x < 0.15:
		return "about a tenth of"
	case x < 0.225:
		return "about a fifth of"
	case x < 0.29:
		return "about a quarter of"
	case x < 0.415:
		return "about a third of"
	case x < 0.585:
		return "about half"
	case x < 0.71:
		return "about two thirds of"
	case x < 0.84:
		return "about three quarters of"
	case x < 0.975:
		return "nearly all"
	}
	return "all"
}

// edges names the edges of the flank that the rubbed area reaches.
func (f flank) edges() []string {
	if f.ink == nil {
		return nil
	}
	var toe, heel, root, top int
	for row := range f.rows {
		toe += rubbed(f.ink[row*f.cols])
		heel += rubbed(f.ink[row*f.cols+f.cols-1])
	}
	for col := range f.cols {
		root += rubbed(f.ink[col])
		top += rubbed(f.ink[(f.rows-1)*f.cols+col])
	}
	var e []string
	add := func(name string, n, of int) {
		if n > 0 && 8*n >= of {
			e = append(e, name)
		}
	}
	add("the toe end", toe, f.rows)
	add("the heel end", heel, f.rows)
	add("the root", root, f.cols)
	add("the top edge", top, f.cols)
	return e
}

func rubbed(ink float64) int {
	if ink >= half {
		return 1
	}
	return 0
}

func list(s []string) string {
	if len(s) == 1 {
		return s[0]
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}
