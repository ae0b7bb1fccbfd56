// Package cli is the command line of the practice bench: it parses flags, keeps the
// attempt file, and hands everything else to the packages that do the work.
//
// Exit codes: 0 done; 1 an act in a script could not be done, or something outside
// the program failed; 2 the command was not understood; 3 an attempt file is
// foreign, damaged or cut short, or a family or exercise file is none; 4 an attempt file
// is whole but belongs to another version or does not replay.
package cli
