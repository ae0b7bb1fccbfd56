// Package explore shows what one change does to a whole axle: an open demonstration
// axle for the front of a class, with nothing hidden and nothing graded.
//
// A Bench is the nominal axle of one family: every parameter in the middle of its
// spread. At takes Settings and gives a Result: the true state behind the readings,
// and what each instrument of the practice bench would show of it. Settings say how the
// axle is set, what is wrong with it, and, apart, how readings are taken (Reading), which
// never changes the true state. The axle is put together by sim/assembly, as the practice
// bench's is, whatever the design of the family.
//
// A case from a book is a half of an axle. MeshOnly and GearBench show a gear set
// alone, MechanicsOnly bearings, nut, spacer and housing alone. ReadGearCase and
// ReadParts read them from files, by the rules of sim/datasheet and with the keys that
// StartFile shows; where a family has the same group, its keys and limits are the same.
//
// # Axes and signs
//
// As in package sim and sim/mesh. PinionOutMM is positive for a pinion too far out
// (not deep enough); RingAwayMM is positive away from the pinion (more backlash);
// OffsetMM positive for a larger offset; ShaftAngleRad positive for shafts more than
// square to each other. SideFitMM is the preload of both side shims together over zero
// end play, negative for end play; ShimToRingGearMM is shim moved from the opposite side
// to the ring-gear side, positive toward the pinion; bearing adjusters are shims that
// grow. NutDeg counts from finger tight, or from where the preload shims of a solid spacer
// have just closed up, positive tightening. The four places of a backlash reading are 0, 90, 180 and 270 degrees
// of the ring gear; at 0 the runout holds it farthest from the pinion.
//
// # Units
//
// Millimeters, newtons, newton millimeters, degrees for the nut, radians for the
// shaft angle; every name says which. Shares of a tooth run from 0 (toe, root) to 1
// (heel, top).
//
// # What a Result is the state of
//
//   - The zero Settings are an axle with the pinion and the ring gear at their
//     places, zero-end-play side shims and a nut that is finger tight, on the preload shims of
//     zero end play where the spacer is solid. Finished gives the settings of a finished
//     axle.
//   - A pinion rotating torque turns the nut of a collapsible spacer. With a solid one it
//     chooses the preload shims, the nut at its torque; any thickness can be had.
//   - The pinion's place is defined at the family's reference preload. The inner bearing gives
//     under preload, so the true place moves a little with the nut; InnerGiveMM says
//     by how much. A gap under the inner cup stands the pinion further in.
//   - Loose parts lie in the middle of their play.
//   - The rollers are seated before the nut is turned, the oil is at the family's
//     viscosity and a technician turns the pinion. A cup with a gap seats when the
//     preload reaches what holds it.
//   - Torque is the steady rotating torque. PinionBearingTorqueNmm has no seal in it,
//     PinionTorqueNmm has; TotalTorqueNmm adds side bearings and teeth, read at the
//     pinion with the case in. TorqueTargetNmm is the pinion bearings alone, as on the
//     specification sheet.
//   - What the pinion bearings add besides preload, grease and rough rollers, is part of
//     the torque that the nut or the shims are set by, as it is on a bench.
//   - Dirt in the depth shims is shim: it moves the pinion and, behind a cup, the bearings.
//     A spacer used before is shorter by its earlier crush. A housing that has grown, and
//     a cone off the case, are fit lost and won.
//   - Warmth comes after everything is set: the nut's angle and all shims are
//     found cold. All is at one temperature, and the oil keeps its viscosity.
//   - Runout and uneven bolts move the ring gear once a turn, highest at 0 degrees, a
//     warp twice a turn, highest at 0 and 180. BacklashMeanMM is the mean of the four
//     places; the least and the most also hold the runout over one pinion pitch.
//     Patterns are of a tooth where the runout is zero.
//   - Where the mean backlash is zero or less the gears bind and there is no pattern.
//
// # Instruments
//
// Without a seed every instrument is without error and rounds to its own smallest
// step. With a seed above zero it has the fixed error drawn for that seed and a
// repeat error for each reading; Repeat names which time of reading, so that another
// Repeat has the same fixed errors and other repeat errors. The dial stands at the
// heel, square to the tooth, pinion held, unless the Reading says otherwise. The eye
// places and measures a pattern to a hundredth of the tooth, with the spread in its place
// that the coat and the load have on the practice bench; Prints draws what it sees. The
// patterns of a Result are those of FilmMM as it is, however the coat is laid on. A loose
// indicator arm scatters readings and needs a seed; a pinion that is not held adds what it
// may, in the middle without a seed.
//
// # Exact contact
//
// Exactly changes a Bench from the fast method of sim/mesh to the exact one.
//
// # Assumptions, validity, left out
//
// Those of the packages joined. Gears: up to half a millimetre of pinion or ring and
// a few milliradians with the accuracy stated in sim/mesh; further out plausible,
// until the teeth lose each other, which is an error. The whole range of a family's
// spread is not shown, only its middle. Left out: shims that measure other than they are
// marked, and a set-up bearing of another height (no part is chosen by its mark here);
// how the case of an axle with changed caps lies differently each time (it is shown in
// the middle); backing the nut off.
//
// # Determinism
//
// The same family and Settings give the same Result. A Bench is not safe for
// concurrent use.
//
// Sources are those of the packages joined; the one addition, equal travel either
// way of the middle for a total indicated runout, is the definition of the reading.
package explore
