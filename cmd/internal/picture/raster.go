package picture

import (
	"cmp"
	"image"
	"image/color"
	"math"
	"slices"
)

// unit is how finely a picture of pixels is reckoned: a pixel is so many units. Places come in
// tenths of a pixel, as SVG has them, and letters in 64ths; from there on everything is whole
// numbers, so that every machine makes the same bytes. (The rasterizer of golang.org/x/image
// does curves and large pictures in floating point, which machines round differently.)
const unit = 640

// lines is in how many lines the cover of a pixel is summed.
const lines = 8

// A spot is a place in units.
type spot struct{ x, y int64 }

func (a spot) plus(b spot) spot  { return spot{a.x + b.x, a.y + b.y} }
func (a spot) minus(b spot) spot { return spot{a.x - b.x, a.y - b.y} }

// inTenths rounds a coordinate to tenths of a pixel. The hair keeps one half way between two
// from falling either way by the last bits on different machines.
func inTenths(x float64) int64 {
	const hair, most = 1e-6, 1e6
	if math.IsNaN(x) {
		return 0
	}
	return int64(math.Floor(float64(min(max(x, -most), most)*10) + 0.5 + hair))
}

func inUnits(x float64) int64 { return inTenths(x) * (unit / 10) }

func spotOf(p point) spot { return spot{inUnits(p.x), inUnits(p.y)} }

// A raster is a picture of pixels with soft edges.
type raster struct {
	img   *image.RGBA
	cover []int32 // of the pixels of a row, up to lines*unit
}

func newRaster(wide, high int, paper color.RGBA) *raster {
	r := &raster{image.NewRGBA(image.Rect(0, 0, wide, high)), make([]int32, wide+1)}
	for i := 0; i < len(r.img.Pix); i += 4 {
		copy(r.img.Pix[i:], []uint8{paper.R, paper.G, paper.B, 255})
	}
	return r
}

// A crossing is where a line meets the edge of an area, and which way the edge runs.
type crossing struct {
	x   int64
	way int
}

// fill paints what the loops go round, a hole being a loop that turns the other way.
func (r *raster) fill(loops [][]spot, ink color.RGBA) {
	const step = unit / lines
	top, bottom := int64(math.MaxInt64), int64(math.MinInt64)
	for _, l := range loops {
		for _, p := range l {
			top, bottom = min(top, p.y), max(bottom, p.y)
		}
	}
	y0, y1 := max(floorDiv(top, unit), 0), min(floorDiv(bottom, unit)+1, int64(r.img.Rect.Dy()))
	if len(loops) == 0 || y0 >= y1 {
		return
	}
	met := make([][]crossing, (y1-y0)*lines)
	for _, l := range loops {
		for i, a := range l {
			b, way := l[(i+1)%len(l)], 1
			if a.y > b.y {
				a, b, way = b, a, -1
			}
			// The lines stand in the middle of their share of a pixel.
			for k := max(floorDiv(a.y+step/2-1, step)-y0*lines, 0); k < int64(len(met)); k++ {
				y := y0*unit + k*step + step/2
				if y >= b.y {
					break
				}
				met[k] = append(met[k], crossing{a.x + (b.x-a.x)*(y-a.y)/(b.y-a.y), way})
			}
		}
	}
	for y := y0; y < y1; y++ {
		from, to := int64(len(r.cover)), int64(0)
		for _, m := range met[(y-y0)*lines : (y-y0+1)*lines] {
			slices.SortFunc(m, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
			around := 0
			for i, c := range m {
				if around != 0 {
					r.span(m[i-1].x, c.x, &from, &to)
				}
				around += c.way
			}
		}
		r.blend(int(y), int(from), int(to), ink)
	}
}

// span adds a piece of a line to the cover, and widens what has been covered.
func (r *raster) span(x0, x1 int64, from, to *int64) {
	most := int64(len(r.cover)-1) * unit
	x0, x1 = min(max(x0, 0), most), min(max(x1, 0), most)
	if x0 >= x1 {
		return
	}
	a, b := x0/unit, x1/unit
	*from, *to = min(*from, a), max(*to, b+1)
	if a == b {
		r.cover[a] += int32(x1 - x0)
		return
	}
	r.cover[a] += int32((a+1)*unit - x0)
	for i := a + 1; i < b; i++ {
		r.cover[i] += unit
	}
	r.cover[b] += int32(x1 - b*unit)
}

// blend lays ink over the pixels of a row by their cover, and clears the cover.
func (r *raster) blend(y, from, to int, ink color.RGBA) {
	const full = lines * unit
	for x := from; x < to; x++ {
		n := int(r.cover[x])
		r.cover[x] = 0
		if n == 0 || x >= r.img.Rect.Dx() {
			continue
		}
		p := r.img.Pix[y*r.img.Stride+4*x:]
		for c, v := range [3]uint8{ink.R, ink.G, ink.B} {
			p[c] = uint8((int(p[c])*(full-n) + int(v)*n + full/2) / full)
		}
	}
}

// floorDiv divides by a positive number, rounding down.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// stroke draws lines as SVG does: flat ends, round joins, dashes from each line's start.
func (r *raster) stroke(s shape, ink color.RGBA) {
	wide := inUnits(s.width) / 2
	dash := inUnits(s.dash)
	var loops [][]spot
	for _, l := range s.loops {
		pts := make([]spot, 0, len(l))
		for _, p := range l {
			if q := spotOf(p); len(pts) == 0 || pts[len(pts)-1] != q {
				pts = append(pts, q)
			}
		}
		n := len(pts) - 1
		if s.closed {
			n++
		}
		run := int64(0)
		for i := range n {
			a, b := pts[i], pts[(i+1)%len(pts)]
			if s.closed || i > 0 {
				// A dash that ends before a corner has no join there.
				if dash == 0 || run%(2*dash) < dash {
					loops = append(loops, disc(a, wide))
				}
			}
			long := distance(a, b)
			if long == 0 {
				continue
			}
			if dash == 0 {
				loops = append(loops, band(a, b, long, wide))
				continue
			}
			for at := run - run%(2*dash); at < run+long; at += 2 * dash {
				from, to := max(at-run, 0), min(at+dash-run, long)
				if from < to {
					loops = append(loops, band(between(a, b, from, long), between(a, b, to, long), to-from, wide))
				}
			}
			run += long
		}
	}
	r.fill(loops, ink)
}

func distance(a, b spot) int64 {
	d := b.minus(a)
	// A square root is rounded the same everywhere.
	return int64(math.Floor(math.Sqrt(float64(d.x*d.x+d.y*d.y)) + 0.5))
}

func between(a, b spot, part, whole int64) spot {
	d := b.minus(a)
	return a.plus(spot{d.x * part / whole, d.y * part / whole})
}

// band is a piece of line with its width. It turns the same way as disc, whatever its direction,
// so that what both cover is covered once.
func band(a, b spot, long, half int64) []spot {
	if long == 0 {
		return nil
	}
	d := b.minus(a)
	n := spot{-d.y * half / long, d.x * half / long}
	return []spot{a.plus(n), b.plus(n), b.minus(n), a.minus(n)}
}

func disc(at spot, radius int64) []spot {
	// The cosines of sixteenths of a turn, in thousandths.
	cosines := [16]int64{1000, 924, 707, 383, 0, -383, -707, -924, -1000, -924, -707, -383, 0, 383, 707, 924}
	out := make([]spot, len(cosines))
	for i := range out {
		out[i] = at.plus(spot{cosines[i] * radius / 1000, -cosines[(i+12)%16] * radius / 1000})
	}
	return out
}
