// Package mesh works out how a spiral bevel or hypoid ring gear and pinion touch:
// the backlash a dial shows and the pattern marking compound shows on the drive
// and coast flank of a ring gear tooth, for any position of pinion and ring.
//
// There is no table of directions in it. Which way a pattern moves when the pinion
// goes deeper or the ring comes closer follows from the geometry of the set, and is
// not the same for every set.
//
// # Frame and signs
//
// A fixed right-handed frame with its origin on the ring axis at the foot of the
// common perpendicular of the two axes:
//
//   - z along the ring axis into the ring gear's body; its teeth face −z;
//   - x along the pinion axis, out along the stem;
//   - y so that the pinion axis passes through (0, offset, 0), offset ≥ 0.
//
// The pinion is left hand and the ring right hand, the pinion below centre. The
// ring's angle is about +z and the pinion's about −x; both increase when the axle
// drives forward. Then the pinion pushes the ring's convex flank, Drive; Coast is
// the concave one. A set of the other hand is the mirror image and gives the same
// numbers.
//
// Position errors are zero at the design position. PinionOutMM > 0 is a pinion too
// far out, deeper is negative; RingAwayMM > 0 is a ring gear further from the
// pinion, with more backlash; OffsetMM > 0 a larger offset; ShaftAngleRad > 0 the
// shafts more than square to each other, the stem tipping away from the ring's
// body. What a shim does to these depends on where an axle has it and is not known
// here.
//
// A place on a ring tooth is (s, t): s from 0 at the toe to 1 at the heel, t from 0
// at the deepest reach of the pinion to 1 at the tooth top. The true root lies
// about an eighth of the depth below t = 0.
//
// # Units
//
// Lengths mm, angles rad, except SetData, which speaks in the degrees of a drawing.
// A name carries its unit; shares and ratios have none.
//
// # What is modelled
//
//  1. Pitch cones from the drawing data: closed form without offset [1]; with
//     offset two nested one-dimensional searches, over the ring's pitch angle and
//     the mean point's place round the ring, for the spiral wanted and for a limit
//     curvature equal to the cutter radius [2].
//  2. The ring's flanks: the cones a face-mill cutter sweeps, standing square to the
//     root plane, without generating motion.
//  3. The conjugate pinion: every ring flank point's contact by the condition that
//     sliding stays in the flank [4].
//  4. The pinion's ease-off from that, a quadratic valley along the normal, per
//     flank.
//  5. The fast method: a small displacement at a contact changes the ring angle by
//     the displacement along the normal over the arm of the normal about the ring
//     axis [5]. The touched point lands elsewhere on the ring tooth; patterns are
//     drawn and cut off where points land. Which point touches first is decided at
//     every degree or so of pinion roll over all pairs of teeth. Contact is this.
//  6. The exact method: the pinion's points are put where they truly are at every such
//     roll angle, and the ring is turned until its cones reach them [9]. Contact lines
//     are followed to the edges of the teeth. ExactContact is this; it is for checking
//     the fast method and for showing the difference.
//
// # Assumptions
//
//  1. Rigid teeth, no load, no friction, perfect bearings. Under load a pattern
//     grows and moves toward the heel; that is not here.
//  2. The ring flank is the cutter cone exactly; the whole deviation of the pair
//     is given to the pinion.
//  3. The pinion is a little wider than the ring (by 3.6% of the face each end) and
//     its flank covers the working depth and no more.
//  4. Usual tooth proportions where the drawing is silent: working depth two mean
//     normal modules, ring addendum 0.16 of it, ring slot wider than half a pitch
//     by 0.06 of a pitch, clearance an eighth of the working depth and 0.05 mm.
//     Common practice, no source.
//  5. Backlash is the design position's plus the change of free angle times the arm
//     of a dial square to the tooth at the heel, as the manuals ask [7]. Its swing
//     over a pinion pitch comes from the ease-off alone; runout and tooth errors
//     belong to the caller, who can move RingAwayMM with the ring's angle.
//
// # Validity
//
// The fast method leaves out what goes with the square of a displacement: mostly that
// the normal turns as the contact moves, and that moved gears first touch a little
// beside the conjugate contact line. Against the exact method it stays within these, on
// 300 positions anywhere in the range for each of ten sets with rings of 168 to 432 mm:
//
//	                         worst     root of mean square, worst set
//	pattern's centre, along  0.0114    0.0026 of the face
//	pattern's centre, up     0.0146    0.0036 of the depth
//	pattern's area           0.0111    0.0025 of the flank
//	backlash                 0.0063    0.0014 mm
//
// The range is ±0.5 mm of pinion, ±0.4 mm of ring, ±0.2 mm of offset and ±1 mrad. With
// all four at their most the worst are 0.0114, 0.0196, 0.0189 and 0.0091 mm. Small rings
// are the worst; on rings of 215 mm and more the centre is within 0.0064 and 0.0086.
// With the pinion within 0.3 mm of its place the backlash is within 0.0025 mm. Move
// takes positions up to half the working depth, so that a badly shimmed axle still
// answers, without that accuracy.
//
// The exact method agrees with the classical five equations of tooth contact within
// 0.0002 mm at the heel along contact paths, and, by its definition, with sweeping the
// pinion's flank over the ring's.
//
// Pitch cones are searched for between 45 and 87 degrees at the ring. There is no
// published hypoid example among the checks: the hypoid geometry rests on [2]
// agreeing with the kinematics of the same axes and on direction rules and one
// backlash figure from service manuals [6], [7], [8].
//
// A toe-or-heel rule does not carry from set to set. With a cutter radius near 1.2
// times the ring's mean radius and an offset, a pinion too far out moves the drive
// pattern to the heel and the coast pattern to the toe [6]; without offset and with
// a small cutter both go the other way [8]. Up and down never change sides.
//
// Left out: deflection, generated ring gears, face-hobbed teeth, tip and root edge
// contact, the root fillet, wear, thickness of the pinion's tooth top, heat.
//
// # Determinism
//
// The same input gives the same output: no goroutines, no clock, no chance. A Set
// does not change after NewSet. A Contact or an ExactContact is scratch space for one
// user at a time and allocates nothing once it exists.
//
// # Sources
//
//	[1] ISO 23509 and AGMA 2005, spiral bevel pitch cones (from memory; recomputed).
//	[2] ISO 23509, after Wildhaber: limit pressure angle and limit curvature of a
//	    hypoid pitch design (from memory; equal to a kinematic derivation).
//	[3] ISO 23509: blade angle = average ± limit angle, influence factor one (from
//	    memory).
//	[4] The basic law of gearing, common normal square to the sliding velocity.
//	[5] Rigid-body kinematics; M. L. Baxter, 1961, used it for misaligned bevel
//	    gears (from memory).
//	[6] TM 9-2320-266-34, para 19-5: patterns of a hypoid truck axle.
//	[7] TM 10-3930-638-24&P, p 4-246 and TM 10-3930-671-24, p F-318: drive is the
//	    convex side, dial square to the tooth at the heel, ring rules. TM
//	    9-2320-289-34, Table 6-1: backlash per ring travel.
//	[8] TM 5-3805-260-24, pp 3-244 and 3-245; TM 5-2410-233-23, p 0102 00-9; TM
//	    5-3825-226-24, p 3-243: patterns of tractor and loader spiral bevels.
//	[9] F. L. Litvin, tooth contact analysis of misaligned gears (from memory); for a
//	    ring flank that is a cone it needs no search over the surface.
package mesh
