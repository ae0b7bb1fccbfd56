// Package catalogue lists all that can be wrong with an axle on the bench in one form: the
// faults an axle may come with (sim/fault) and the mistakes of a previous technician
// (scenarios/technician).
//
// Pairs says which of them are easily mistaken for one another, what reading they share and
// what tells them apart; a test acts each pair out at the bench. Scope sets the catalogue
// against all that goes wrong in the trade, as far as it is known here: what the bench has
// as a fault, as a mistake, as something a trainee does, on the open bench only, or not at
// all.
//
// testdata/faults.md at the module's root is written from here.
package catalogue
