// Package carrier is the exact physics of the differential case on its two side
// bearings in an elastic housing: what side shims do to preload, housing spread,
// the ring gear's place and the torque at the pinion.
//
// # What it models
//
// Both side bearings carry the same axial force F. The interference I of the two
// shim packs is taken up by the bearings and by the two pedestals:
//
//	I = s_back + s_tooth = δb(F) + δt(F) + F/kb + F/kt     mm
//	spread = F/kb + F/kt                                   mm
//	shift  = s_back − δb(F) − F/kb                         mm
//
// A negative I is end play: no force, no spread.
//
// # Conventions
//
// The back bearing is behind the ring gear, the tooth bearing on the other side.
// Interference is the shim thickness above line-to-line on that side. The shift is
// + when the case moves towards the pinion (less backlash). What a shift does to
// backlash belongs to the gear geometry and is not here. Speeds are the case's own:
// pinion speed over the axle ratio. Millimetres, newtons, N/mm, newton millimetres.
//
// # Assumptions and validity
//
//   - Pedestals are linear and independent; stiffness is fitted to a housing spread
//     of 0.003 to 0.007 in [1], not published as such.
//   - With the cap bolts not torqued the pedestals keep 0.6 of their stiffness: an
//     engineering choice.
//   - Total interference up to about 1 mm; yield of housing or rings is not
//     modelled.
//   - The drag of the tooth mesh is an engineering choice.
//
// Left out: tipping of bearing cups, runout, radial and separating loads, housing
// spreaders, instruments.
//
// Sources:
//
//	[1] TM 5-3805-261-34 p. 14-99: adjuster tightened until the housing grows 0.003
//	    to 0.007 in.
//	[2] Rolling Bearings, Cat. E1102m, section 10.3: a preloaded pair shares one
//	    force.
//	[3] TM 9-2320-289-34 p. 6-22: total shim thickness stays the same when backlash
//	    is changed.
package carrier
