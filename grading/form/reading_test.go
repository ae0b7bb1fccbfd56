package form

// reading is what the figures of the report come to. It is written by hand: look at the
// figures again when they change.
const reading = `## Reading it

Over all jobs the belief is as sure as it is right: every binned error is below 0.01 and every
PIT distance below 0.02. Chance alone brings the one of 10,000 even probabilities to about
0.009 and of 1000, as in the rows by family, to about 0.03.

What it took, each found by holding the readings of drawn axles against what the belief
expected of them:

- An instrument's own error is the same in every reading: depth gauge, indicator, micrometer,
  wrench and string scale have a row each, and so has what the pinion's mark leaves out. Backlash
  rests on the indicator's error most of all, and that is evenly spread, not normal.
- A gear with runout goes away as much as it comes near. At places evenly spaced round it
  that cancels in the mean, and only at one place is it chance.
- Of a pedestal that is softer by a tenth the housing's spread shows about three hundredths
  more, since it eases the force too: a few percent from housing to housing, not twelve.
- The inner bearing gives under its preload. In a mock-up, or with bearings that go back
  in, the pinion does not stand where it does at the preload its place is defined at.
- Rollers that are not seated take up play: no end play at the flange becomes end play once the
  pinion has been turned, and a reading then is of the seal alone.
- On the way to the specification the torque is no straight line through nothing, and how steep it is
  differs from axle to axle, the same in every step on one axle.
- Every job has a seed of its own. Instruments go with the seed: the same few in all jobs
  lean the whole table one way.

The rows by family still differ a little more than by chance where preload shims set the torque on a
heavy axle (ELM, IRONBARK), and in the depth of JUNIPER. The jobs are those handed out: a draw
that the reference technician cannot finish is no job, which the belief does not know.
The times are by the clock with all cores at work, so other programs lengthen them.
`
