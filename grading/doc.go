// Package grading scores an attempt: every pivotal decision against the best that
// could have been decided on the readings the trainee had been shown.
//
// The reasoner starts from the card (old shims, marks, disclosed spreads and fault
// rates), takes in each reading with its stated uncertainty, and at each pivotal
// act prices what was done and every alternative in expected shop minutes. The
// difference is the regret of the decision. The hidden state is never looked at:
// a sound choice that met bad luck costs nothing, a lucky guess earns nothing.
//
//	score of an area = exp( - sum of its regrets beyond a small allowance / rho )
//	attempt          = weighted geometric mean of the areas
//
// Beside the score stands a rubric of safety and process, which prices nothing. An
// omission is charged once, where it was passed over; work built wrong is charged where it
// was built, and taking it out again is then no loss. A reading taken poorly costs what it
// leaves unknown beside the best way of taking it just then.
//
// Approximations, stated: the belief (package belief) is one Gaussian for every set of
// those faults that readings tell of and that are not settled, and an independent chance
// for each of the others; prices are taken over the one Gaussian with the same mean and
// spread; readings are straight lines about a good build, but for the drag of a pack;
// costs of separate faults add; the value of a reading is what it would save on the
// next choice and at sign-off. Prices are those of a table of costs (package cost).
//
// What a decision costs is priced up to the end of the job: a value that will be read is
// left, at the chance and price of its coming back, or put right, whichever is less. Luck,
// what came of it less what was to be expected, is in no regret. Over many jobs regrets
// then have to add up to what work costs more than the best work
// (TestRegretsAddUpToWhatWorkCosts in package stakes). On 40 jobs, against the careful hand,
// they do within three standard errors for hands that never measure, turn every sign, move
// the ring gear wrongly once, look at nothing, gauge nothing, tilt the stem, never read the
// drag or leave the pinion free under the indicator. They miss it where the true state is
// another than was believed, or the price looks one step ahead only: too little by 7 % on
// greased bearings, 23 % with the mark turned, 18 % with the nut backed off, 31 % when good
// prints are chased; too much by 9 % for a preload overshot and 28 % for a drag read at the
// first pull. Luck at the signature is none within its error, but for nuts backed off, first
// pulls and a tilted stem, which make the axle look other than it is.
//
// Everything here is a pure function of the costs, the card and the outcomes. Minutes are
// rounded to a hundredth before scoring and scores are whole numbers, so that a
// grade does not hang on the last bit of a machine's arithmetic.
package grading
