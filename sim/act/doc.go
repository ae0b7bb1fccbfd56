// Package act names everything a person can do at the practice bench and turns
// each act into one line of text and back.
//
// The line is the act: it is what a trainee types, what a script holds, and what
// an attempt record keeps. Writing an act and reading it again gives the same act,
// amounts included, because an amount keeps the number and the unit it was given
// in. A bare number takes the unit of the session's units and the kind of amount
// the place calls for.
//
// The package knows the words only. Whether an act is possible now, what it does
// and what it costs belong to package sim.
package act
