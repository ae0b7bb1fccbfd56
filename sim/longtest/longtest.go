// Package longtest says how large a sample a statistical test draws. It is for tests alone.
//
// Tests that hold a rate, a calibration or a mean over many jobs have two sizes. The short
// one is the default, so that a plain "go test ./..." takes about a minute on two cores. The
// long one runs with SHIMWRIGHT_LONG=1 in the environment. Both assert the same property;
// a test with a smaller sample states bounds that are as wide as that sample needs.
package longtest

import "os"

// variable is the environment variable that asks for the long runs.
const variable = "SHIMWRIGHT_LONG"

// On reports whether the long runs are asked for.
func On() bool { return os.Getenv(variable) == "1" }

// Some returns n of a list, evenly spaced from the first on, for a short run, and all of it
// for a long one.
func Some[T any](all []T, n int) []T {
	if On() || n >= len(all) {
		return all
	}
	few := make([]T, n)
	for i := range few {
		few[i] = all[i*len(all)/n]
	}
	return few
}

// Pick returns the first value for a short run and the second for a long one: a number of
// jobs, or a bound that depends on it.
func Pick[T any](short, long T) T {
	if On() {
		return long
	}
	return short
}
