// Command mutate is for developers: it asks the tests whether they would notice a wrong sign or
// a turned comparison.
//
//	go run ./cmd/mutate -n 500 -seed 1          500 mutants, evenly over sim, scenarios and grading
//	go run ./cmd/mutate -package sim/mesh       all mutants of one package
//	go run ./cmd/mutate -at sim/assembly/axle.go:60   those of one line
//	go run ./cmd/mutate -csv FILE -again        those of a list that no test noticed, once more
//
// A mutant is one small change: plus for minus, a sign turned, a comparison turned or moved by
// one. All mutants of a run are compiled into each test binary at once, through an overlay that
// leaves the source tree as it is, and each is woken in turn by an environment variable. Every
// test is run once without a mutant, to see which sites it reaches and how long it takes. Then
// each mutant meets the tests that reach it, of its own package and of those that import it
// directly, quickest first, until one fails.
//
// Tests run in their short form. One that fails or needs a processor for longer than -slow
// without any mutant takes no part. Of the callers those in -callers are asked. What is asserted about time may fail on a machine that is busy.
package main
