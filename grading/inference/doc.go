// Package inference holds what anybody could believe of an axle who had seen the job card and
// the steps of a job, and nothing else: a fold over the steps.
//
// A Tracker starts from the card (old shims, marks, disclosed spreads and fault rates) and
// takes in each step: its readings, each with its stated uncertainty and what is fixed in it,
// and what the act did to the axle, which the status before and after says. Its laws say what
// is believed of the depth, the torque, the backlash and the side preload, and what one more
// reading would leave unknown of them. Outcomes lists how an act could have turned out before
// it was done, with the chance of each, so that what was to be expected of it can be told from
// what it showed.
//
// Approximations, stated: the belief (package belief) is one Gaussian for every set of those
// faults that readings tell of and that are not settled, and an independent chance for each of
// the others; readings are straight lines about a good assembly, but for the torque that
// preload shims give; a finding stands for the middle of its sizes where it has not been read;
// a pull to a torque is taken at the angle that it came to.
//
// Lengths are mm, torques N·mm. The hidden state is never looked at. What the laws have to
// satisfy against the truth is tested on many jobs, and against a cloud of axles drawn from
// the card.
package inference
