// Package reveal tells, after sign-off, what the axle really was: the fault states
// it carried, what is left of them, where every line of the sheet truly ended, and
// where luck helped or hurt. It is the only part of grading that opens the sealed
// state, and nothing in it feeds back into a score.
package reveal
