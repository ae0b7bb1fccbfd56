// Package stakes asks whether a table of costs makes good work worth while: it plays jobs
// of a family by a careful hand and two bad ones and prices what they did and what the
// axles are still going to cost, with their true state in the place of what was read.
//
// Three things are asked of a table [1], which its figures have to satisfy together:
//
//   - When the case is first in for good, reading must be worth more than signing at once,
//     on nearly every job. Where comebacks cost too little nobody need read anything. On a
//     family whose specifications are wide beside what careful work leaves (IRONBARK) the
//     two come out about alike, and only the acceptance list asks for the reading.
//   - Careful work must cost at most half of what work without measuring costs, and at most
//     half of what turning every correction round costs.
//   - No one look or reading may be all that is worth taking when a job begins, on more
//     than four jobs in five of a kind that trains choice. Values of separate readings add
//     here, so which of those that are worth it comes first is free; that there is only
//     one is what would leave no choice.
//
// The same is not asked after the last change, though a good hand reads again there. On this
// bench a correction that was reckoned from a reading lands within some 0.006 mm of where it
// should, a sixth of half a backlash window, and reading it again is worth its eight minutes
// on three to eight jobs in ten at the default, by family, and hardly more often where
// comebacks cost five times as much. Result.Again is that share. The sheet asks for the reading in any
// case, so a grade never charges its minutes, and leaving it out is a matter of the build
// sheet.
//
// At the default careful work comes to about four tenths of work without measuring, to 53 %
// on the families where it takes longest.
//
// The careful hand stands for the best there is: it is not, and a table that passes by it
// would pass by a better one. Few jobs are played, so that a table that is right on the
// edge may be called either way.
//
// [1] The limits (19 in 20, one half, four in five) are choices of this project.
package stakes
