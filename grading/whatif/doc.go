// Package whatif replaces one act of an attempt by another and works out what would have
// come of it.
//
// The acts before are done again, the other act takes the place of the one that was done,
// and from there the competent hand does the rest on what had been read so far
// (scenarios/hand, GoOn). Beside it the same hand goes on from what really was done, so
// that two courses differ by one act alone, and the attempt itself stands for comparison.
// A hand that finds work it cannot rely on undoes it; the course says so in words. Where
// the hand cannot go on, the decision is still graded by itself.
//
// Each reading has noise of its own, named by what is read and the state of the axle, so
// that a course repeats to the bit. It is one course, not the mean of many: with other
// noise it could come out a few minutes dearer or cheaper. The prices in the decision are
// the means.
//
// A job that is not signed off has no other courses: they would show readings that the
// trainee has yet to take.
package whatif
