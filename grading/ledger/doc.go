// Package ledger prices what is done on a job, act by act, in one book of minutes.
//
//	charge of an act = spent + E[value after] - value before
//	luck of an act   = value after, as it was really shown - E[value after]
//
// Spent is work, parts, and what the act damaged. The value is one function of how the axle
// stands, of what is believed of it and of what of the procedure has been done: what the
// reference way of working would still be expected to spend from there, and what the axle is
// going to cost when it is signed off, at the chance that each line of its specification sheet
// is truly missed and that faults are left in it. No act has a rule of its own:
//
//   - What the procedure asks for is in the value until it has been done for the axle as it
//     stands, so it is free once, in any order in which it can be done. Done again it costs its
//     minutes, less what it can still tell.
//   - An inspection that an act puts out of reach is charged there: its minutes fall away, and
//     a fault that would have been cured will be found late.
//   - A part that was sound costs its price; a cure costs nothing that was not expected.
//   - Inside a printed specification is inside: a reading there costs the chance that the truth
//     lies outside, and little where it lies just outside: how surely an axle comes back for a
//     line grows with how far the line is missed (package cost).
//   - An axle's depth is right when its contact pattern stands in its specification: the pattern
//     outranks the gauge. On a job without a pattern the tolerance of the depth counts.
//
// All charges add up to what was spent and is still to be expected, less what the job was
// expected to take and less all luck, by construction. That the values are right on the
// average is held against true axles by the tests of package stakes.
//
// The value goes from where the axle stands to a signature by the cheaper of going on and
// taking apart; costs of depth, preload and sides add; a reading that is still to come is
// taken over what it is believed to show (a Gaussian), after which a value is left, at its
// chance and price, or put right, whichever is less. How often a nut is pulled, a spacer
// overshot or preload shims chosen again is the reference technician's, from simulated jobs.
//
// Next says what that way of working does next, which is the advice of a debrief.
package ledger
