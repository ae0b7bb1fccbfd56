// Package catalogue lists all that can be wrong with an axle on the bench in one form:
// the fault states an axle may carry (scenarios/fault) and the slips of a hand that has
// worked on it before (scenarios/hand).
//
// Pairs says which of them are easily taken for one another, what reading they share and
// what tells them apart; a test acts each pair out at the bench. Scope sets the catalogue
// against all that goes wrong in the trade, as far as it is known here: what the bench
// has as a fault state, as a slip, as something a trainee does, in the demonstrator only,
// or not at all.
//
// testdata/faults.md at the module's root is written from here.
package catalogue
