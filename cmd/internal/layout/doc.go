// Package layout holds no code. Its test walks the source of the whole module and
// fails when a package imports what it must not see, when something other than the
// bench, the generator and the reveal opens the hidden state, when a folder turns
// up where none belongs, or when a package does not say what it is for.
//
// The order of the parts, from the ground up: sim, scenarios, grading, cmd; a part
// imports only from parts before it. Package lessons stands alone.
package layout
