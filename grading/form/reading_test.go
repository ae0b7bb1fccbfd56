package form

// reading is what the figures of the report come to. It is written by hand: look at the
// figures again when they change.
const reading = `## Reading it

Said of a window, the belief is as sure as it is right: every binned error is within what is
aimed at. Most axles end well inside their windows, so this asks little of the tails.

The shape of the belief misses what is aimed at, for depth and pinion drag by a little, for
backlash and side fit by much, and mostly by being less sure than it could be:

- Backlash (sd about 0.7): the grader takes the swing round the gear as chance at every place
  read. Readings a quarter of a turn apart cancel most of it in their mean. Counted as half as
  large for four places, the sd of 240 jobs rose from 0.51 to 0.60; the rest is not explained.
- Side fit (sd 0.6 on CEDAR, FIR and HAZEL, near 1 elsewhere): these three have their housing's
  spread read, and the grader allows 12 % from housing to housing. With 4 % the sd of 240 jobs
  rose from 0.77 to 0.90 and the PIT distance fell from 0.13 to 0.08.
- Depth (sd 1.1 to 1.2 on the same three): surer than right by a tenth or two. Not explained;
  their shim stands behind the head cup.
- Pinion drag: means of -0.2 with collapsible spacers and +0.1 to +0.3 with solid ones cancel in
  the sum. The hand stops turning, or chooses a pack, by what it has read, and the belief does
  not know that; an axle on which that ends badly is drawn again.

A belief less sure than it could be prices a further reading too high and a gamble too low; it
does not turn a sound decision into a bad one. The times are by the clock with all cores at
work, so other programs lengthen them; the benchmarks in package scenarios are kinder.
`
