// Package family describes axle families: the specification sheet a technician works
// to, the design, and the nominal parameters and spreads from which a particular axle is
// drawn.
//
// Every family here is invented for practice. None stands for a real axle, and no
// figure may be used on one: the maker's manual for the axle on the bench is what
// counts. Figures are chosen to hang together and to be typical in proportion.
//
// Lengths are millimeters, torques newton millimeters unless a field says
// otherwise. A family is plain data and can be compared with ==.
//
// # Families as files
//
// A family is one YAML file. The ones that come with the program are embedded
// (data/*.yaml) and read the first time they are asked for; FindAny reads a file of
// a person's own. The rules of a file are those of package datasheet. Its keys:
//
//   - shimwright_family, the first key, is the version of the format, 1. code, name, use
//     and notes are for people; invented must say that the axle is.
//   - design: pinion_preload (collapsible-spacer, solid-spacer), depth_shim
//     (under-inner-cone, behind-inner-cup, under-cage-flange), side_adjustment
//     (outside-shims, inside-shims, bearing-adjusters), marks (plus-takes-shim,
//     plus-thickens-cage-shim, plus-adds-shim, none), drive_flank (convex, concave),
//     housing (iron, aluminum), case_entry (by-hand, spreader).
//   - gears: the drawing of the set, with ease_off and efficiency.
//   - specification: what the specification sheet says: checking_distance,
//     depth_tolerance, pattern_up_profile, depth_shims, side_shims, backlash,
//     backlash_variation, runout, case_flange_runout, pinion_torque_new and _used,
//     seal_drag, total_torque_rise_new and _used (total less pinion rotating torque),
//     side_preload, spread_limit, nut, cap_bolts. A specification is {low, high}; shims in
//     stock are {low, high, step}.
//   - bearings: inner, outer and side, oil, friction, cup_hold, unseated_rollers.
//   - nut and stiffness: what the parts of the pinion do under load.
//   - collapsible_spacer or solid_spacer, and adjusters: of the designs that have them.
//
// Check names every mistake of a file at once, with line, column and key, and what would
// be right. It looks at the writing first, then whether numbers are possible, then
// whether the sheet can be met: shims that end on a step, stock that suits the specs,
// gears that mesh with backlash, used bearings that turn no harder than new ones, pinion
// rotating torque reached inside the nut's torque spec, side bearing preload that gives
// the specified rise, and a code that no family of the program has. What needs the
// physics is asked at the middle of every spread. Depth shims above 4 mm (0.16 in) are
// taken for a slip of the decimal point (common practice, no source).
//
// Begin writes such a file from the few figures of a manual (Figures) and says of each line
// whether it is given or how it is estimated. Estimates: sizes, stiffness and the force that
// moves a cup grow with the ring gear's diameter; the pinion's spiral is the one that leaves
// the ring gear's nearest to that of the family taken from; crush load, pedestals, preload
// shims and total torque are brought together by the model. None of it is published.
//
// # Designs
//
// Three designs of side adjustment, two of pinion preload and three places for the depth
// shim can be described. Shelf lists all the families there are.
//
// Face-hobbed gears are described by the nearest face-milled ones, because the
// tooth model has no others; Design.ToothForm says so.
//
// # Where numbers come from
//
// Sheets of the families are invented as a whole, in proportions common in the trade
// (common practice, no source). So are contact angles, roller counts, roller lengths
// and friction constants of the bearings, stiffnesses, crush loads and ease-off.
// Checks that use physics rest on packages mesh, pinion, bearing and carrier.
package family
