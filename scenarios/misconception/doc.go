// Package misconception lists the misconceptions that a job can show. Each is one value: what
// is believed, what it makes a person do and what is right; the lesson that answers it; where
// it is known from; on which jobs it can show; the policy by which a simulated technician who
// holds it works; and the signs by which a grader can tell it. To add one, write its function
// beside those of its part of the job and its line in All.
//
// Signs speak of a Scene: a step of an attempt with what its technician knew before it. They
// say what one who holds the misconception would have chosen there, or at which size he would
// have aimed, never how much that weighs: weighing is the grader's.
//
// Lengths are mm, torques N·mm. A ring gear travel is positive away from the pinion. All is a
// function of the card and the steps; the hidden state is never seen.
//
// Left out: misconceptions that this bench gives no chance to act on, such as a match number
// taken for a depth mark. Where a misconception and good sense ask for the same size (equal
// marks, an old mark of zero) it has no sign.
//
// That these misconceptions occur: common practice, no source, and each one's own.
package misconception
