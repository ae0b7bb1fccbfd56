// Package setup is the paper arithmetic of an axle set-up: what a technician works
// out at the bench with a pencil between two readings.
//
// # What it models
//
//   - a starter depth shim from the old shim and two pinion marks, from a gauge
//     reading and one mark, or from a measured checking distance [1] [2] [3];
//   - how far to move the ring gear for a wanted backlash change, and the pair of
//     side shims that does it [4];
//   - rotating torque: pinion alone, side bearings, total, string and scale [5];
//   - a torque wrench with an adapter on its square [6];
//   - dial indicators that stand at an angle [7];
//   - mean, least, greatest and variation of a set of readings;
//   - the nearest shim on the shelf.
//
// Nothing here knows the true state of an axle. It works from what a person reads
// and can be as wrong as the reading is.
//
// # Conventions
//
// Millimeters, newtons, newton millimeters, degrees. Every formula is plain
// proportion or difference, so a caller who keeps to inches throughout gets inches.
//
// A pinion is deeper when its face is nearer to the ring gear centerline. The checking
// distance is from that centerline to the pinion face, so a larger one is shallower. A
// ring gear move is positive away from the pinion. The ring-gear side shim is behind the
// ring gear, the opposite side shim at the other side bearing. Thickness taken from the
// ring-gear side and added to the opposite side moves the gear away and opens the
// backlash.
//
// What a plus on a pinion means differs from axle to axle, and two of the published
// manuals used here give opposite answers to the same pair of marks. The convention
// is therefore always an argument, has no default, and must come from the axle's
// own sheet.
//
// # Assumptions and validity
//
//   - A starter shim from marks takes the old set to have been right, in the same
//     housing, on bearings of the same height. It is a start: measure or read a
//     contact pattern before trusting it [2].
//   - Side shims are counted as rigid: a shim moved from one side to the other moves
//     the gear by its whole thickness.
//   - BacklashPerTravel treats the pair as straight bevel gears that cross at the
//     mean point, with one pressure angle and no offset. The tooth model in sim/mesh
//     moves two cut tooth surfaces instead: there the offset turns the pinion's
//     spiral away from the gear's, the two flanks have different pressure angles,
//     and the gap is looked for where the teeth come closest. The hand formula is
//     for judging a reading, not for checking that model to the last hundredth.
//   - Total torque divides the torque of the side bearings by the ratio and leaves out what
//     the mesh itself loses, some percent of that part.
//
// Left out: preload from bearing closure (sim/pinion, sim/carrier), instrument error
// (sim/gauge, sim/uncertaintytest), and every limit that belongs to one axle.
//
// Figures for a real axle come from its maker's manual and from nowhere else.
//
// # Sources
//
// Check values and the page of each stand in testdata/checks/trade-practice.csv and
// testdata/checks/measurement.csv.
//
//	[1] TM 9-2320-289-34, table 6-2 (gauge reading and mark; mark as a correction).
//	[2] TM 9-2320-280-34, para 19-3 (two marks; shim at the inner bearing).
//	[3] TM 5-3895-369-14, table 5-4 (two marks; shim under the cage).
//	[4] TM 9-2320-289-34, table 6-1 and pp. 6-21, 6-22 (side shims and backlash).
//	[5] TM 5-3810-300-24&P2, about p. 4-256 (string and scale).
//	[6] TM 9-2350-277-40&P, WP 0004 00; TM 5-3810-305-23; TM 9-254, fig. 4-5 and 4-6, not
//	    seen again (adapters).
//	[7] Instrument makers' technical pages on the cosine error of indicators.
package setup
