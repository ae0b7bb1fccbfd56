package form

// reading is what the figures of the report come to. It is written by hand: look at the
// figures again when they change.
const reading = `## Reading it

Said of a window, the belief is as sure as it is right: every binned error is within what is
aimed at. Most axles end well inside their windows, so this asks little of the tails.

The shape of the belief misses what is aimed at everywhere: depth by a little, and the others
by more, mostly by being less sure than it could be. What was tried to find out why was tried
on the 240 jobs of the small run, whose axles are drawn from four numbers only:

- Backlash (sd about 0.7): the grader takes the swing round the gear as chance at every place
  read. Readings a quarter of a turn apart cancel most of it in their mean. Counted as half as
  large for four places, the sd rose from 0.49 to 0.57; the rest is not explained.
- Side fit (sd 0.6 on CEDAR, FIR and HAZEL, near 1 elsewhere): these three have their housing's
  spread read, and the grader allows 12 % from housing to housing. With 4 % the sd over all
  families rose from 0.77 to 0.92.
- Depth (sd about 1.2 on the same three): surer than right. Not explained; their shim stands
  behind the head cup.
- Pinion drag: means of about -0.2 with collapsible spacers and from 0 to +0.3 with solid ones
  cancel in the sum. The likely cause, not tried: the hand stops turning, or chooses a pack, by
  what it has read, and an axle on which that ends badly is drawn again; the belief knows of
  neither.

A belief less sure than it could be prices a further reading too high, and a risk
that is none as one. The times are by the clock with all cores at work, so other programs lengthen them.
`
