package mesh

import "math"

// A spot is one landed point of the grid: where on the ring tooth, and how close
// the pinion comes to it.
type spot struct{ s, t, sep float64 }

func between(a, b spot, share float64) spot {
	return spot{a.s + (b.s-a.s)*share, a.t + (b.t-a.t)*share, a.sep + (b.sep-a.sep)*share}
}

// A landing is where the points of a flank's grid land on the ring tooth, row after
// row, and how close the pinion comes to it at each (mm) over the whole roll.
type landing struct {
	cols, rows int
	s, t, sep  []float64
}

func newLanding(cols, rows int) landing {
	n := cols * rows
	return landing{cols, rows, make([]float64, n), make([]float64, n), make([]float64, n)}
}

func (l *landing) spot(k int) spot { return spot{l.s[k], l.t[k], l.sep[k]} }

// triangle returns the corners of one of the grid's triangles; half is 0 or 1.
func (l *landing) triangle(row, col, half int) (a, b, c spot) {
	k := row*l.cols + col
	if half == 0 {
		return l.spot(k), l.spot(k + 1), l.spot(k + l.cols + 1)
	}
	return l.spot(k), l.spot(k + l.cols + 1), l.spot(k + l.cols)
}

// Pattern returns what compound of the given film thickness (mm, usually 0.006 to
// 0.025) shows on a ring flank at the last position: the part of the tooth that the
// pinion passes closer than the film at any time in the roll, all tooth pairs
// together, under no load. A film that is not above zero shows nothing.
//
// Area and centroid are of the landed grid's triangles, cut where the closest
// approach equals the film and at the edges of the tooth, so they are not tied to
// any raster.
func (c *Contact) Pattern(f Flank, filmMM float64) Pattern {
	if !f.known() {
		return Pattern{Empty: true}
	}
	c.separate(f)
	c.landNear(f, filmMM)
	return c.faces[f].pattern(filmMM)
}

func (l *landing) pattern(filmMM float64) Pattern {
	if !(filmMM > 0) {
		return Pattern{Empty: true}
	}
	sum := patch{Pattern: Pattern{MinS: 2, MaxS: -1, MinT: 2, MaxT: -1}, filmMM: filmMM}
	for row := range l.rows - 1 {
		here, above := l.sep[row*l.cols:(row+1)*l.cols], l.sep[(row+1)*l.cols:(row+2)*l.cols]
		for col := range l.cols - 1 {
			// The two triangles of a cell share the corners here[col] and above[col+1].
			both := here[col] < filmMM || above[col+1] < filmMM
			if both || here[col+1] < filmMM {
				sum.add(l.triangle(row, col, 0))
			}
			if both || above[col] < filmMM {
				sum.add(l.triangle(row, col, 1))
			}
		}
	}
	if sum.AreaShare <= 0 {
		return Pattern{Empty: true}
	}
	sum.CenterS /= sum.AreaShare
	sum.CenterT /= sum.AreaShare
	// Rounding at the edges of the tooth.
	sum.AreaShare = math.Min(sum.AreaShare, 1)
	sum.MinS, sum.MinT = math.Max(sum.MinS, 0), math.Max(sum.MinT, 0)
	sum.MaxS, sum.MaxT = math.Min(sum.MaxS, 1), math.Min(sum.MaxT, 1)
	return sum.Pattern
}

// A patch gathers marked triangles; until the end its centre holds first moments.
type patch struct {
	Pattern
	filmMM   float64
	from, to [8]spot // a triangle cut by five lines has at most eight corners
}

// add takes the part of a triangle that is marked and on the tooth.
func (a *patch) add(p, q, r spot) {
	marked := p.sep < a.filmMM && q.sep < a.filmMM && r.sep < a.filmMM
	inside := inUnit(p) && inUnit(q) && inUnit(r)
	a.from[0], a.from[1], a.from[2] = p, q, r
	n := 3
	if !marked {
		n = a.cut(n, func(x spot) float64 { return a.filmMM - x.sep })
	}
	if !inside {
		n = a.cut(n, func(x spot) float64 { return x.s })
		n = a.cut(n, func(x spot) float64 { return 1 - x.s })
		n = a.cut(n, func(x spot) float64 { return x.t })
		n = a.cut(n, func(x spot) float64 { return 1 - x.t })
	}
	if n < 3 {
		return
	}
	o := a.from[0]
	a.reach(o)
	a.reach(a.from[1])
	for i := 2; i < n; i++ {
		x, y := a.from[i-1], a.from[i]
		a.reach(y)
		area := math.Abs((x.s-o.s)*(y.t-o.t)-(y.s-o.s)*(x.t-o.t)) / 2
		a.AreaShare += area
		a.CenterS += area * (o.s + x.s + y.s) / 3
		a.CenterT += area * (o.t + x.t + y.t) / 3
	}
}

func (a *patch) reach(x spot) {
	a.MinS, a.MaxS = min(a.MinS, x.s), max(a.MaxS, x.s)
	a.MinT, a.MaxT = min(a.MinT, x.t), max(a.MaxT, x.t)
}

// cut keeps the part of the polygon where keep is not negative, and returns how
// many corners it has left.
func (a *patch) cut(n int, keep func(spot) float64) int {
	m := 0
	for i := range n {
		x, y := a.from[i], a.from[(i+1)%n]
		kx, ky := keep(x), keep(y)
		if kx >= 0 {
			a.to[m] = x
			m++
		}
		if (kx > 0 && ky < 0) || (kx < 0 && ky > 0) {
			a.to[m] = between(x, y, kx/(kx-ky))
			m++
		}
	}
	copy(a.from[:m], a.to[:m])
	return m
}

func inUnit(p spot) bool { return p.s >= 0 && p.s <= 1 && p.t >= 0 && p.t <= 1 }

// Separation returns the closest approach (mm) over the whole roll at the centres
// of cols × rows equal cells of the ring tooth: column 0 at the toe, row 0 at the
// root end of the working depth, row after row. Cells where no point of the pinion
// lands hold +Inf. dst is used if it is large enough. Fewer than one column or row,
// or a flank that does not exist, gives no cells.
func (c *Contact) Separation(f Flank, cols, rows int, dst []float64) []float64 {
	if !f.known() {
		return dst[:0]
	}
	c.separate(f)
	c.land(f)
	return c.faces[f].separation(cols, rows, dst)
}

func (l *landing) separation(cols, rows int, dst []float64) []float64 {
	if cols < 1 || rows < 1 {
		return dst[:0]
	}
	if cap(dst) < cols*rows {
		dst = make([]float64, cols*rows)
	}
	dst = dst[:cols*rows]
	for i := range dst {
		dst[i] = math.Inf(1)
	}
	for row := range l.rows - 1 {
		for col := range l.cols - 1 {
			for half := range 2 {
				p, q, r := l.triangle(row, col, half)
				raster(dst, cols, rows, p, q, r)
			}
		}
	}
	return dst
}

// raster writes a triangle into the cells whose centres it covers.
func raster(dst []float64, cols, rows int, p, q, r spot) {
	whole := (q.s-p.s)*(r.t-p.t) - (r.s-p.s)*(q.t-p.t)
	if whole == 0 {
		return
	}
	firstCol, lastCol := cells(p.s, q.s, r.s, cols)
	firstRow, lastRow := cells(p.t, q.t, r.t, rows)
	// A centre on the seam of two triangles must fall in at least one of them.
	const seam = -1e-9
	for row := firstRow; row <= lastRow; row++ {
		t := (float64(row) + 0.5) / float64(rows)
		for col := firstCol; col <= lastCol; col++ {
			s := (float64(col) + 0.5) / float64(cols)
			b := ((s-p.s)*(r.t-p.t) - (r.s-p.s)*(t-p.t)) / whole
			c := ((q.s-p.s)*(t-p.t) - (s-p.s)*(q.t-p.t)) / whole
			if b < seam || c < seam || b+c > 1-seam {
				continue
			}
			v := max(0, p.sep+b*(q.sep-p.sep)+c*(r.sep-p.sep))
			if cell := &dst[row*cols+col]; v < *cell {
				*cell = v
			}
		}
	}
}

// cells returns the first and last of n cells whose centres lie between the least
// and the greatest of three shares.
func cells(a, b, c float64, n int) (first, last int) {
	low, high := min(a, b, c), max(a, b, c)
	first = int(math.Ceil(low*float64(n) - 0.5 - 1e-9))
	last = int(math.Floor(high*float64(n) - 0.5 + 1e-9))
	return max(first, 0), min(last, n-1)
}
