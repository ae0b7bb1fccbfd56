// Package misconception weighs which wrong idea, if any, would explain the acts of an
// attempt.
//
// Each idea says what a person who holds it would do in the place of a sensible hand:
// fit a certain shim, or choose one word of an act over another. For every act where the
// two differ, the logarithm of the likelihood ratio, idea against sensible hand, is added
// to the idea's account:
//
//	size:   p(a) = (1 - lapse) step N(a; aimed at, spread) + lapse / sizes on the shelf
//	choice: an idea is acted on in 95 of 100 chances, a sensible hand slips in 5 of 100
//	drag:   left as it is inside the window that is aimed at, changed below it or past it
//
// A choice that repeats itself on one job counts twice at most: it is the same idea, not
// new evidence. The account and the prior give a posterior over the ideas and none at all.
// The prior is disclosed: one half for none, the rest evenly over the ideas. Accounts of
// several jobs add.
//
// An idea is named only when its posterior is above SureAbove and its account above ln 10.
// Where two ideas make a person do the same, their accounts rise together and neither is
// named: both are returned, to be asked about. Ideas are taken one at a time; a person who
// holds two is told of the stronger one.
//
// Lengths are mm, torques N·mm; a shim move is positive where it takes the ring gear away
// from the pinion. Everything is a function of the card and the outcomes; the hidden state
// is never looked at.
//
// Left out: ideas that this bench gives no chance to act on, such as a set number taken
// for a depth mark. Where an idea and good sense ask for the same size (equal marks, an old
// mark of zero) nothing is said.
//
// Sources: acts read as choices of a planner with one idea broken: Rafferty, LaMar and
// Griffiths, Cognitive Science 39 (2015) 584-618. That these ideas occur, and how often an
// idea is acted on: common practice, no source. What is right, where a manual says so, is
// cited at the idea.
package misconception
