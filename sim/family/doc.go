// Package family describes axle families: the sheet a technician works to, the
// design, and the nominal parameters and spreads from which a particular axle is
// drawn.
//
// Every family here is invented for practice. None stands for a real axle, and no
// figure may be used on one: the maker's manual for the axle on the bench is what
// counts. Figures are chosen to hang together and to be typical in proportion.
//
// Lengths are millimetres, torques newton millimetres unless a field says
// otherwise. A family is plain data and can be compared with ==.
//
// # Families as files
//
// A family is one YAML file. The ones that come with the program are embedded
// (data/*.yaml) and read the first time they are asked for; FindAny reads a file of
// a person's own. The rules of a file:
//
//   - The first key is shimwright_family, the version of the format, 1. A notice
//     under invented must say that the axle is invented.
//   - A key that holds an amount ends in its unit: _mm or _in for lengths, _nm, _lb_in
//     or _lb_ft for torques, _deg, _n, _n_per_mm, _cst, _rpm. Which of the length or
//     torque units is used is free, key by key. A key without a unit is a count, a
//     share or a pure number.
//   - A window or a spread is {low, high}; a row of shims is {low, high, step}.
//   - Nothing may be left out but what is said to be optional, and nothing unknown
//     may stand in it.
//   - Anchors, references and tags are refused: a person who reads one line should
//     know what it says. A file has at most 32 KiB, a line at most 1000 characters.
//
// An inch is read as a thousand thousandths: 0.0025 in is exactly what 2.5
// thousandths are elsewhere in the program.
//
// Check names every mistake of a file at once, with line and column, in words. It
// looks at the writing first, then whether numbers are possible, then whether the
// sheet can be met: shims that end on a step, stock that suits the windows, gears
// that mesh with backlash, pinion drag reached inside the nut's torque window, side
// preload that gives the wanted rise. The last group is asked at the middle of every
// spread.
//
// # Designs
//
// Three pinion preload and side adjustment designs and three places for the depth
// shim can be described. All lists the families that the practice bench works on,
// which are those with collapsible spacer, shim under the head bearing cone and
// shims outside the side bearings whose figures its job generator suits; Shelf lists
// all there are.
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
