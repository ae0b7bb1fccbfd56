// Package belief holds what a perfect reasoner would think of an axle from exactly
// the readings shown so far: one Gaussian over a few continuous quantities.
//
// A numeric reading is a linear look at the state with noise; its update is the
// scalar Kalman update. A reading that only says "above" or "below" a threshold
// cuts the Gaussian, and the cut one is replaced by the Gaussian with the same mean
// and variance. An act that moves a quantity shifts its mean and adds what the act
// is unsure of. The order of independent readings does not matter.
//
// Units are those of the state's rows and belong to the caller.
//
// Sources:
//
//	[1] R. E. Kalman, "A New Approach to Linear Filtering and Prediction
//	    Problems", 1960 (scalar form; from memory).
//	[2] Moments of the truncated normal distribution: N. L. Johnson, S. Kotz,
//	    "Continuous Univariate Distributions" (from memory).
package belief
