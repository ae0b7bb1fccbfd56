// Package service works out what an axle, set up as it is, would meet in service: how
// the teeth carry a load, what the unloaded gears do to the motion, how the bearings
// share the work and what heat they make, what warmth does to the pinion's preload,
// and what is left of the clamp on the pinion stack.
//
// It is a teaching model for comparing one setting of an axle with another under one
// stated duty. It forecasts nothing for a real axle, whose life depends on oil, dirt,
// heat treatment and use.
//
// # What it models
//
//   - Tooth force by virtual work: the torque at the ring gear times the change of a
//     flank's lead per move of a member [1]. Size and direction on drive and coast
//     come out of sim/mesh; no rule for the hand of the spiral stands here.
//   - Four bearings, each with its own rollers round the ring: the catalogue law of
//     the whole bearing [2] taken back to one roller, radial force, thrust and the
//     setting balanced together. With end play the zone that carries narrows by
//     itself. Axial seats give as in sim/pinion and sim/carrier.
//   - Where the bearings let the gears go, and the print there under load: each mm of
//     face is a spring of 20 N/(mm·µm) that carries once its gap has closed [5].
//   - Transmission error without load, peak to peak over one tooth, and what runout
//     adds once a turn.
//   - Rating life: P by ISO 281 where half the rollers or more carry; by the rollers'
//     fourth powers where fewer do [3], [4]; exponent 10/3. Ratios only.
//   - Heat: running torque times speed, both loads in [9].
//   - The pinion's setting warm, by [6], [7]; bedding and reversed thrust at the
//     clamp, by [8].
//   - A cup or cone that goes home later: the same force balances as at the bench.
//
// # Conventions
//
// Frame, signs and positions are those of package mesh. A pinion thrust is positive
// out along the stem, onto the head bearing; a case thrust positive away from the
// pinion, onto the bearing behind the ring gear. Millimetres, newtons, newton
// millimetres, watts, hertz, degrees and radians by name. Shares have no unit: 0 at
// the toe or root, 1 at the heel or top.
//
// # Assumptions and validity
//
//   - Steady torque, friction at the teeth left out, one force at the mean point.
//   - Only the bearings and their axial seats give. Shafts, case and housing are stiff
//     across their axes, so an axle's true movements are larger, the offset's most.
//   - The family's sheet does not place the bearings: the head bearing is put behind
//     the teeth, the tail bearing after the spacer, the side bearings 0.4 of the ring
//     gear's diameter either side of the pinion's axis (estimates).
//   - Springs along the face do not help one another; ends are not softer.
//   - ISO 281 rates bearings with about half their rollers loaded. Lives here compare
//     settings; a bearing that skids for want of load is not seen by any of this.
//   - No published relation was found from transmission error to sound that would
//     carry to an axle, so errors are given as ratios and never as decibels. The error
//     of a set with a smooth ease-off hardly changes with its position until the
//     contact reaches an edge: a print out of place is a matter of edges first.
//   - Bedding amounts are for ground and turned faces under axial load.
//
// Left out: loaded transmission error, dynamics, gear temperature and scuffing, wear,
// fatigue of teeth, drag of the oil bath, shock.
//
// # Sources
//
//	[1] Virtual work, rigid bodies. Checked against the textbook thrust of a spiral
//	    bevel pinion: Ft/cos ψ (tan α sin δ ± sin ψ cos δ).
//	[2] Rolling Bearings, Cat. E1102m, p. A128, as in sim/bearing.
//	[3] Technical Report E728g, section 5.1: load zone, Fa = 1.260 Fr tan α and
//	    Qmax = 4.08 Fr/(Z cos α) where half the rollers carry. Fourth-power mean on a
//	    turning ring: ISO/TS 16281 (from memory).
//	[4] ISO 281: P = Fr, or 0.4 Fr + Y Fa above e = 1.5 tan α; exponent 10/3; slope
//	    9/8 for bearings together (from memory).
//	[5] ISO 6336-1 and ISO 10300-1: mean mesh stiffness 20 N/(mm·µm) (from memory).
//	[6] Bearing Engineering Manual, p. 81, as in sim/bearing.
//	[7] Expansion: bearing steel from a bearing supplier's table; grey iron and cast
//	    aluminium from a metric gear handbook.
//	[8] VDI 2230: loss by bedding fZ/(δS + δP); 3, 2.5 and 1.5 µm for thread, nut face
//	    and each inner face (from memory).
//	[9] General Catalogue 6000 EN, pp. 88-105, as in sim/bearing.
package service
