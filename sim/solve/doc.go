// Package solve finds roots of one-variable functions for the physical model.
//
// The model's force balances are all monotone in one unknown, so a bracketed
// search that cannot leave its bracket is enough; a solver reports the root, the
// residual, how many evaluations it took, and an error when it did not converge.
// Units are the caller's.
//
// Sources:
//
//	[1] R. P. Brent, "Algorithms for Minimization without Derivatives", 1973,
//	    chapter 4 (method from memory).
package solve
