// Package uncertaintytest says how far a reading can be trusted: it turns the separate
// doubts about a measurement into standard uncertainties, combines them, and expands
// the result to a stated level of confidence, by the Guide to the Expression of
// Uncertainty in Measurement [1]. Only tests import it: they work the error of each
// instrument in sim/gauge out a second way.
//
// # What it models
//
// A Component is one doubt: an instrument's error limit, the step of its scale, the
// scatter of repeated readings. Combine adds the squares of the components, each
// times its sensitivity, and works out how many degrees of freedom the sum has.
// Expand and ExpandTo widen the sum to an interval.
//
// # Conventions and units
//
// The package has no unit of its own. Each component's standard uncertainty is in
// the unit of its input; times the sensitivity it is in the unit of the result, and
// that has to be the same for all components of one budget. Degrees of freedom are
// +Inf for a component taken as exactly known, such as a limit from a standard.
//
// # Assumptions and validity
//
//   - Components do not depend on one another.
//   - The result answers to each input in a straight line over the size of its
//     uncertainty. Products of two small uncertainties are left out.
//   - The result is near enough bell-shaped. With one rectangular component much
//     larger than all others, the interval for 95 per cent comes out too wide.
//   - What is known (a bent stylus, an arbor radius left out) is corrected first. It
//     is a mistake, not an uncertainty, and has no place in a budget.
//
// Left out: correlated inputs, Monte Carlo propagation, second-order terms.
//
// # Sources
//
//	[1] JCGM 100:2008 (GUM): 4.2.3 mean of readings, 4.3.7 rectangular, 4.3.9
//	    triangular, F.2.2.1 scale step, 5.1.2 combination, 6.2 expansion, G.4.1
//	    effective degrees of freedom, table G.2 coverage factors (clause numbers from
//	    memory). Annex H.1 is the worked example checked in the tests.
//	[2] Student's distribution for whole degrees of freedom as a finite sum: Handbook
//	    of Mathematical Functions, NBS AMS 55, 26.7.3 and 26.7.4 (from memory).
package uncertaintytest
