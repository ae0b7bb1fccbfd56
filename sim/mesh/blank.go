package mesh

import (
	"fmt"
	"math"

	"shimwright/sim/solve"
	"shimwright/sim/text"
)

// A Flank is one side of a ring gear tooth.
type Flank int

// The two flanks. Drive is the ring's convex side, pushed by the pinion when the
// axle drives forward; Coast is the concave side.
const (
	Drive Flank = iota
	Coast
)

func (f Flank) known() bool { return f == Drive || f == Coast }

// Side is what a person calls the flank.
func (f Flank) Side() text.Message {
	if f == Coast {
		return text.Say("mesh.coast", "coast side")
	}
	return text.Say("mesh.drive", "drive side")
}

// String returns "drive" or "coast".
func (f Flank) String() string {
	switch f {
	case Drive:
		return "drive"
	case Coast:
		return "coast"
	}
	return fmt.Sprintf("Flank(%d)", int(f))
}

// SetData is what a drawing of the gear set states.
type SetData struct {
	PinionTeeth, RingTeeth int

	OffsetMM       float64 // distance of the two axes; 0 for a spiral bevel set
	RingDiameterMM float64 // outer pitch diameter
	FaceWidthMM    float64 // of the ring, along the pitch line

	// SpiralDeg is the mean spiral angle: the pinion's when there is an offset,
	// the common one when OffsetMM is 0.
	SpiralDeg float64

	CutterRadiusMM   float64 // face-mill cutter, at the mean point
	PressureAngleDeg float64 // average of the two blade angles

	// Proportions of the teeth; zero means the usual value given here.
	DepthFactor       float64 // working depth in mean normal modules, 2.0
	RingAddendumShare float64 // ring's part of the working depth, 0.16
	SlotFactor        float64 // ring slot wider than half the pitch by this many pitches, 0.06
}

// Usual tooth proportions (assumption 4 of the package comment).
const (
	usualDepthFactor       = 2.0
	usualRingAddendumShare = 0.16
	usualSlotFactor        = 0.06
)

func (d SetData) withDefaults() SetData {
	if d.DepthFactor == 0 {
		d.DepthFactor = usualDepthFactor
	}
	if d.RingAddendumShare == 0 {
		d.RingAddendumShare = usualRingAddendumShare
	}
	if d.SlotFactor == 0 {
		d.SlotFactor = usualSlotFactor
	}
	return d
}

// check names the first number no gear set can have. The limits are wide: they
// keep the arithmetic sound, the geometry decides the rest.
func (d SetData) check() error {
	if d.PinionTeeth < 3 {
		return text.Fail(nil, text.Say("mesh.pinion-teeth", "the pinion has {n} teeth; it needs 3 or more", text.Count("n", d.PinionTeeth)))
	}
	if d.RingTeeth <= d.PinionTeeth {
		return text.Fail(nil, text.Say("mesh.few-ring-gear-teeth", "the ring gear has {ring_gear} teeth and the pinion {pinion}; the ring gear needs more than the pinion", text.Count("ring_gear", d.RingTeeth), text.Count("pinion", d.PinionTeeth)))
	}
	if d.RingTeeth > 400 {
		return text.Fail(nil, text.Say("mesh.many-ring-gear-teeth", "the ring gear has {n} teeth; this model takes at most 400", text.Count("n", d.RingTeeth)))
	}
	mm, degrees, none := text.Verbatim(" mm"), text.Say("mesh.degrees", " degrees"), text.Message{}
	for _, v := range []struct {
		what      text.Message
		value     float64
		low, high float64
		unit      text.Message
	}{
		{text.Say("mesh.ring-diameter", "ring gear diameter"), d.RingDiameterMM, 20, 2000, mm},
		{text.Say("mesh.offset", "offset"), d.OffsetMM, 0, 0.4 * d.RingDiameterMM, mm},
		{text.Say("mesh.face-width", "face width"), d.FaceWidthMM, 0.02 * d.RingDiameterMM, 0.3 * d.RingDiameterMM, mm},
		{text.Say("mesh.spiral-angle", "spiral angle"), d.SpiralDeg, 0, 70, degrees},
		{text.Say("mesh.cutter-radius", "cutter radius"), d.CutterRadiusMM, 0.1 * d.RingDiameterMM, 5 * d.RingDiameterMM, mm},
		{text.Say("mesh.pressure-angle", "pressure angle"), d.PressureAngleDeg, 10, 30, degrees},
		{text.Say("mesh.depth-factor", "depth factor"), d.DepthFactor, 0.5, 3, none},
		{text.Say("mesh.ring-addendum", "ring addendum share"), d.RingAddendumShare, 0.02, 0.9, none},
		{text.Say("mesh.tooth-space", "tooth space factor"), d.SlotFactor, -0.3, 0.3, none},
	} {
		if math.IsNaN(v.value) || v.value < v.low || v.value > v.high {
			return text.Fail(nil, text.Say("mesh.outside", "the {what} is {x}{unit}; it should be between {low} and {high}{unit}", text.Of("what", v.what), text.Rounded("x", v.value), text.Rounded("low", v.low), text.Rounded("high", v.high), text.Of("unit", v.unit)))
		}
	}
	return nil
}

// A Blank is the geometry that follows from SetData: the pitch cones, the tooth
// proportions and the cutter that leaves the ring gear's tooth space. Coordinates are
// of the fixed frame (see the package comment) with the ring at angle zero.
type Blank struct {
	Data SetData // with the usual proportions filled in

	Ratio float64 // pinion teeth over ring teeth

	RingPitchAngleRad, PinionPitchAngleRad float64
	RingSpiralRad, PinionSpiralRad         float64
	OffsetAngleRad                         float64 // between the two pitch-cone lines in the pitch plane
	LimitAngleRad                          float64 // limit pressure angle, signed; 0 without offset
	LimitRadiusMM                          float64 // limit radius of curvature; 0 without offset
	DriveAngleRad, CoastAngleRad           float64 // blade angles of the two ring flanks

	RingMeanRadiusMM, PinionMeanRadiusMM float64
	RingMeanConeMM, PinionMeanConeMM     float64 // cone distances at mid-face
	RingOuterConeMM                      float64 // cone distance at the ring's outer diameter
	MeanPointMM                          [3]float64
	MeanPointAngleRad                    float64 // of the mean point round the ring axis, from x

	NormalModuleMM, WorkingDepthMM       float64 // at mid-face
	RingAddendumMM, PinionAddendumMM     float64
	ClearanceMM, RingDedendumMM          float64
	RingRootAngleRad                     float64
	NotchWidthMM                         float64 // of the ring gear's tooth space, on the pitch plane
	CutterCenterMM                       [3]float64
	CutterAxis                           [3]float64 // unit, out of the tooth space
	DriveConeRadiusMM, CoastConeRadiusMM float64    // blade cones on the pitch plane

	sinPitch, cosPitch float64 // of RingPitchAngleRad
}

// ErrNoPitchDesign marks set data for which no pair of pitch cones exists.
var ErrNoPitchDesign error = text.Fail(nil, text.Say("mesh.no-pitch-design", "these sizes have no pitch cones in common"))

// ErrTeeth marks set data whose pitch cones exist but whose teeth cannot.
var ErrTeeth error = text.Fail(nil, text.Say("mesh.teeth", "the teeth cannot be made"))

// NewBlank derives the geometry of a set. The lengths and angles of SetData are
// in the units their names say; the limits are in the error texts.
//
// Errors: data outside its limits; ErrNoPitchDesign when no pitch cones fit the
// offset, spiral and cutter together; ErrTeeth when teeth come to a point, a slot
// closes before its bottom, or the pinion would be undercut.
//
// Formulas: pitch cones without offset [1]; with offset the limit pressure angle
// and limit curvature conditions of [2]; blade angles of [3].
func NewBlank(data SetData) (*Blank, error) {
	data = data.withDefaults()
	if err := data.check(); err != nil {
		return nil, err
	}
	p, err := pitchDesign(data)
	if err != nil {
		return nil, err
	}
	b := p.blank(data)
	if err := b.checkSlot(); err != nil {
		return nil, err
	}
	// A coarse look at the flanks is enough to refuse a set here; NewSet repeats
	// it on its full grid.
	for _, f := range []Flank{Drive, Coast} {
		if _, err := b.conjugate(f, 13, 9, 0, 12); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// A pitch is one trial of the pitch cones of a set with offset.
type pitch struct {
	gamma2, gamma1 float64 // ring and pinion pitch angles
	psi2, psi1     float64 // spiral angles
	cosEps         float64 // of the offset angle
	rm2, rm1       float64 // mean radii
	theta          float64
	m              vec
	alpha0, rho0   float64
	// miss is rc·(denominator) − (numerator) of the limit curvature, which unlike
	// the curvature itself has no poles to step over.
	miss float64
}

// A slide is a trial of the mean point, and how the two members slide on each other there.
type slide struct {
	m, arm1, v1, sliding, g1 vec
	normal                   vec
	rm2                      float64
}

// slideAt is the slide of a mean point at angle theta round the ring axis, whose sine and cosine
// are given, for a ring pitch angle of which they are given.
func (d SetData) slideAt(sinG, cosG, sinT, cosT float64) slide {
	i := float64(d.PinionTeeth) / float64(d.RingTeeth)
	rm2 := d.RingDiameterMM/2 - d.FaceWidthMM/2*sinG
	m := vec{rm2 * cosT, rm2 * sinT, sinG / cosG * (d.OffsetMM - rm2*sinT) / sinT}

	arm1 := m.minus(vec{0, d.OffsetMM, 0})
	v1 := vec{-1, 0, 0}.cross(arm1)
	v2 := vec{0, 0, i}.cross(m)
	normal := v1.cross(v2).unit()
	if normal.z > 0 {
		normal = normal.times(-1)
	}
	g1 := v1.cross(normal).unit().alongside(vec{1, 0, 0})
	return slide{m, arm1, v1, v1.minus(v2), g1, normal, rm2}
}

// spiralMiss is the part of the sliding across a trace of the pinion's spiral wanted. It has no
// jump where the trace, which has two ends, changes the one named.
func (x *slide) spiralMiss(d *SetData) float64 {
	sinW, cosW := math.Sincos(radians(d.SpiralDeg))
	return x.sliding.dot(x.v1.unit())*cosW - x.sliding.dot(x.g1)*sinW
}

// at works out the pitch plane of a mean point at angle theta round the ring axis,
// for a ring pitch angle gamma2.
func (d SetData) at(gamma2, theta float64) pitch {
	sinG, cosG := math.Sincos(gamma2)
	sinT, cosT := math.Sincos(theta)
	x := d.slideAt(sinG, cosG, sinT, cosT)
	m, arm1, v1, normal, sliding, g1, rm2 := x.m, x.arm1, x.v1, x.normal, x.sliding, x.g1, x.rm2
	er, et := vec{cosT, sinT, 0}, vec{-sinT, cosT, 0}
	g2 := er.times(sinG).plus(vec{0, 0, cosG})
	tau := sliding.unit().alongside(g2)

	p := pitch{gamma2: gamma2, theta: theta, m: m, rm2: rm2}
	p.psi2 = math.Atan2(tau.dot(et), tau.dot(g2))
	p.psi1 = math.Atan2(tau.dot(v1.unit()), tau.dot(g1))
	p.gamma1 = math.Asin(math.Min(1, math.Abs(normal.x)))
	p.cosEps = math.Min(1, g1.dot(g2))
	p.rm1 = math.Hypot(arm1.y, arm1.z)

	// Limit pressure angle and limit curvature [2]; R1, R2 mean cone distances.
	r1, r2 := p.rm1/math.Sin(p.gamma1), rm2/sinG
	t1, t2 := math.Tan(p.gamma1), sinG/cosG
	tanA0 := -t1 * t2 / p.cosEps * (r1*math.Sin(p.psi1) - r2*math.Sin(p.psi2)) / (r1*t1 + r2*t2)
	p.alpha0 = math.Atan(tanA0)
	num := (math.Tan(p.psi1) - math.Tan(p.psi2)) / math.Cos(p.alpha0)
	den := -tanA0*(math.Tan(p.psi1)/(r1*t1)+math.Tan(p.psi2)/(r2*t2)) +
		1/(r1*math.Cos(p.psi1)) - 1/(r2*math.Cos(p.psi2))
	p.rho0 = num / den
	p.miss = d.CutterRadiusMM*den - num
	return p
}

// Search ranges and fineness of the nested pitch design.
const (
	ringAngleLowDeg, ringAngleHighDeg = 45.0, 87.0
	ringAngleSteps                    = 84
	meanPointSteps                    = 60
	angleTolRad                       = 1e-14
)

// withSpiral finds the mean point at which the pinion has the spiral wanted, for
// one ring pitch angle. Of several it takes the one furthest round the ring, where
// the offset lies across the pinion and not along it.
func (d SetData) withSpiral(gamma2 float64) (pitch, bool) {
	rm := d.RingDiameterMM/2 - d.FaceWidthMM/2*math.Sin(gamma2)
	if d.OffsetMM >= rm {
		return pitch{}, false
	}
	top := math.Asin(d.OffsetMM / rm)
	sinG, cosG := math.Sincos(gamma2)
	miss := func(theta float64) float64 {
		sinT, cosT := math.Sincos(theta)
		x := d.slideAt(sinG, cosG, sinT, cosT)
		return x.spiralMiss(&d)
	}
	high := top * (1 - 1e-9)
	fHigh := miss(high)
	for k := meanPointSteps - 1; k >= 1; k-- {
		low := top * float64(k) / meanPointSteps
		fLow := miss(low)
		if fLow > 0 != (fHigh > 0) {
			if root, err := solve.Bracketed(miss, low, high, angleTolRad); err == nil {
				// The same line read from its other end is not a solution.
				if p := d.at(gamma2, root.X); math.Abs(p.psi1-radians(d.SpiralDeg)) < 1e-6 {
					return p, true
				}
			}
		}
		high, fHigh = low, fLow
	}
	return pitch{}, false
}

func pitchDesign(d SetData) (pitch, error) {
	if d.OffsetMM == 0 {
		gamma2 := math.Atan2(float64(d.RingTeeth), float64(d.PinionTeeth))
		rm := d.RingDiameterMM/2 - d.FaceWidthMM/2*math.Sin(gamma2)
		psi := radians(d.SpiralDeg)
		z := rm / math.Tan(gamma2)
		return pitch{
			gamma2: gamma2, gamma1: math.Pi/2 - gamma2, psi2: psi, psi1: psi,
			cosEps: 1, rm2: rm, rm1: z, m: vec{rm, 0, z},
		}, nil
	}
	least, most := math.Inf(1), math.Inf(-1)
	var last pitch
	have := false
	for k := 0; k <= ringAngleSteps; k++ {
		gamma2 := radians(ringAngleLowDeg + (ringAngleHighDeg-ringAngleLowDeg)*float64(k)/ringAngleSteps)
		next, ok := d.withSpiral(gamma2)
		switch {
		case ok && next.rho0 > 0:
			least, most = math.Min(least, next.rho0), math.Max(most, next.rho0)
		case ok: // the limit curve has straightened and bends the other way
			most = math.Inf(1)
		}
		if ok && have && next.miss > 0 != (last.miss > 0) {
			root, err := solve.Bracketed(func(g float64) float64 {
				p, ok := d.withSpiral(g)
				if !ok {
					return math.NaN()
				}
				return p.miss
			}, last.gamma2, gamma2, angleTolRad)
			if err == nil {
				p, _ := d.withSpiral(root.X)
				return p, nil
			}
		}
		last, have = next, ok
	}
	if least > most || math.IsInf(least, 1) {
		return pitch{}, text.Fail(ErrNoPitchDesign, text.Say("mesh.no-spiral", "a pinion spiral of {spiral} degrees is not possible with an offset of {offset} mm on a ring gear of {diameter} mm with {pinion} and {ring_gear} teeth; try another spiral angle or offset",
			text.Rounded("spiral", d.SpiralDeg), text.Rounded("offset", d.OffsetMM), text.Rounded("diameter", d.RingDiameterMM), text.Count("pinion", d.PinionTeeth), text.Count("ring_gear", d.RingTeeth)))
	}
	limits := text.Say("mesh.between", "between {least} and {most} mm", text.Rounded("least", least), text.Rounded("most", most))
	if math.IsInf(most, 1) {
		limits = text.Say("mesh.at-least", "at least {least} mm", text.Rounded("least", least))
	}
	return pitch{}, text.Fail(ErrNoPitchDesign, text.Say("mesh.cutter-limits", "with a pinion spiral of {spiral} degrees and an offset of {offset} mm the cutter radius must be {limits}, and it is {radius} mm; another spiral angle moves these limits",
		text.Rounded("spiral", d.SpiralDeg), text.Rounded("offset", d.OffsetMM), text.Of("limits", limits), text.Rounded("radius", d.CutterRadiusMM)))
}

// blank carries a pitch design on to the teeth and the cutter.
func (p pitch) blank(d SetData) *Blank {
	sinG, cosG := math.Sincos(p.gamma2)
	b := &Blank{
		Data:              d,
		Ratio:             float64(d.PinionTeeth) / float64(d.RingTeeth),
		RingPitchAngleRad: p.gamma2, PinionPitchAngleRad: p.gamma1,
		RingSpiralRad: p.psi2, PinionSpiralRad: p.psi1, OffsetAngleRad: math.Acos(p.cosEps),
		LimitAngleRad: p.alpha0, LimitRadiusMM: p.rho0,
		DriveAngleRad:    radians(d.PressureAngleDeg) + p.alpha0, // [3]
		CoastAngleRad:    radians(d.PressureAngleDeg) - p.alpha0,
		RingMeanRadiusMM: p.rm2, PinionMeanRadiusMM: p.rm1,
		RingMeanConeMM: p.rm2 / sinG, PinionMeanConeMM: p.rm1 / math.Sin(p.gamma1),
		RingOuterConeMM: d.RingDiameterMM / (2 * sinG),
		MeanPointMM:     p.m.array(), MeanPointAngleRad: p.theta,
		sinPitch: sinG, cosPitch: cosG,
	}
	b.NormalModuleMM = 2 * p.rm2 * math.Cos(p.psi2) / float64(d.RingTeeth)
	b.WorkingDepthMM = d.DepthFactor * b.NormalModuleMM
	b.RingAddendumMM = d.RingAddendumShare * b.WorkingDepthMM
	b.PinionAddendumMM = b.WorkingDepthMM - b.RingAddendumMM
	b.ClearanceMM = 0.125*b.WorkingDepthMM + 0.05
	b.RingDedendumMM = b.PinionAddendumMM + b.ClearanceMM
	b.RingRootAngleRad = p.gamma2 - math.Atan(b.RingDedendumMM/b.RingMeanConeMM)
	b.NotchWidthMM = (math.Pi/2 + d.SlotFactor*math.Pi) * b.NormalModuleMM
	b.DriveConeRadiusMM = d.CutterRadiusMM - b.NotchWidthMM/2
	b.CoastConeRadiusMM = d.CutterRadiusMM + b.NotchWidthMM/2

	// The cutter stands square to the root plane.
	root, across, axis := b.rootPlane()
	e := root.times(-math.Sin(p.psi2)).plus(across.times(math.Cos(p.psi2)))
	b.CutterCenterMM = p.m.plus(e.times(d.CutterRadiusMM)).array()
	b.CutterAxis = axis.array()
	return b
}

// rootPlane returns the unit directions along the ring's root line toward the
// heel, round the ring, and out of the tooth space, at the mean point.
func (b *Blank) rootPlane() (root, across, axis vec) {
	sinR, cosR := math.Sincos(b.RingRootAngleRad)
	sinT, cosT := math.Sincos(b.MeanPointAngleRad)
	er := vec{cosT, sinT, 0}
	root = er.times(sinR).plus(vec{0, 0, cosR})
	axis = er.times(cosR).plus(vec{0, 0, -sinR})
	return root, vec{-sinT, cosT, 0}, axis
}

// checkSlot refuses a slot that closes above its bottom and ring teeth that come
// to a point below their top.
func (b *Blank) checkSlot() error {
	if lowest := math.Min(b.DriveAngleRad, b.CoastAngleRad); lowest < radians(2) {
		return text.Fail(ErrTeeth, text.Say("mesh.drive-angle", "the drive side would have a pressure angle of {angle} degrees; a larger pressure angle or a smaller offset is needed", text.Number("angle", degrees(lowest), 1)))
	}
	bottom := b.NotchWidthMM - b.RingDedendumMM*(math.Tan(b.DriveAngleRad)+math.Tan(b.CoastAngleRad))
	if bottom <= 0 {
		return text.Fail(ErrTeeth, text.Say("mesh.space-closes", "the tooth space of the ring gear closes before its bottom (by {by} mm); a smaller depth factor or pressure angle is needed", text.Number("by", -bottom, 2)))
	}
	drive, coast := b.cone(Drive), b.cone(Coast)
	for _, end := range []struct {
		name text.Message
		s    float64
	}{{text.Say("mesh.toe", "toe"), 0}, {text.Say("mesh.middle", "middle"), 0.5}, {text.Say("mesh.heel", "heel"), 1}} {
		xd, ok1 := b.point(&drive, end.s, 1)
		xc, ok2 := b.point(&coast, end.s, 1)
		if !ok1 || !ok2 {
			return text.Fail(ErrTeeth, text.Say("mesh.cutter-short", "the cutter does not reach the {place} of the ring gear teeth; a larger cutter radius is needed", text.Of("place", end.name)))
		}
		space := wrap(math.Atan2(xd.y, xd.x) - math.Atan2(xc.y, xc.x))
		land := (2*math.Pi/float64(b.Data.RingTeeth) - space) * math.Hypot(xd.x, xd.y)
		if space <= 0 || land <= 0 {
			return text.Fail(ErrTeeth, text.Say("mesh.pointed", "the ring gear teeth come to a point at the {place}; a smaller tooth space factor, depth or ring addendum is needed", text.Of("place", end.name)))
		}
	}
	return nil
}
