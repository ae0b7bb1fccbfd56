// Package layout holds no code. Its tests walk the source of the whole module.
//
// The import order is a table with a row for each package (order_test.go): what it is for
// and which packages of ours it may import, all of them from rows above. A package without
// a row fails, and the message names the arrow that breaks the order. The same file says
// which libraries are used and by whom, and which functions only some parts may call.
// DEVELOPERS.md shows the table as a map; -update writes it anew.
//
// Other tests fail when a folder turns up where none belongs, when a package does not say
// what it is for, or when work is left unfinished.
package layout
