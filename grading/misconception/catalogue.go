package misconception

// An Idea is one wrong idea that a job can show.
type Misconception struct {
	ID       string // names it for programs; the same as the slip or idea of package technician that acts it out
	Says     string // the idea in plain words, to follow "that"
	Makes    string // what it makes a person do
	Right    string // what to think instead, in a sentence or two
	Lesson   string
	Source   string
	Strength string
}

const (
	practice = "common practice, no source"
	read     = "published"
)

// All lists the ideas in the order of the job.
func All() []Misconception {
	return []Misconception{
		{"mark-turned", "a plus on the pinion's mark moves the shim the other way", "the first depth shim is wrong by twice the difference of the marks", "The sheet says what plus means on this axle. Say first where the pinion must end up, then which shim takes it there.", "depth-mark", "TM 9-2320-289-34, table 6-2", read},
		{"mark-forgotten", "the old shim is right for the new pinion too", "the old depth shim goes back although the marks differ", "The old shim was right for the old mark. The difference of the two marks goes on the shim.", "depth-mark", "TM 9-2320-289-34, table 6-2", read},
		{"new-mark-only", "only the new pinion's mark counts", "the old mark is left in the shim", "The old shim has the old mark in it already: take that out before the new one goes in.", "depth-mark", "TM 9-2320-289-34, table 6-2", read},
		{"marks-added", "the two marks are added up", "the old mark goes on the shim a second time", "Think of two pinions with the same mark: nothing should change. So it is the difference that counts.", "depth-mark", "TM 9-2320-289-34, table 6-2", read},
		{"mark-in-other-units", "the marks are in the other unit", "the shim changes by 2.54 times the right amount, or by 0.39 of it", "The sheet says what one unit of the mark is: a thousandth of an inch, or a hundredth of a millimetre.", "depth-mark", practice, practice},
		{"starter-is-final", "the shim that the marks give is the right one", "nothing is gauged and no print is read", "Marks know nothing of a bearing that is higher or a cup that is not home. The gauge or the print does.", "depth-gauge", practice, practice},
		{"thicker-is-deeper", "a thicker shim always brings the pinion in", "under a cage flange the shim is changed the wrong way", "Under the cage's flange a thicker shim lifts cage and pinion out together: draw the stack before choosing.", "cage-shim", practice, practice},
		{"tiny-steps", "a shim should be changed by one size at a time", "one step where the gauge asks for three and more", "The gauge says how far. Go the whole way, then look how much is left.", "depth-gauge", practice, practice},
		{"preload-shims-not-followed", "the pack has nothing to do with the depth shim", "the pack stays when the shim behind the cup is changed", "A shim behind the cup drives the bearings apart by its thickness; the pack has to follow.", "cup-shim", practice, practice},
		{"thicker-shims-tighten", "a thicker pack tightens the bearings", "the pack is changed the wrong way", "The pack holds the inner rings apart: thicker is looser.", "solid-spacer", practice, practice},
		{"lengthwise-as-depth", "a print towards the toe or heel asks for another depth", "the depth shim is changed for a print that stands at the right height", "Up and down the tooth is depth. Along the tooth is mostly backlash.", "depth-height", "TM 10-3930-638-24&P p. 4-243", read},
		{"height-as-backlash", "a print that is high or low asks for another backlash", "the ring gear is moved although the backlash is right", "When both flanks are high, or both low, the pinion is at the wrong depth; no place of the ring gear cures that.", "depth-height", practice, practice},
		{"pinion-for-backlash", "the pinion is moved to change the backlash", "the depth shim is changed after a backlash reading, with nothing read of the depth", "Depth first, by gauge and print. Backlash is then set by moving the ring gear alone.", "side-shims", "TM 9-2320-289-34, table 6-1", read},
		{"picture-chased", "a print has to look like the picture in the book", "the depth shim is changed for a print that was good already", "A print is good when it keeps off the edges and stands at its height. Name what the next change would prevent.", "check-again", practice, practice},
		{"wrong-range", "one drag range does for all bearings", "the pinion is set to the range of the other kind of bearing", "New bearings still have their bedding in before them and get more. The card says which these are.", "rotating-torque", practice, practice},
		{"seal-counted", "the drag of the seal is part of the preload", "the drag is set to the bare window with the seal in", "The sheet's window is for the bearings. With the seal in, its drag comes on top.", "rotating-torque", practice, practice},
		{"breakaway", "the first pull tells the preload", "the drag is read as the pinion breaks loose", "The first pull is friction at rest. Preload is what it takes to keep the pinion turning.", "rotating-torque", "TM 10-3930-660-34 p. 9-16", read},
		{"not-turned-in", "the bearings are home as soon as the nut has moved", "the drag is read without turning the pinion", "Rollers seat themselves only as they roll. Turn the pinion, then read.", "rotating-torque", "TM 9-2320-387-24-2 p. 30-17", read},
		{"greased", "grease on the bearings does them good", "the bearings are packed with grease before the drag is read", "Grease drags by itself and hides the preload. Oil them lightly.", "rotating-torque", practice, practice},
		{"torque-is-preload", "the nut's torque sets the preload", "the nut goes to its torque and no drag is read", "The nut's torque goes into threads and spacer; only the drag tells what the bearings carry.", "rotating-torque", practice, practice},
		{"nut-in-inch-pounds", "the nut's torque is in pound-inches", "the nut is pulled to a twelfth of its torque", "The nut's torque is in pound-feet, the drag in pound-inches: write the unit with every number.", "rotating-torque", practice, practice},
		{"backed-off", "too much preload is cured by loosening the nut", "the nut comes back and the spacer stays", "A crushed spacer does not spring back: loosened, nothing holds the bearings. New spacer, new nut.", "crush-spacer", "TM 9-2320-387-24-2 p. 30-17", read},
		{"sides-swapped", "back is the side the teeth are on", "the two old side shims change places", "Back is behind the ring gear. Mark it on the housing before the case comes out.", "side-shims", practice, practice},
		{"wrong-way", "the ring gear moves the other way for more backlash", "the right amount goes to the wrong side", "Away from the pinion opens the backlash: thinner behind the gear, thicker on the tooth side.", "side-shims", "TM 9-2320-289-34, table 6-1", read},
		{"one-to-one", "the backlash changes by what the ring gear travels", "the move is about seven tenths of what it should be", "Only about seven tenths of the travel shows as backlash, so the move is bigger than the change you want.", "side-shims", "TM 9-2320-289-34, table 6-1", read},
		{"gain-turned", "the ring gear has to travel less than the backlash should change", "the move is about half of what it should be", "The travel is bigger than what shows as backlash: divide by seven tenths, do not multiply.", "side-shims", "TM 9-2320-289-34, table 6-1", read},
		{"one-side-only", "a shim on one side does for the backlash", "one side shim is changed and the other left", "What comes out of one side goes into the other, or the side preload pays for the move.", "side-shims", "TM 9-2320-289-34, table 6-1", read},
		{"no-side-preload", "side bearings need no more than to be free of play", "the pack is left at line-to-line", "Without preload the gear climbs away under load. The sheet's preload goes on top of line-to-line.", "side-shims", practice, practice},
		{"side-preload-high", "more side preload is safer", "the pack goes close to what spreads the housing too far", "Past its window the preload only wears the bearings. Take from both sides alike.", "total-torque", practice, practice},
		{"tighter-is-better", "a small backlash is a good backlash", "the backlash is set to the low end of its window", "Teeth grow as they warm. Aim at the middle, so that the tightest tooth has room.", "backlash-reading", practice, practice},
		{"more-is-quieter", "a large backlash runs quieter", "the backlash is set to the high end of its window", "More backlash means harder blows at every change of load. Aim at the middle.", "backlash-reading", practice, practice},
		{"used-set-as-new", "used gears get a new set's backlash", "the backlash is set closer than the set ran with", "Worn teeth have found their own place. Put them back to what they ran with.", "used-gears", practice, practice},
		{"plunger-tilted", "it does not matter how the stem stands", "the indicator's stem is out of square", "A stem out of square sees only part of the movement and flatters the reading.", "backlash-reading", practice, practice},
		{"plunger-at-toe", "backlash is the same anywhere on the tooth", "the backlash is read at the toe", "Read at the heel: nearer the axle the same play is a shorter way.", "backlash-reading", practice, practice},
		{"pinion-free", "the pinion stands still by itself", "the backlash is read with the pinion free", "A free pinion rides along and its play is counted too. Hold it.", "backlash-reading", practice, practice},
		{"one-place", "one reading of the backlash is enough", "the backlash is read at one place or two", "The tightest tooth decides. Read three or four places round the gear.", "backlash-reading", practice, practice},
		{"variation-averaged", "a spread in the readings can be averaged away", "readings that swing are left without a look at the runout", "A swing once a turn is a gear that sits crooked. Read its back face, then look behind it.", "runout", practice, practice},
		{"caps-snug", "snug is good enough for a reading", "the backlash is read before the caps are at torque", "The cap is part of the bearing's bore, and the case moves when it comes to torque.", "backlash-reading", "TM 9-2320-280-34 p. 19-22", read},
		{"pattern-unbraked", "a print needs no brake", "the gears are rolled free", "Without drag the teeth hardly press the compound out, and the place of the print is a guess.", "check-again", practice, practice},
		{"compound-thick", "more compound shows more", "the compound goes on thick", "A thick coat smears and prints where nothing touches. Thin, and only on a few teeth.", "check-again", practice, practice},
		{"not-rechecked", "a change of depth leaves the backlash as it was", "the depth is changed and the backlash is not read again", "Moving the pinion moves the backlash too. After a change, read again all that it touches.", "check-again", practice, practice},
		{"nothing-inspected", "parts out of the box need no look", "nothing is looked at before it is built in", "A look costs minutes; finding it later costs a teardown.", "inspect-first", practice, practice},
		{"strip-first", "what is there is not worth reading", "a finished axle is taken apart before anything is read", "Once it is apart, nobody can tell what was wrong. Read first.", "inspect-first", practice, practice},
	}
}
