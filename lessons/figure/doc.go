// Package figure reads the blocks of a lesson that ask for a figure, and says what a
// figure is. It computes none: whoever shows a lesson brings a Maker.
//
// # Blocks
//
// A block stands between fences in the Markdown of a lesson, one "key: value" to a line:
//
//	```figure
//	show: strip
//	family: BEECH
//	frame: too deep; depth=-0.006in
//	frame: right
//	frame: too far out; depth=0.006in
//	caption: BEECH with the pinion too deep, right and too far out.
//	```
//
// show is one of
//
//	patterns  the contact pattern on both sides of a ring gear tooth, in one state
//	strip     small contact patterns side by side: of several frames, or along a sweep
//	curve     a line for each measure along a sweep
//	table     a row for each frame or each position of a sweep, a column for each measure
//	section   where the shims, the spacer and the adjusters of the family are
//
// A state is the open axle of a family, finished, with the settings named changed. Settings
// stand with commas between: an amount is NAME=AMOUNT with its unit, anything else is a
// name alone. set gives the settings of the one state, or what all frames and positions
// have in common; a frame has a label and, after a semicolon, its own; sweep is
// NAME=FROM..TO/COUNT. of lists the measures of a curve or a table. What names there are is
// the Maker's to say.
//
// # Units
//
// Amounts carry their units in a block. A figure is drawn in the units of whoever reads
// it; a table with room for it shows both.
package figure
