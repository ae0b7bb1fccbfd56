// Package figure computes the figures that lessons ask for: the open axle of a family in the
// states a block names, drawn by package picture.
//
// Settings and sweeps are those of package explore, under the names it lists; the measures
// are this package's own (Measures). Nothing has an instrument's error in it but what a
// block asks for by a seed, and the same block gives the same figure everywhere.
//
// What stands on a page is described in words as well: the alternative text of a figure
// says where every pattern sits, what a line does and where a part is.
package figure
