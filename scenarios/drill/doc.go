// Package drill asks one decision at a time: a short question with figures of one axle
// family, its answer, and for each answer that a tempting idea leads to, which idea
// that is and why it misses.
//
// A Plan lays out which kind of drill comes after which, on which family; Draw makes
// one of them. A Drill is a plain value. Its texts hold amounts, not digits, and are
// written in a person's units by Text.In. Answer.Read takes what a person typed, in
// either unit system, and Drill.Judge tells whether it is right and, if it is not, which
// idea it fits.
//
// # Where the figures come from
//
// Sizes, windows, steps and conventions are those of the family's sheet. What a change
// does to a reading comes from the model of the bench, at the nominal axle of the
// family: sim.NominalGains and sim/exhibit. The arithmetic is that of sim/setup. Nothing
// is looked up in a table of results, and the tests build each answer, and each wrong
// one, into the model again.
//
// # Signs and units
//
// Millimetres, newton millimetres and newtons inside, as everywhere. A depth mark's sign
// means what the family's convention says. Slots of a ring are positive screwed in. What
// a person writes without a unit is in the units of the question: in or mm, lb-in or N·m
// for drag, lb-ft or N·m for a fastener.
//
// # Tolerance
//
// Every answer that is an amount has a tolerance with its reason: half a step of the
// shims on the shelf, or what the instrument can show. An answer as far off as the
// tolerance is right. Figures of a question are drawn again until each wrong idea lands
// at least one and a half tolerances from the answer and half of one from the others;
// where steps are too coarse for that, ideas that cannot be told are left out.
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
// Each drill names the source of its rule and how far to trust it. The wrong ideas are
// what teachers of the trade meet in their shops: common practice, no source.
package drill
