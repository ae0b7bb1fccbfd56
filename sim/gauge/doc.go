// Package gauge turns a true value into what an instrument shows.
//
//	reading = round to step( true x (1 + gain) + offset + repeat noise )
//
// Gain and offset belong to the instrument: they are drawn once for a job and
// averaging cannot remove them. Repeat noise is drawn for each reading. The
// limits and repeatabilities are workshop-class figures:
//
//   - torque wrenches: permissible deviation 6 % up to 10 N·m and 4 % above, the
//     limits of ISO 6789 (as restated in a tool manual);
//   - micrometer: 4 µm, the limit of ISO 3611 for 0-25 mm;
//   - dial indicator read to 0.0005 in: 0.0003 in, and a repeat of 0.00015 in
//     (estimates);
//   - depth gauge 0.0005 in, cord and scale 3 % of the reading, feeler and caliper:
//     estimates.
//
// The stated standard uncertainty combines the limit as a rectangular
// distribution, the reading step as a rectangular distribution and the repeat
// noise (JCGM 100:2008, "Guide to the expression of uncertainty in measurement").
// The same figures are shown to the trainee and used by the grader.
//
// Lengths are millimetres, torques newton millimetres. The package knows nothing
// of axles; what a badly placed instrument does to the value it sees is applied
// before, in package sim, or by the placement functions here.
package gauge
