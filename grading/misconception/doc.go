// Package misconception weighs which misconception, if any, would explain the acts of an
// attempt.
//
// The misconceptions and their signs are those of package scenarios/misconception. At every
// step where one who holds a misconception would do something else than a sensible
// technician, the logarithm of the likelihood ratio, misconception against sensible
// technician, is added to its account:
//
//	choice: acted on in 95 of 100 chances; a sensible technician makes the same choice by
//	        mistake as often as the sign says
//	size:   p(a) = (1 - lapse) step N(a; aimed at, spread) + lapse / sizes on the shelf
//	torque: left as it is inside the specification that is aimed at, changed below it or past it
//
// A choice that repeats itself on one job counts twice at most: it is the same misconception,
// not new evidence. The account and the prior give a posterior over the misconceptions and
// none at all. The prior is disclosed: one half for none, the rest evenly over all of them.
// Accounts of several jobs add.
//
// A misconception is named only when its posterior is above SureAbove and its account above
// ln 10. Where two make a person do the same, their accounts rise together and neither is
// named: both are returned, to be asked about. They are weighed one at a time; a person who
// holds two is told of the stronger one.
//
// Lengths are mm, torques N·mm. Everything is a function of the card and the steps; the hidden
// state is never looked at.
//
// Sources: acts read as choices of a planner with one belief broken: Rafferty, LaMar and
// Griffiths, Cognitive Science 39 (2015) 584-618. How often a misconception is acted on:
// common practice, no source.
package misconception
