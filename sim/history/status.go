package history

import (
	"shimwright/sim/act"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// PinionBuild says how the pinion stands in the housing.
type PinionBuild string

// The ways a pinion can be built in.
const (
	PinionOut    PinionBuild = "out"
	PinionMockUp PinionBuild = "mock-up"
	PinionFinal  PinionBuild = "final"
)

// A Goal is how far an axle has to be before it can be signed off.
type Goal string

// The goals. The zero value is the whole axle.
const (
	WholeAxle   Goal = ""
	DepthChosen Goal = "depth"   // the depth shim is in hand
	PinionSet   Goal = "preload" // the pinion is in its final assembly
)

// A Mount is how the dial indicator stands for a backlash reading.
type Mount struct {
	Place, Plunger, Pinion act.Option
}

// Nut is what anyone knows of the pinion nut of the present build.
type Nut struct {
	Torque    quantity.Torque // shown at the end of the last pull, 0 before one
	Moved     bool            // since the pinion went in
	Back      bool            // it has been loosened and not taken past where it was
	BackDeg   float64         // how far it stands back of the furthest it has been, by the marks
	Read      bool            // torque has been read since it last moved
	Contact   bool            // it has been tightened past the end play, by feel
	Unsettled bool            // tightened, and the pinion not turned since
}

// Changes counts what has been changed on the axle: a reading is fresh as long as the
// counts that it depends on stand where they stood.
type Changes struct {
	Parts   int // bearings, cups, gears, case: what the axle is made of
	Depth   int // depth shim, pinion in and out
	Preload int // nut, spacer, preload shims, pinion in and out
	Sides   int // side shims, adjusters, caps, case in and out
}

// Status is what anyone at the bench can see without measuring.
type Status struct {
	Pinion           PinionBuild
	DepthShim        quantity.Length // marked size of the shim chosen last, 0 if none
	PreloadShims     quantity.Length // solid spacer: marked size of the preload shims, 0 if none
	RingGearShim     quantity.Length // side shims in hand
	OppositeShim     quantity.Length
	RingGearNotches  float64         // bearing adjusters: notches in since they were first run up by hand
	OppositeNotches  float64         //
	AdjustersUp      bool            // they have been run up once
	Spread           quantity.Length // the spreader stands open by this, 0 if it is off
	CaseIn           bool
	CapsTight        bool
	Indicator        *Mount     // nil: not mounted
	Compound         act.Option // "" for bare teeth, else Thin or Thick
	Turns            float64    // of the pinion since it went in
	Nut              Nut
	NutBackedOff     bool // the nut of this final assembly has been loosened and not taken past where it was
	SpacersUsed      int
	Builds, CaseFits int // how often the pinion, and the case, have been fitted
	Changes          Changes
	Minutes          shop.Minutes
	PartsMinutes     shop.Minutes
	Parts            []shop.Part
	Sheet            []Entry // the build sheet as written so far
	SignedOff        bool
	Acts             int
}

// An Entry is one line of the build sheet.
type Entry struct {
	Item  act.Option
	Value quantity.Entered
}

// Written returns a line of the build sheet.
func (s Status) Written(item act.Option) (quantity.Entered, bool) {
	for _, e := range s.Sheet {
		if e.Item == item {
			return e.Value, true
		}
	}
	return quantity.Entered{}, false
}
