package mesh

import (
	"math"

	"shimwright/sim/text"
)

// A bladeCone is the cone a cutter blade sweeps, which is the ring's flank: the
// ring is cut without a generating motion.
type bladeCone struct {
	side       float64 // +1 drive (inside blade), −1 coast (outside blade)
	sin, cos   float64 // of the blade angle
	r0         float64 // radius on the pitch plane
	center     vec
	axis       vec // out of the tooth space
	inward, up vec // from the mean point to the centre, and along the trace toward the heel
}

func (b *Blank) cone(f Flank) bladeCone {
	root, across, axis := b.rootPlane()
	sinP, cosP := math.Sincos(b.RingSpiralRad)
	c := bladeCone{
		side: 1, r0: b.DriveConeRadiusMM,
		center: vecOf(b.CutterCenterMM), axis: axis,
		inward: root.times(-sinP).plus(across.times(cosP)),
		up:     root.times(cosP).plus(across.times(sinP)),
	}
	alpha := b.DriveAngleRad
	if f == Coast {
		c.side, c.r0, alpha = -1, b.CoastConeRadiusMM, b.CoastAngleRad
	}
	c.sin, c.cos = math.Sincos(alpha)
	return c
}

// surface returns the point at cutter angle lambda and height h over the pitch
// plane's base circle, with its two derivatives.
func (c *bladeCone) surface(lambda, h float64) (x, dLambda, dH vec) {
	sinL, cosL := math.Sincos(lambda)
	radial := c.inward.times(-cosL).plus(c.up.times(sinL))
	turned := c.inward.times(sinL).plus(c.up.times(cosL))
	slope := -c.side * c.sin / c.cos
	rho := c.r0 + slope*h
	x = c.center.plus(c.axis.times(h)).plus(radial.times(rho))
	return x, turned.times(rho), c.axis.plus(radial.times(slope))
}

// outside returns how far x stands out of the ring's material (mm, negative
// inside) and the unit normal there, out of the material.
func (c *bladeCone) outside(x vec) (float64, vec) {
	// In plain numbers, because the exact method spends its time here.
	ax, ay, az := c.axis.x, c.axis.y, c.axis.z
	dx, dy, dz := x.x-c.center.x, x.y-c.center.y, x.z-c.center.z
	h := dx*ax + dy*ay + dz*az
	rx, ry, rz := dx-h*ax, dy-h*ay, dz-h*az
	rho := math.Sqrt(rx*rx + ry*ry + rz*rz)
	k := c.side * c.cos / rho
	return c.side*c.cos*(rho-c.r0) + c.sin*h, vec{k*rx + c.sin*ax, k*ry + c.sin*ay, k*rz + c.sin*az}
}

// place returns where a point of radius r and height z lies in the ring's axial
// plane: along the pitch line from mid-face toward the heel, and over it.
func (b *Blank) place(r, z float64) (along, over float64) {
	dr, dz := r-b.RingMeanRadiusMM, z-b.MeanPointMM[2]
	return dr*b.sinPitch + dz*b.cosPitch, dr*b.cosPitch - dz*b.sinPitch
}

// share turns a place in the axial plane into shares of face and working depth.
func (b *Blank) share(along, over float64) (s, t float64) {
	f := 1 + along/b.RingMeanConeMM
	return along/b.Data.FaceWidthMM + 0.5, (over + b.PinionAddendumMM*f) / (b.WorkingDepthMM * f)
}

// axial is the inverse of share.
func (b *Blank) axial(s, t float64) (along, over float64) {
	along = (s - 0.5) * b.Data.FaceWidthMM
	f := 1 + along/b.RingMeanConeMM
	return along, (t*b.WorkingDepthMM - b.PinionAddendumMM) * f
}

// newtonSteps settle a flank point to the last bit from a start within the tooth.
const newtonSteps = 12

// point returns the flank point at (s, t), and false where the cutter does not
// pass.
func (b *Blank) point(c *bladeCone, s, t float64) (vec, bool) {
	sinG, cosG := b.sinPitch, b.cosPitch
	wantL, wantH := b.axial(s, t)
	lambda, h := wantL/b.Data.CutterRadiusMM, wantH
	var x, dl, dh vec
	for range newtonSteps {
		x, dl, dh = c.surface(lambda, h)
		r := math.Hypot(x.x, x.y)
		gotL, gotH := b.place(r, x.z)
		ml, mh := gotL-wantL, gotH-wantH
		if math.Abs(ml)+math.Abs(mh) < 1e-11 {
			return x, true
		}
		rl, rh := (x.x*dl.x+x.y*dl.y)/r, (x.x*dh.x+x.y*dh.y)/r
		ll, lh := rl*sinG+dl.z*cosG, rh*sinG+dh.z*cosG
		hl, hh := rl*cosG-dl.z*sinG, rh*cosG-dh.z*sinG
		det := ll*hh - lh*hl
		lambda -= (ml*hh - lh*mh) / det
		h -= (ll*mh - ml*hl) / det
	}
	gotL, gotH := b.place(math.Hypot(x.x, x.y), x.z)
	// Written so that a number that is not a number fails.
	return x, math.Abs(gotL-wantL)+math.Abs(gotH-wantH) < 1e-9
}

// A touch is one ring flank point and the conjugate pinion's contact there.
type touch struct {
	s, t  float64
	body  vec     // ring point in the ring's body
	bodyN vec     // outward normal there
	roll  float64 // pinion angle of contact, rad
	fixed vec     // contact point in the fixed frame
	n     vec     // normal in the fixed frame
	arm   float64 // moment arm of the normal about the ring axis, mm
}

// conjugateAt finds where the pinion that is exactly conjugate to the ring touches
// a ring flank point: the roll at which the sliding velocity lies in the flank.
func (b *Blank) conjugateAt(x, n vec) (touch, bool) {
	m := x.cross(n)
	rhs := b.Data.OffsetMM*n.z - b.Ratio*m.z
	reach := math.Hypot(m.x, m.y)
	if !(math.Abs(rhs) <= reach) {
		return touch{}, false
	}
	beta, half := math.Atan2(-m.y, m.x), math.Acos(rhs/reach)
	turn := wrap(beta + half)
	if other := wrap(beta - half); math.Abs(other) < math.Abs(turn) {
		turn = other
	}
	sinT, cosT := math.Sincos(turn)
	return touch{
		body: x, bodyN: n, roll: turn / b.Ratio,
		fixed: x.turnedZ(sinT, cosT), n: n.turnedZ(sinT, cosT), arm: m.z,
	}, true
}

// conjugate works out a whole flank on cols × rows points, column j at
// s = (j − first)/faces and rows evenly from t = 0 to 1.
//
// It refuses flanks without contact, with a moment arm of the wrong sign, and
// those whose conjugate pinion folds over on itself between toe and heel
// (undercut).
func (b *Blank) conjugate(f Flank, cols, rows, first, faces int) ([]touch, error) {
	c := b.cone(f)
	grid := make([]touch, cols*rows)
	for r := range rows {
		t := float64(r) / float64(rows-1)
		for j := range cols {
			s := float64(j-first) / float64(faces)
			x, ok := b.point(&c, s, t)
			if !ok {
				return nil, text.Fail(ErrTeeth, text.Say("mesh.cutter-misses", "the cutter does not pass the whole ring gear tooth ({side}, {along} from toe to heel); a larger cutter radius is needed", text.Of("side", f.Side()), text.Percent("along", s)))
			}
			_, n := c.outside(x)
			p, ok := b.conjugateAt(x, n)
			if !ok || p.arm*c.side >= 0 {
				return nil, text.Fail(ErrTeeth, text.Say("mesh.no-contact", "part of the {side} ({along} from toe to heel, {up} up) never meets a pinion tooth; the spiral angle, cutter radius or pressure angle does not suit this set", text.Of("side", f.Side()), text.Percent("along", s), text.Percent("up", t)))
			}
			p.s, p.t = s, t
			grid[r*cols+j] = p
		}
	}
	if err := b.checkUndercut(f, grid, cols, rows); err != nil {
		return nil, err
	}
	return grid, nil
}

// checkUndercut compares which way each patch of the pinion flank faces with the
// ring patch it was made by. Where the generated surface turns back on itself the
// two face opposite ways. Only the ring's own face counts.
func (b *Blank) checkUndercut(f Flank, grid []touch, cols, rows int) error {
	e := vec{0, b.Data.OffsetMM, 0}
	points, normals := make([]vec, len(grid)), make([]vec, len(grid)) // in the pinion's body
	for k := range grid {
		p := &grid[k]
		sinR, cosR := math.Sincos(p.roll)
		points[k], normals[k] = p.fixed.minus(e).turnedX(sinR, cosR), p.n.turnedX(sinR, cosR)
	}
	for r := 0; r+1 < rows; r++ {
		for j := 0; j+1 < cols; j++ {
			k := r*cols + j
			p, right, up := &grid[k], &grid[k+1], &grid[k+cols]
			if p.s < 0 || right.s > 1 {
				continue
			}
			pinion := points[k+1].minus(points[k]).cross(points[k+cols].minus(points[k])).dot(normals[k])
			ring := right.body.minus(p.body).cross(up.body.minus(p.body)).dot(p.bodyN)
			if !(pinion*ring > 0) {
				return text.Fail(ErrTeeth, text.Say("mesh.undercut", "the pinion would be undercut ({side}, {along} from toe to heel, {up} up the ring gear tooth); more pinion teeth, less depth or a larger pressure angle is needed", text.Of("side", f.Side()), text.Percent("along", p.s), text.Percent("up", p.t)))
			}
		}
	}
	return nil
}
