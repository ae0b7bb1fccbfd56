package picture

import (
	"image"
	"image/color"
	"io"
	"math"
	"math/bits"
	"slices"

	"shimwright/sim/gauge"
)

// PNG writes the patterns as pixels, drive and coast side by side, about 1000 by
// 430 for a pair, with the words of each pattern below it. Without color it is in
// shades of gray. Characters outside ASCII are spelled in it.
//
// The error reports more patterns than a picture holds, or what w reported.
func PNG(w io.Writer, patterns []gauge.ToothPattern, o Options) error {
	o.Title = ascii(o.Title, false)
	plain := slices.Clone(patterns)
	for i := range plain {
		plain[i].Flank = ascii(plain[i].Flank, false)
	}
	sc, err := newScene(plain, o)
	if err != nil {
		return err
	}
	return writePNG(w, sc)
}

// A raster draws shapes with soft edges: each pixel is sampled at samples x
// samples places, one bit of its cover for each, and the share of them inside
// the shape is the share of the shape's color.
type raster struct {
	img   *image.RGBA
	cover []uint16
}

const samples = 4 // in each direction; their square is the bits of a cover

func (r *raster) size() (wide, high int) { return r.img.Rect.Dx(), r.img.Rect.Dy() }

// bounds gives the pixels the loops may touch, reach pixels around them included.
func (r *raster) bounds(loops [][]point, reach float64) (x0, y0, x1, y1 int) {
	left, up, right, down := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, l := range loops {
		for _, p := range l {
			left, up, right, down = min(left, p.x), min(up, p.y), max(right, p.x), max(down, p.y)
		}
	}
	wide, high := r.size()
	if left > right {
		return 0, 0, 0, 0
	}
	return max(int(left-reach), 0), max(int(up-reach), 0), min(int(right+reach)+1, wide), min(int(down+reach)+1, high)
}

// fill paints the inside of the loops, counted even-odd.
func (r *raster) fill(loops [][]point, ink color.RGBA) {
	x0, y0, x1, y1 := r.bounds(loops, 1)
	wide, _ := r.size()
	lines := make([][]float64, (y1-y0)*samples)
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if a.y > b.y {
				a, b = b, a
			}
			from := max(int(math.Ceil((a.y-float64(y0))*samples-0.5)), 0)
			for k := from; k < len(lines); k++ {
				y := float64(y0) + (float64(k)+0.5)/samples
				if y >= b.y {
					break
				}
				lines[k] = append(lines[k], a.x+(b.x-a.x)*(y-a.y)/(b.y-a.y))
			}
		}
	}
	for y := y0; y < y1; y++ {
		row := r.cover[y*wide : (y+1)*wide]
		for k := range samples {
			xs := lines[(y-y0)*samples+k]
			slices.Sort(xs)
			for i := 0; i+1 < len(xs); i += 2 {
				// The samples whose middle lies between the two crossings.
				from := max(int(math.Ceil(xs[i]*samples-0.5)), x0*samples)
				to := min(int(math.Ceil(xs[i+1]*samples-0.5)), x1*samples)
				for n := from; n < to; n++ {
					row[n/samples] |= 1 << (k*samples + n%samples)
				}
			}
		}
		r.blend(y, x0, x1, ink)
	}
}

// blend lays ink over the pixels of a line by their cover, and clears the cover.
func (r *raster) blend(y, x0, x1 int, ink color.RGBA) {
	const full = samples * samples
	wide, _ := r.size()
	for x := x0; x < x1; x++ {
		n := bits.OnesCount16(r.cover[y*wide+x])
		if n == 0 {
			continue
		}
		r.cover[y*wide+x] = 0
		p := r.img.Pix[y*r.img.Stride+4*x:]
		for c, v := range [3]uint8{ink.R, ink.G, ink.B} {
			p[c] = uint8((int(p[c])*(full-n) + int(v)*n + full/2) / full)
		}
	}
}

// stroke draws lines: a sample is inside if it is within half the width of the
// line. The same samples are used as in fill, but only near each piece of line.
func (r *raster) stroke(s shape) {
	x0, y0, x1, y1 := r.bounds(s.loops, s.width)
	reach := s.width / 2
	for _, l := range s.loops {
		n := len(l)
		if !s.closed {
			n--
		}
		run := 0.0
		for i := range n {
			a, b := l[i], l[(i+1)%len(l)]
			length := math.Hypot(b.x-a.x, b.y-a.y)
			if length == 0 {
				continue
			}
			if s.dash == 0 {
				r.piece(a, b, reach)
			}
			// Dashes begin at the even multiples of the dash length along the line.
			for at := 2 * s.dash * math.Floor(run/(2*s.dash)); s.dash > 0 && at < run+length; at += 2 * s.dash {
				from, to := max(at-run, 0)/length, min(at+s.dash-run, length)/length
				if from < to {
					r.piece(point{a.x + (b.x-a.x)*from, a.y + (b.y-a.y)*from},
						point{a.x + (b.x-a.x)*to, a.y + (b.y-a.y)*to}, reach)
				}
			}
			run += length
		}
	}
	for y := y0; y < y1; y++ {
		r.blend(y, x0, x1, s.ink)
	}
}

// piece covers the samples within reach of the line from a to b.
func (r *raster) piece(a, b point, reach float64) {
	x0, y0, x1, y1 := r.bounds([][]point{{a, b}}, reach+1)
	wide, _ := r.size()
	dx, dy := b.x-a.x, b.y-a.y
	long := dx*dx + dy*dy
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			for k := range samples * samples {
				px := float64(x) + (float64(k%samples)+0.5)/samples - a.x
				py := float64(y) + (float64(k/samples)+0.5)/samples - a.y
				u := min(max((px*dx+py*dy)/long, 0), 1)
				px, py = px-u*dx, py-u*dy
				if px*px+py*py <= reach*reach {
					r.cover[y*wide+x] |= 1 << k
				}
			}
		}
	}
}

// text draws dot letters, each dot a square of s.size pixels. Strong letters are
// drawn twice, one pixel apart.
func (r *raster) text(s shape) {
	letters := []rune(s.text)
	x := int(s.at.x)
	if s.toEnd {
		x -= len(letters) * glyphPitch * s.size
	}
	y := int(s.at.y) - glyphBase*s.size
	again := 0
	if s.strong {
		again = 1
	}
	for i, c := range letters {
		for gy := range glyphHigh {
			for gx := range glyphWide {
				if !dot(c, gx, gy) {
					continue
				}
				left, up := x+(i*glyphPitch+gx)*s.size, y+gy*s.size
				for py := up; py < up+s.size; py++ {
					for px := left; px < left+s.size+again; px++ {
						r.img.SetRGBA(px, py, s.ink) // outside the picture this does nothing
					}
				}
			}
		}
	}
}
