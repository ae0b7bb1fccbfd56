// Package exercise reads the files in which an instructor writes an exercise down, and
// holds the ready ones that come with the program.
//
// An exercise says which jobs are to be worked (axle families, kinds, faults, numbers), at
// what bench (units, what is left off), on what terms (minutes, parts, help, mode), and
// what of a trade's tasks it is about, in words of the program's own. A file is YAML read
// by sim/datasheet: strict, every mistake named at once. What reads writes itself back the
// same.
//
// Numbers are dealt out to kinds and families in turn, kinds first, so that any row of
// numbers as long as there are kinds times families meets every pair once. The same number
// is the same job wherever the exercise is worked.
//
// Minutes are shop minutes as the bench counts them; parts are priced in the same. A
// family that is no code of the program is a file, looked for from the folder of the
// exercise's own file.
package exercise
