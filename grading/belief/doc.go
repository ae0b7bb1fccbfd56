// Package belief holds what a perfect reasoner would think of an axle from exactly
// the readings shown so far: a Gaussian over a few continuous quantities for every
// combination of faults that may be there.
//
// A numeric reading is a linear look at the state with noise; its update is the
// scalar Kalman update. A reading that only says "above" or "below" a threshold
// cuts the Gaussian, and the cut one is replaced by the Gaussian with the same mean
// and variance. An act that moves a quantity shifts its mean and adds what the act
// is unsure of. The order of independent readings does not matter.
//
// What may be there or not is a switch, which adds one of a few sizes (slabs) to a
// quantity, or noise to readings. Each combination of switches is a Gaussian with a
// weight, and a reading weighs the combinations by how likely each made it. A switch
// splits the belief only when a reading first depends on it: until then nothing can have
// been learnt of it. Combinations with hardly a chance are given up; those that have become
// the same are joined into the Gaussian with their mean and covariance. An evenly spread
// quantity can be said as a switch that is certainly there, in slabs side by side.
//
// Left out: more than 64 slabs; a switch that hangs on another.
//
// Units are those of the state's rows and belong to the caller.
//
// Sources:
//
//	[1] R. E. Kalman, "A New Approach to Linear Filtering and Prediction
//	    Problems", 1960 (scalar form; from memory).
//	[2] Moments of the truncated normal distribution: N. L. Johnson, S. Kotz,
//	    "Continuous Univariate Distributions" (from memory).
//	[3] Y. Bar-Shalom, X. R. Li, T. Kirubarajan, "Estimation with Applications to
//	    Tracking and Navigation": the static multiple-model estimator, and the mean and
//	    covariance of a mixture (from memory).
package belief
