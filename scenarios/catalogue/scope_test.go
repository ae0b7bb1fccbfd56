package catalogue

// A How says how the bench has something that goes wrong in the trade.
type How string

// The ways.
const (
	AsFault   How = "fault state"
	AsMistake How = "slip of the hand before"
	AsAct     How = "something a trainee can do"
	InExplore How = "in the demonstrator only"
	NotHere   How = "not at all"
)

// Hows lists them from the most to the least.
func Hows() []How { return []How{AsFault, AsMistake, AsAct, InExplore, NotHere} }

// A Trouble is one thing that goes wrong in the trade. At is the entry's id, the act, or
// why the bench has not got it.
type Trouble struct {
	Name string
	How  How
	At   string
}

// Scope lists what goes wrong in the trade, from common practice and manuals, with what
// the bench makes of it. What is a fault state and a slip at once stands under the first.
func Scope() []Trouble {
	return []Trouble{
		{"head bearing cup not home", AsFault, "inner-cup-high"},
		{"tail bearing cup not home", AsFault, "outer-cup-high"},
		{"chip between ring gear and case", AsFault, "dirt-behind-ring-gear"},
		{"ring gear bolts uneven or loose", AsFault, "ring-gear-bolts-uneven"},
		{"differential case flange bent", AsFault, "bent-case-flange"},
		{"side-bearing caps changed over", AsFault, "caps-swapped"},
		{"side-bearing cap end for end", AsFault, "cap-end-for-end"},
		{"side-bearing cone not home", AsFault, "ring-gear-cone-high"},
		{"depth pack dirty or damaged", AsFault, "dirt-under-depth-shim"},
		{"bearings of different height", AsFault, "set-up-bearing-height"},
		{"collapsible spacer used before", AsFault, "spacer-crushed-before"},
		{"pinion nut used before", AsFault, "pinion-nut-used-before"},
		{"pinion bearing dented or worn", AsFault, "pinion-bearing-notched"},
		{"pinion seal pinched or dry", AsFault, "seal-tight"},
		{"grease or stiff oil on the bearings", AsFault, "packing-grease"},
		{"torque wrench out of calibration", AsFault, "low-range-wrench-out"},
		{"cord over a wrong radius", AsFault, "string-on-wrong-radius"},
		{"housing spread too far", AsFault, "housing-spread-before"},
		{"indicator base or arm loose", AsFault, "indicator-arm-loose"},
		{"axle shafts, brakes or propeller shaft left on", AsFault, "shafts-or-brakes-on"},
		{"baffle or slinger left out of the pack", AsFault, "slinger-left-out"},
		{"depth gauge set wrongly or dirty", AsFault, "depth-gauge-off-its-seat"},
		{"spacer missing or of the wrong length", AsFault, "spacer-for-other-axle"},
		{"grit in a bearing", AsFault, "grit-in-pinion-bearings"},
		{"ring gear warped", AsFault, "ring-gear-warped"},
		{"ring gear off centre on its register", AsFault, "ring-gear-off-center"},
		{"ring and pinion of two sets", AsFault, "gear-set-mixed"},
		{"wrong ratio or case for the gear", AsFault, "ring-gear-for-other-case"},
		{"pinion or flange bent", AsFault, "pinion-bent"},
		{"bolts of the wrong length or without locker", AsFault, "ring-gear-bolts-too-long"},

		{"depth pack of the wrong thickness", AsMistake, "mark-forgotten"},
		{"depth mark the wrong way round", AsMistake, "mark-turned"},
		{"depth mark in the other unit", AsMistake, "mark-in-other-units"},
		{"collapsible spacer crushed too far", AsMistake, "overshot"},
		{"spacer crushed too far and the nut backed off", AsMistake, "backed-off"},
		{"preload range of the other kind of bearing", AsMistake, "wrong-range"},
		{"torque read at the first pull", AsMistake, "breakaway"},
		{"bearings not turned in before reading", AsMistake, "not-turned-in"},
		{"seal drag counted wrongly", AsMistake, "seal-counted"},
		{"backlash corrected on one side only", AsMistake, "one-side-only"},
		{"side preload too high", AsMistake, "side-preload-high"},
		{"side preload too low or none", AsMistake, "no-side-preload"},
		{"caps only snug when the axle was read", AsMistake, "caps-snug"},
		{"indicator out of square", AsMistake, "plunger-tilted"},
		{"indicator on the wrong radius", AsMistake, "plunger-at-toe"},
		{"pinion not held while the gear is rocked", AsMistake, "pinion-free"},
		{"used gears set like new ones", AsMistake, "used-set-as-new"},

		{"old depth mark left out of the sum", AsAct, "fit depth-shim"},
		{"solid pack left as it was after a depth change", AsAct, "fit preload-shims"},
		{"side shim moved the wrong way", AsAct, "fit side-shims"},
		{"threaded rings not turned alike", AsAct, "turn ring-gear-adjuster"},
		{"backlash read at one place only", AsAct, "measure backlash 1"},
		{"print rolled without load", AsAct, "roll gears free"},
		{"too much compound on the teeth", AsAct, "paint teeth thick"},
		{"inch and metric mixed up in a shim", AsAct, "fit depth-shim"},
		{"lengthwise print chased with depth", AsAct, "fit depth-shim"},

		{"housing read hot", InExplore, "jobs stand at shop temperature"},

		{"bearing cups and cones mixed between sides", NotHere, "bearings are alike but for their height"},
		{"shim put under the wrong bearing", NotHere, "an act says where its shim goes"},
		{"cone or cup spun in its seat", NotHere, "fits do not wear"},
		{"threaded ring cross-threaded", NotHere, "threads are sound"},
		{"drive and coast flank confused", NotHere, "the bench names the flanks"},
		{"timing marks not paired", NotHere, "teeth are all alike"},
		{"bearing bores out of line", NotHere, "nothing on the bench would cure it"},
		{"lock of a ring or cap missing", NotHere, "locks are not modelled"},
		{"thrust screw touching the gear", NotHere, "no thrust screw"},
		{"limited-slip clutch pack felt as drag", NotHere, "no differential inside the case"},
		{"wrong oil, or none, before the first run", NotHere, "the job ends at the bench"},
	}
}
