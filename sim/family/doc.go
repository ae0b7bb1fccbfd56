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
//   - Everything else is as package datasheet has it: amounts with their unit in the
//     key, windows and spreads as {low, high}, rows of shims as {low, high, step},
//     nothing left out and nothing unknown.
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
