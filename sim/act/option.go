package act

// An Option is a word that an act offers a choice of, in the spelling that is typed.
type Option string

// The options.
const (
	MockUp Option = "mock-up" // set-up bearing, nothing to crush
	Final  Option = "final"

	Rotating  Option = "rotating"  // torque to keep a shaft turning
	Breakaway Option = "breakaway" // peak to get it moving
	Wrench    Option = "wrench"    // low-range torque wrench
	String    Option = "string"    // string and spring scale

	In  Option = "in"
	Out Option = "out"

	Heel       Option = "heel"
	Middle     Option = "middle"
	Toe        Option = "toe"
	Square     Option = "square" // plunger square to the tooth
	Along      Option = "along"  // plunger along the ring gear's travel
	Tilted     Option = "tilted"
	PinionHeld Option = "pinion-held"
	PinionFree Option = "pinion-free"

	Thin   Option = "thin"
	Thick  Option = "thick"
	Braked Option = "braked"
	Free   Option = "free"
)

// The lines of a build sheet.
const (
	DepthShimLine     Option = "depth-shim"
	PreloadShimsLine  Option = "preload-shims"
	RingGearShimLine  Option = "ring-gear-shim"
	OppositeShimLine  Option = "opposite-shim"
	PinionTorqueLine  Option = "pinion-torque"
	TotalTorqueLine   Option = "total-torque"
	BacklashLine      Option = "backlash"
	RunoutLine        Option = "runout"
	PatternHeightLine Option = "pattern"
)
