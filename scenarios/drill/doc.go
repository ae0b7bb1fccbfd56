// Package drill asks one decision at a time: a short question with figures of one axle
// family, its answer, and for each answer that a misconception leads to, which one that is
// and what it overlooks.
//
// A Plan lays out which kind of drill comes after which, on which family; Draw makes one of
// them. A Drill is a plain value: its texts are messages that only a printer reads, and its
// amounts are Figures, so that its JSON holds codes and numbers. Answer.Read takes what a
// person typed, in either unit system, and Drill.Judge tells whether it is right and, if it
// is not, which misconception it fits.
//
// # Where the figures come from
//
// Sizes, specs, steps and conventions are those of the family's specification sheet. What a
// change does to a reading comes from the model of the bench, at the nominal axle of the
// family: sim.NominalGains and sim/explore. Faults, their look-alikes and the checks that
// tell them apart are those of scenarios/catalogue. The tests build each answer, and each
// wrong one, into the model again.
//
// # Workings
//
// A Figure is rounded as it is shown, in the units in which it is shown, and what is worked
// from it is worked from the rounded amount. So the working of an answer adds up as it is
// printed, in inch units and in metric ones, and its last line is the answer as printed. The
// answer in exact arithmetic differs from it by the roundings; Judge takes either.
//
// # Signs and units
//
// Millimeters, newton millimeters, newtons and degrees inside, as everywhere. A depth mark's
// sign means what the family's convention says. Notches of a bearing adjuster are positive
// screwed in; a number of notches without a direction is no answer. What a person types
// without a unit is in the units of the question: in or mm, lb-in or N·m for rotating torque,
// lb-ft or N·m for a fastener. Where a question is about units, the answer is in the one that
// it names and in no other.
//
// # Tolerance
//
// Every answer that is an amount has a tolerance with its reason: half a step of the shims on
// the shelf, what the instrument can show, or a part of the spec. An answer as far off as the
// tolerance is right. Figures of a question are drawn again until each wrong answer lies at
// least one and a half tolerances from the right one and half of one from the others; where
// steps are too coarse for that, misconceptions that cannot be told are left out.
//
// # Decidable
//
// A question holds all that its answer needs. Where the seal is fitted its drag has been
// measured; a pattern is judged by the mean of drive and coast, as on the specification sheet,
// since a wrong depth moves both the same way; a wrench with an adapter is one on which a
// person can pull the setting (at most 100 lb, 445 N; common practice, no source).
//
// # Determinism
//
// The same Order gives the same Plan and the same drills, whatever was asked before.
//
// # Left out
//
// Faults of the axle except where a drill is about telling them apart; the spreads of a
// family, of which only the middle is asked; ring gear and housing that answer unevenly.
//
// # Sources
//
// Each drill names the source of its rule and how far to trust it. The misconceptions are
// what teachers of the trade meet in their shops: common practice, no source.
package drill
