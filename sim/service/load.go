package service

import (
	"math"

	"shimwright/sim/mesh"
)

// A toothLoad is the force of the ring gear's teeth on the pinion in the frame of
// package mesh, newtons.
type toothLoad [3]float64

func (f toothLoad) sizeN() float64 { return math.Sqrt(f[0]*f[0] + f[1]*f[1] + f[2]*f[2]) }

// probeMM is the small move that shows how a flank's lead changes; leads are all
// but straight over it.
const probeMM = 0.002

// leadGains returns the change of a flank's mean lead per mm of each of pinion
// out, offset and ring gear away, about a position.
func leadGains(c *mesh.Contact, f mesh.Flank, at mesh.Position) (gain [3]float64, err error) {
	for i := range gain {
		var lead [2]float64
		for k, by := range [2]float64{-probeMM, probeMM} {
			q := at
			*[3]*float64{&q.PinionOutMM, &q.OffsetMM, &q.RingAwayMM}[i] += by
			if err := c.Move(q); err != nil {
				return gain, err
			}
			lead[k] = c.Lead(f).MeanRad
		}
		gain[i] = (lead[1] - lead[0]) / (2 * probeMM)
	}
	return gain, nil
}

// toothForce returns the force on the pinion for a torque at the ring gear (N·mm),
// friction left out, by virtual work [1]: a move of the pinion that would carry the
// ring gear on by an angle does the work of the torque through it. So no rule for
// the hand of the spiral or the way of turning is needed.
func toothForce(gain [3]float64, ringNmm float64) toothLoad {
	return toothLoad{-ringNmm * gain[0], -ringNmm * gain[1], ringNmm * gain[2]}
}

// reactions returns the force of a shaft on two bearings, across the shaft, for a
// force that acts at a place along the shaft and off its axis: plain statics. radial
// and off are in the same two directions.
func reactions(at, near, far float64, radial, off [2]float64, axial float64) (onNear, onFar [2]float64) {
	for i := range radial {
		onFar[i] = (radial[i]*(at-near) - off[i]*axial) / (far - near)
		onNear[i] = radial[i] - onFar[i]
	}
	return onNear, onFar
}

// along returns the displacement at a place of a straight shaft whose two bearings
// let it move off centre, each in the direction of its load, and the slope.
func along(at, near, far float64, onNear, onFar [2]float64, nearMM, farMM float64) (mm, slope [2]float64) {
	n, f := toward(onNear, nearMM), toward(onFar, farMM)
	for i := range mm {
		slope[i] = (f[i] - n[i]) / (far - near)
		mm[i] = n[i] + slope[i]*(at-near)
	}
	return mm, slope
}

func toward(force [2]float64, mm float64) [2]float64 {
	size := math.Hypot(force[0], force[1])
	if size == 0 {
		return [2]float64{}
	}
	return [2]float64{force[0] / size * mm, force[1] / size * mm}
}

// A layout is where the bearings' loads act, mm along each axis of package mesh.
type layout struct {
	innerX, outerX float64
	backZ, sideZ   float64
}

// sideSpanShare is half the distance between the side bearings' load centres, as a
// part of the ring gear's diameter (estimate from usual proportions).
const sideSpanShare = 0.40

// layout places the bearings from the sizes that a sheet has. The pinion's head
// bearing stands behind its teeth; mounted back to back, the load centres lie
// outside the rollers by half the mean diameter times tan α.
func (p Parts) layout() layout {
	b := p.Gears.Blank()
	outward := func(dm, deg float64) float64 { return dm / 2 * math.Tan(deg*math.Pi/180) }
	head := b.MeanPointMM[0] + b.Data.FaceWidthMM/2*math.Cos(b.PinionPitchAngleRad) + p.Inner.WidthMM/2
	outer := head + p.bearingDistanceMM()
	side := sideSpanShare * b.Data.RingDiameterMM
	return layout{
		innerX: head - outward(p.Inner.MeanDiameterMM(), p.Inner.ContactAngleDeg),
		outerX: outer + outward(p.Outer.MeanDiameterMM(), p.Outer.ContactAngleDeg),
		backZ:  side, sideZ: -side,
	}
}

// bearingDistanceMM is the distance of the pinion bearings' middles: half of each
// and the spacer between.
func (p Parts) bearingDistanceMM() float64 { return p.pair().DistanceMM }

// A carried is what a load does to both shafts.
type carried struct {
	pinion, sides loaded
	force         toothLoad
	at            mesh.Position // where pinion and ring then stand
}

// carry works out the loads on all four bearings and where they let the gears go.
// ringNmm is the torque at the ring gear, in the direction the flank drives.
func (p Parts) carry(c *mesh.Contact, s Setting, f mesh.Flank, ringNmm float64) (carried, error) {
	gain, err := leadGains(c, f, s.At)
	if err != nil {
		return carried{}, err
	}
	out := carried{force: toothForce(gain, ringNmm), at: s.At}
	force := out.force
	lay, blank := p.layout(), p.Gears.Blank()
	m := blank.MeanPointMM

	// Pinion: axis along x, at y = offset.
	onInner, onOuter := reactions(m[0], lay.innerX, lay.outerX,
		[2]float64{force[1], force[2]}, [2]float64{m[1] - blank.Data.OffsetMM, m[2]}, force[0])
	pinion := pair{a: newRollers(p.Inner), b: newRollers(p.Outer), aSeat: 2 * p.HouseNPerMM, bSeat: 2 * p.HouseNPerMM,
		preloadN: s.PinionPreloadN, endPlayMM: s.PinionEndPlayMM}
	if out.pinion, err = pinion.under(math.Hypot(onInner[0], onInner[1]), math.Hypot(onOuter[0], onOuter[1]), force[0]); err != nil {
		return out, err
	}
	// Case: axis along z, the opposite force.
	onBack, onTooth := reactions(m[2], lay.backZ, lay.sideZ,
		[2]float64{-force[0], -force[1]}, [2]float64{m[0], m[1]}, -force[2])
	sides := pair{a: newRollers(p.Back), b: newRollers(p.Tooth), aSeat: p.RingGearPedestalNPerMM, bSeat: p.OppositePedestalNPerMM,
		preloadN: s.SidePreloadN, endPlayMM: s.SideEndPlayMM}
	if out.sides, err = sides.under(math.Hypot(onBack[0], onBack[1]), math.Hypot(onTooth[0], onTooth[1]), -force[2]); err != nil {
		return out, err
	}

	// A shaft angle turns the pinion about the ring axis' foot, so what else moves
	// it is taken there; an offset is taken at the teeth.
	atFoot, tip := along(0, lay.innerX, lay.outerX, onInner, onOuter, out.pinion.a.radialMM, out.pinion.b.radialMM)
	atTeeth, _ := along(m[0], lay.innerX, lay.outerX, onInner, onOuter, out.pinion.a.radialMM, out.pinion.b.radialMM)
	caseFoot, caseTip := along(0, lay.backZ, lay.sideZ, onBack, onTooth, out.sides.a.radialMM, out.sides.b.radialMM)
	caseTeeth, _ := along(m[2], lay.backZ, lay.sideZ, onBack, onTooth, out.sides.a.radialMM, out.sides.b.radialMM)
	out.at.PinionOutMM += out.pinion.shiftMM - caseFoot[0]
	out.at.RingAwayMM += out.sides.shiftMM - atFoot[1]
	out.at.OffsetMM += atTeeth[0] - caseTeeth[1]
	out.at.ShaftAngleRad += -tip[1] - caseTip[0]
	return out, nil
}
