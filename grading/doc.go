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
// omission is charged once, where it was passed over.
//
// Approximations, stated: the belief (package belief) is one Gaussian for every set of
// those faults that readings tell of and that are not settled, and an independent chance
// for each of the others; prices are taken over the one Gaussian with the same mean and
// spread; readings are straight lines about a good build, but for the drag of a pack;
// costs of separate faults add; the value of a reading is what it would save on the
// next choice and at sign-off. Prices are common practice estimates (package shop
// and this package's table).
//
// Everything here is a pure function of the card and the outcomes. Minutes are
// rounded to a hundredth before scoring and scores are whole numbers, so that a
// grade does not hang on the last bit of a machine's arithmetic.
package grading
