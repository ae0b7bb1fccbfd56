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
// Approximations, stated: the belief is one Gaussian with the fault rates folded
// into its spread, plus an independent chance for each fault that a look settles;
// costs of separate faults add; the value of a reading is what it would save on the
// next choice and at sign-off. Prices are those of a table of costs (package cost).
//
// Everything here is a pure function of the costs, the card and the outcomes. Minutes are
// rounded to a hundredth before scoring and scores are whole numbers, so that a
// grade does not hang on the last bit of a machine's arithmetic.
package grading
