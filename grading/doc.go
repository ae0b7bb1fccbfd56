// Package grading scores an attempt: what it proved of the axle, and what it cost beyond the
// reference way of working, on the readings that the trainee had been shown.
//
// What was done is booked act by act (package ledger) on what could be believed at the time
// (package inference). The hidden state is never looked at: a sound choice that met bad luck
// costs nothing, a lucky guess earns nothing. What may be signed for is decided by the list of
// package acceptance, which prices nothing.
//
//	score = Right and Cost, weighed by Formula
//	Right: 100 less points for each line of the acceptance list that is not proved
//	Cost:  100 less points for each charged minute beyond an allowance
//
// A Report lists every act's line of the book, and as decisions those acts that build
// something or that cost more than a minute, with the readings they could rest on, what these
// meant, and the cheapest act there. Its areas sum the lines by what they were about.
//
// Everything here is a pure function of the costs, the card and the steps. Minutes are rounded
// to a hundredth and scores are whole numbers, so that a grade does not hang on the last bit
// of a machine's arithmetic.
package grading
