// Package technician works a job from the first look to sign-off, seeing only what a
// trainee sees: the card, and what each act shows.
//
// The competent hand proves that a job can be finished and plays the
// demonstration. The same hand with a bad habit (a sign turned round, nothing
// measured) shows that the grader tells good work from bad. GoOn takes up a job where
// somebody else has left it, on what was read so far.
package technician
