package picture

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"shimwright/sim/gauge"
)

// Options says how a picture may be made.
type Options struct {
	Columns int    // terminal width in character columns, brought inside 40..120; SVG and PNG do not use it
	Color   bool   // escape sequences in Terminal, hues in SVG and PNG; without it shades of gray
	Title   string // a line above the picture, or none
	Dark    bool   // SVG and PNG for a dark screen; a picture in a page is as the page is
	Unit    string // unit written after each value of Bars, such as "min"
	ID      string // names an SVG in a page that holds several; none in a file of its own
}

const (
	minColumns = 40
	maxColumns = 120
	// pairColumns is the narrowest terminal that takes two flanks side by side.
	pairColumns = 80
	// toeHeight is the height of the drawn toe end as a share of the heel end: a
	// sketch's figure, chosen so that the taper shows.
	toeHeight = 0.70
	// faint is the ink above which a cell counts as rubbed at all, and half the
	// ink at which the edge of the pattern is drawn.
	faint = 0.30
	half  = 0.50
)

const (
	noPatterns = "No contact pattern was taken."
	sameWay    = "Both sides are drawn toe on the left."
	notKept    = "Only the place of this pattern was kept, not its shape."
	nameless   = "unnamed"
	driveName  = "drive"
	coastName  = "coast"
)

func (o Options) columns() int { return min(max(o.Columns, minColumns), maxColumns) }

// A flank is a pattern made safe to draw: sizes agree, every number is in range.
type flank struct {
	name       string // as given, without control characters
	crossed    bool   // drive is the concave flank
	cols, rows int
	ink        []float64 // nil if the pattern's grid is unusable
	found      bool      // there is a pattern to see
	s, t       float64   // center
	length     float64   // share of the face
	height     float64   // share of the working depth
}

func newFlank(p gauge.ToothPattern) flank {
	f := flank{name: clean(p.Flank), crossed: p.Crossed}
	if f.name == "" {
		f.name = nameless
	}
	// Written as divisions because the product of two wild sizes can wrap round.
	if n := len(p.Ink); p.Cols > 0 && p.Rows > 0 && n > 0 && n%p.Cols == 0 && n/p.Cols == p.Rows {
		f.cols, f.rows = p.Cols, p.Rows
		f.ink = make([]float64, n)
		for i, x := range p.Ink {
			f.ink[i] = share(x)
		}
	}
	s, t, length, height, rubbed := f.measure()
	f.found = rubbed || share(p.AreaPart) > 0 || share(p.LengthPart) > 0
	if !f.found {
		return f
	}
	// The recorded numbers are what the eye saw, and they come first; they are
	// taken together or not at all, since a half-filled record would mislead.
	f.s, f.t, f.length, f.height = share(p.CenterS), share(p.CenterT), share(p.LengthPart), share(p.HeightPart)
	recorded := finite(p.CenterS) && finite(p.CenterT) && f.length > 0
	if !recorded && rubbed {
		f.s, f.t, f.length, f.height = s, t, length, height
	}
	if !recorded && !rubbed && !(finite(p.CenterS) && finite(p.CenterT)) {
		f.found = false
	}
	return f
}

// measure finds center and extent of the ink itself.
func (f flank) measure() (s, t, length, height float64, rubbed bool) {
	left, right, low, high := f.cols, -1, f.rows, -1
	sum := 0.0
	for row := range f.rows {
		for col := range f.cols {
			x := f.ink[row*f.cols+col]
			if x < faint {
				continue
			}
			left, right, low, high = min(left, col), max(right, col), min(low, row), max(high, row)
			sum += x
			s += x * (float64(col) + 0.5) / float64(f.cols)
			t += x * (float64(row) + 0.5) / float64(f.rows)
		}
	}
	if sum == 0 {
		return 0, 0, 0, 0, false
	}
	return s / sum, t / sum, float64(right-left+1) / float64(f.cols), float64(high-low+1) / float64(f.rows), true
}

// at returns the ink at a place on the flank, blended between cell centers.
func (f flank) at(s, t float64) float64 {
	if f.ink == nil {
		return 0
	}
	x := min(max(s*float64(f.cols)-0.5, 0), float64(f.cols-1))
	y := min(max(t*float64(f.rows)-0.5, 0), float64(f.rows-1))
	i, j := int(x), int(y)
	k, l := min(i+1, f.cols-1), min(j+1, f.rows-1)
	x, y = x-float64(i), y-float64(j)
	return (f.ink[j*f.cols+i]*(1-x)+f.ink[j*f.cols+k]*x)*(1-y) +
		(f.ink[l*f.cols+i]*(1-x)+f.ink[l*f.cols+k]*x)*y
}

// over averages the ink over a patch of the given half sizes, so that a coarse
// picture shows the pattern and not the grain of single cells.
func (f flank) over(s, t, ds, dt float64) float64 {
	return (f.at(s-ds/2, t-dt/2) + f.at(s+ds/2, t-dt/2) + f.at(s-ds/2, t+dt/2) + f.at(s+ds/2, t+dt/2)) / 4
}

// heading names the side of the tooth and its form.
func (f flank) heading() string {
	side := map[string]string{driveName: "convex", coastName: "concave"}
	if f.crossed {
		side = map[string]string{driveName: "concave", coastName: "convex"}
	}
	name := strings.ToUpper(f.name) + " SIDE"
	if shape, ok := side[strings.ToLower(f.name)]; ok {
		name += " (" + shape + ")"
	}
	return name
}

// heightAt is the height of the drawn flank at s as a share of the heel's.
func heightAt(s float64) float64 { return toeHeight + (1-toeHeight)*s }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// share brings x inside 0..1; what is not a number becomes 0.
func share(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return min(max(x, 0), 1)
}

// clean drops control and formatting characters and bad bytes, and turns every
// run of blanks into one, so that no name or title can steer a terminal or break
// a line.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == utf8.RuneError, !unicode.IsPrint(r):
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// ascii spells s in ASCII. With letters true, letters of other scripts stay.
func ascii(s string, letters bool) string {
	var b strings.Builder
	for _, r := range clean(s) {
		switch {
		case r < utf8.RuneSelf, letters && (unicode.IsLetter(r) || unicode.IsMark(r)):
			b.WriteRune(r)
		case unicode.IsMark(r):
			// A mark on a letter that is spelled without it.
		default:
			b.WriteString(spell(r))
		}
	}
	return clean(b.String())
}

func spell(r rune) string {
	switch r {
	case '–', '—', '‑', '−':
		return "-"
	case '·', '•':
		return "."
	case '×':
		return "x"
	case '±':
		return "+/-"
	case '°':
		return " deg "
	case 'µ', 'μ':
		return "u"
	case '‘', '’', '′':
		return "'"
	case '“', '”', '″':
		return `"`
	case '…':
		return "..."
	case 'ß':
		return "ss"
	}
	for _, set := range [...]string{"aàáâãäå", "eèéêë", "iìíîï", "oòóôõöø", "uùúûü", "nñ", "cç", "yýÿ",
		"AÀÁÂÃÄÅ", "EÈÉÊË", "IÌÍÎÏ", "OÒÓÔÕÖØ", "UÙÚÛÜ", "NÑ", "CÇ", "YÝ"} {
		if strings.ContainsRune(set, r) {
			return set[:1]
		}
	}
	return "?"
}
