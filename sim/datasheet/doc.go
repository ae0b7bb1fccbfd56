// Package datasheet reads the small YAML files that a person writes by hand: an axle
// family, a gear set, a list of parts. It is strict and names every mistake at once,
// each with its line, its column and what would be right.
//
// A Kind says what a file is to be. Read checks the writing and the version and gives
// the Block of the file itself; whoever knows the kind asks the block for its keys one
// by one, and Done then says which are missing and which are not known. Checks that
// follow from several values are the asker's own; Spots remembers where to point.
//
// # Rules of a file
//
//   - The first key names the kind and holds the version of the format.
//   - A key that holds an amount ends in its unit: _in or _mm for lengths, _lb_in,
//     _lb_ft or _nm for torques, or the one unit its asker says. Which of the length or
//     torque units is used is free, key by key. A key without a unit is a count, a
//     share or a pure number. Where a unit is missing, the one is offered in which the
//     figure lies within its limits, then the one that the group and the file use most.
//   - A specification or a spread is {low, high}; a row of sizes is {low, high, step}.
//   - Nothing may be left out but what its asker leaves optional, and nothing unknown
//     may stand in it.
//   - Anchors, references and tags are refused: a person who reads one line should know
//     what it says. A file has at most 32 KiB, a line at most 1000 characters.
//
// # Units
//
// Lengths come out in millimetres and torques in newton millimetres unless the asker
// wants foot-pounds. An inch is read as a thousand thousandths: 0.0025 in is exactly
// what 2.5 thousandths are elsewhere in the program. Limits are in the program's unit.
//
// # Bad input
//
// Any bytes will do: a mistake is a Problem and never a panic. What it says is a
// text.Message; its key and its place are fields. A value that is wrong
// comes out as zero, and its key counts as read so that one mistake is one complaint.
package datasheet
