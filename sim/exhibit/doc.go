// Package exhibit shows what one change does to a whole axle: an open demonstration
// axle for the front of a class, with nothing hidden and nothing graded.
//
// A Bench is the nominal axle of one family: every parameter in the middle of its
// spread. At takes Settings and gives a Result: the true state behind the readings,
// and what each instrument of the practice bench would show of it. The physics is
// that of sim/mesh, sim/pinion, sim/carrier and sim/bearing; this package only joins
// them, in the same way as the practice bench does.
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
// square to each other. SideFitMM is the interference of both side shims together,
// negative for end play; ShimToBackMM is shim moved from the tooth side to the back
// side, positive towards the pinion. NutDeg counts from finger tight, positive
// tightening. The four places of a backlash reading are 0, 90, 180 and 270 degrees
// of the ring gear; at 0 the runout holds it furthest from the pinion.
//
// # Units
//
// Millimetres, newtons, newton millimetres, degrees for the nut, radians for the
// shaft angle; every name says which. Shares of a tooth run from 0 (toe, root) to 1
// (heel, top).
//
// # What a Result is the state of
//
//   - The zero Settings are an axle with the pinion and the ring gear at their
//     places, line-to-line side shims and a nut that is finger tight. Finished gives
//     the settings of a finished axle.
//   - The pinion's place is defined at the family's reference preload. The head bearing gives
//     under preload, so the true place moves a little with the nut; HeadGiveMM says
//     by how much. A gap under the head cup stands the pinion further in.
//   - Loose parts lie in the middle of their play.
//   - The rollers are seated before the nut is turned, the oil is at the family's
//     viscosity and a hand turns the pinion. A cup with a gap goes home when the
//     preload reaches what holds it.
//   - Drag is the steady rotating torque. PinionBearingDragNmm has no seal in it,
//     PinionDragNmm has; TotalDragNmm adds side bearings and teeth, read at the
//     pinion with the case in. DragTargetNmm is the pinion bearings alone, as the
//     axle sheet's windows are.
//   - Runout swings the ring gear once a turn. BacklashMeanMM is the mean of the four
//     places; the least and the most also hold the swing over one pinion pitch.
//     Prints are of a tooth where the runout is nought.
//   - Where the mean backlash is zero or less the gears bind and there is no print.
//
// # Instruments
//
// Without a seed every instrument is without error and rounds to its own smallest
// step. With a seed above zero it has the fixed error drawn for that seed and a
// repeat error for each reading; Repeat names which time of reading, so that another
// Repeat has the same fixed errors and other repeat errors. The dial stands at the
// heel, square to the tooth, pinion held. The eye places a print to a hundredth of
// the tooth, with the spread of a thin braked coat.
//
// # Assumptions, validity, left out
//
// Those of the packages joined. Gears: up to half a millimetre of pinion or ring and
// a few milliradians with the accuracy stated in sim/mesh; further out plausible,
// until the teeth lose each other, which is an error. The whole range of a family's
// spread is not shown, only its middle. Left out: the micrometer (no shim has a
// marked size here), the first pull of a torque wrench, caps on the wrong side, a
// badly placed indicator, backing the nut off, a spacer used before.
//
// # Determinism
//
// The same family and Settings give the same Result. A Bench is not safe for
// concurrent use.
//
// Sources are those of the packages joined; the one addition, equal swing either
// way of the middle for a total indicated runout, is the definition of the reading.
package exhibit
