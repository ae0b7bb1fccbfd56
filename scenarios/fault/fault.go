package fault

import (
	"fmt"
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/rng"
	"shimwright/sim/shop"
	"shimwright/sim/truth"
)

// ID names a fault state.
type ID = truth.FaultID

// Area says which part of the job a fault belongs to.
type Area string

// The areas of the job.
const (
	Depth     Area = "pinion depth"
	Spacer    Area = "collapsible spacer"
	SideShims Area = "side shims"
	Runout    Area = "runout"
	GearSet   Area = "gear set"
	Seating   Area = "seating"
	Measuring Area = "measuring"
)

// Strength says how well an entry is founded.
type Strength string

// The strengths of a source.
const (
	Manual   Strength = "manual"
	Standard Strength = "standard"
	Practice Strength = "common practice, no source"
	Memory   Strength = "from memory"
)

// A Job is what of a job decides which faults it can bring.
type Job struct {
	UsedBearings bool // the pinion bearings go back in
	UsedGears    bool // ring and pinion go back in
	DepthGiven   bool // the depth shim has been chosen, and the pinion bearings not looked at
	CaseIn       bool // it begins with the case in
}

// On tells whether a job on an axle of a design can bring the fault.
func (f Fault) On(d family.Design, j Job) bool {
	return (f.Has == nil || f.Has(d)) && (f.Needs == nil || f.Needs(j))
}

// A Fault is one row of the catalogue.
type Fault struct {
	ID         truth.FaultID
	Name       string
	Area       Area
	Cause      string
	Shows      string // what it does to the readings, in words
	TakenFor   string // the look-alike
	Told       string // the test that separates it, in words
	Test       act.Form
	Cure       act.Form
	Remedy     string
	Missed     string // what happens if the axle goes out with it
	Lesson     string
	Difficulty int          // 1 one odd reading that points at itself, to 5 nothing on the bench cures it
	Strength   Strength     // how well cause, signs and remedy are known
	Source     string       // where they are written, if they are
	BaseRate   float64      // probability that a job carries it
	Late       shop.Minutes // what it costs on average when it is found late, or by the customer
	Low, High  float64      // size, in Unit
	Unit       string

	// Has tells whether axles of a design can carry the fault; nil for all.
	Has func(family.Design) bool
	// Needs tells whether a job can bring it; nil for all.
	Needs func(Job) bool
	// Not lists faults that cannot stand beside this one; each names the other.
	Not []truth.FaultID
	// bySpread: the size goes with the backlash spread that the sheet allows.
	bySpread bool
	// Apply puts the fault into the hidden state.
	Apply func(x *truth.Axle, size float64, s rng.Source)
}

// Find returns the fault with the given id.
func Find(id truth.FaultID) (Fault, error) {
	var ids []string
	for _, f := range All() {
		if f.ID == id {
			return f, nil
		}
		ids = append(ids, string(f.ID))
	}
	return Fault{}, fmt.Errorf("fault %q is not in the catalogue: there are %s", id, strings.Join(ids, ", "))
}

// Sizes returns the range of the fault's size on an axle with a sheet. Runout goes with
// what the sheet allows: what is a fault on a light axle is nothing on a heavy one.
func (f Fault) Sizes(sh family.Sheet) (low, high float64) {
	const runoutMM, spreadMM = 0.0762, 0.0508 // allowed on the axle that Low and High are for
	times := 1.0
	switch {
	case f.bySpread:
		times = sh.BacklashSpreadMM / spreadMM
	case f.Area == Runout:
		times = sh.RunoutMM / runoutMM
	}
	return f.Low * times, f.High * times
}

// For lists the faults that axles of a design can carry, in the order of the job.
func For(d family.Design) []Fault {
	var out []Fault
	for _, f := range All() {
		if f.Has == nil || f.Has(d) {
			out = append(out, f)
		}
	}
	return out
}

func spread(d family.Design) bool { return d.Entry == family.Spreader }

func collapsible(d family.Design) bool { return d.Preload == family.CollapsibleSpacer }

func underInner(d family.Design) bool { return d.DepthShim != family.UnderCageFlange }

func sideShims(d family.Design) bool { return d.SideAdjust != family.BearingAdjusters }

func newGears(j Job) bool { return !j.UsedGears }

// burrHoldN is what a cup stopped on a burr stands before it moves: more than the
// fit alone, so that bench preload leaves it and the first load on the road does
// not (estimate).
func burrHoldN(s rng.Source) float64 { return s.Uniform(9_000, 16_000) }

// All lists the catalogue in the order of the job.
func All() []Fault {
	return []Fault{
		{
			ID: truth.InnerCupHigh, Name: "head bearing cup not home", Area: Seating,
			Cause:    "the cup stopped on a burr or was driven in crooked",
			Shows:    "the pinion sits deeper than its shim says and preload comes up early; when the cup goes home later, both are lost",
			TakenFor: "a depth shim that is too thick",
			Told:     "a feeler behind the cup; the shim itself measures right",
			Test:     act.InspectCups, Cure: act.SeatCups,
			Remedy: "drive the cup home and measure the depth again",
			Missed: "the cup settles on the road: depth and preload go together, and the gears whine",
			Lesson: "inspect-first", BaseRate: 0.05, Late: 150, Low: 0.06, High: 0.16, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.InnerCupGapMM, x.InnerCupHoldN = size, burrHoldN(s)
			},
		},
		{
			ID: truth.OuterCupHigh, Name: "tail bearing cup not home", Area: Seating,
			Cause:    "the cup stopped short on the flange side",
			Shows:    "nothing in the depth; preload comes early and drops away when the cup settles",
			TakenFor: "a spacer that crushes too easily",
			Told:     "a feeler behind the cup",
			Test:     act.InspectCups, Cure: act.SeatCups,
			Remedy: "drive the cup home, then a new spacer if one has been crushed",
			Missed: "the pinion works loose and the seal leaks",
			Lesson: "inspect-first", BaseRate: 0.04, Late: 130, Low: 0.05, High: 0.14, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.OuterCupGapMM, x.OuterCupHoldN = size, burrHoldN(s)
			},
		},
		{
			ID: truth.DirtUnderShim, Name: "dirt under the depth shim", Area: Depth,
			Cause:    "the seat was not stoned and wiped before the shim went on, or the shim has a wrinkle",
			Shows:    "the pinion stands off as if the shim were thicker, though the micrometer says it is not",
			TakenFor: "a shim of the wrong thickness, or a bearing of another height",
			Told:     "a look at the bare seat; the shim itself measures right",
			Test:     act.InspectShimSeat, Cure: act.CleanShimSeat,
			Remedy: "stone and wipe seat and shim, and gauge the depth again",
			Missed: "the dirt beds in and the depth goes with it, and some of the preload",
			Lesson: "inspect-first", BaseRate: 0.05, Late: 90, Low: 0.04, High: 0.09, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.ShimDirtMM = size },
		},
		{
			ID: truth.SetUpBearingOff, Name: "set-up bearing of another height", Area: Depth,
			Cause:    "the slip-fit bearing used for trials is not as tall as the one that stays",
			Shows:    "the depth is right in the trial build and wrong in the final one",
			TakenFor: "a mistake with the depth shim",
			Told:     "measure both bearings, or read the depth again after the final build",
			Test:     act.MeasureBearings, Cure: act.FitDepthShim,
			Remedy: "allow for the difference when the shim is chosen",
			Missed: "the print is high or low and one flank wears at its edge",
			Lesson: "depth-gauge", BaseRate: 0.05, Late: 90, Low: 0.05, High: 0.11, Unit: "mm",
			Difficulty: 4, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				if s.Whole(2) == 0 {
					size = -size
				}
				x.SetUpTallMM = size
			},
		},
		{
			ID: truth.ShimsRunThick, Name: "depth shims thicker than marked", Area: Depth,
			Cause:    "a packet from another lot, or a film of preservative on every shim",
			Shows:    "the pinion sits deeper than the arithmetic says",
			TakenFor: "a bearing of another height",
			Told:     "a micrometer on the shim in hand",
			Test:     act.MeasureDepthShim, Cure: act.FitDepthShim,
			Remedy: "go by the micrometer, not by the marking",
			Missed: "the print is low on both flanks",
			Lesson: "depth-mark", BaseRate: 0.05, Late: 45, Low: 0.04, High: 0.09, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.DepthLotMM = size },
		},
		{
			ID: truth.SlingerOut, Name: "oil slinger left out", Area: Depth,
			Cause:    "it stuck to the old cone or cup and went out with it",
			Shows:    "the pinion stands out of its place by the slinger's thickness, far more than any mark or shim accounts for",
			TakenFor: "a depth shim of quite another size",
			Told:     "a look at the seat: the slinger belongs there with the shim",
			Test:     act.InspectShimSeat, Cure: act.ReplaceSlinger,
			Remedy: "put the slinger in, and reckon the shim as before",
			Missed: "shims in its place set the depth, but the bearing beside it gets no oil",
			Lesson: "inspect-first", BaseRate: 0.02, Late: 120, Low: 0.5, High: 0.8, Unit: "mm", Has: underInner,
			Difficulty: 2, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.SlingerOutMM = size },
		},
		{
			ID: truth.GaugeOff, Name: "chip under the gauge's arbor", Area: Measuring,
			Cause:    "the bores were not wiped before the arbor was laid in them",
			Shows:    "the gauge shows the pinion further out than it is, in the trial and in the final build alike",
			TakenFor: "a shim that is too thin, or a set-up bearing that is too short",
			Told:     "the gauge on its setting block with the arbor in clean bores; the print, which knows no gauge",
			Test:     act.TestGauge, Cure: act.TestGauge,
			Remedy: "wipe bores and arbor, and gauge again",
			Missed: "the pinion goes in too deep by what the gauge was out",
			Lesson: "trust-instruments", BaseRate: 0.03, Late: 70, Low: 0.05, High: 0.11, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.GaugeOffMM = size },
		},
		{
			ID: truth.SetMixed, Name: "ring and pinion of two sets", Area: GearSet,
			Cause:    "two sets lay on one bench, or a box was filled from two",
			Shows:    "a print that stands high on one flank and low on the other: no shim brings both right",
			TakenFor: "a wrong depth",
			Told:     "the set numbers on ring and pinion; a wrong depth moves both prints the same way",
			Test:     act.InspectGears, Cure: act.ReplaceGears,
			Remedy: "a ring and pinion that were lapped together",
			Missed: "noise for life, and teeth that pit where they carry",
			Lesson: "inspect-first", BaseRate: 0.02, Late: 200, Low: 0.24, High: 0.40, Unit: "of the tooth", Needs: newGears, Not: []truth.FaultID{truth.GearForOther},
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.MixedShare = size
				if s.Whole(2) == 0 {
					size = -size
				}
				x.Drive.CenterT += size / 2
				x.Coast.CenterT -= size / 2
			},
		},
		{
			ID: truth.GearForOther, Name: "ring gear for another case", Area: GearSet,
			Cause:    "one axle is made with cases of two flange heights, and the set is for the other",
			Shows:    "with the old side shims far too much backlash, and no shims on the shelf to take it up",
			TakenFor: "side shims changed over",
			Told:     "the tag on the ring gear against the case",
			Test:     act.InspectGears, Cure: act.ReplaceGears,
			Remedy: "the set that belongs to this case",
			Missed: "the axle cannot be set, and all work on it was for nothing",
			Lesson: "inspect-first", BaseRate: 0.02, Late: 180, Low: 0.9, High: 1.6, Unit: "mm", Has: sideShims, Needs: newGears, Not: []truth.FaultID{truth.SetMixed},
			Difficulty: 2, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.GearShortMM = size },
		},
		{
			ID: truth.PinionBent, Name: "pinion stem bent", Area: Runout,
			Cause:    "the pinion was dropped, or pressed out against its nut",
			Shows:    "backlash that rises and falls with every turn of the pinion, while back face and rim of the ring gear are true",
			TakenFor: "a ring gear off its centre, or dirt behind it",
			Told:     "the pinion in vee blocks under the indicator",
			Test:     act.MeasurePinionRunout, Cure: act.ReplaceGears,
			Remedy: "another ring and pinion: a bent pinion is not straightened",
			Missed: "it shakes at every turn of the propeller shaft and the seal leaks",
			Lesson: "runout", BaseRate: 0.02, Late: 200, Low: 0.10, High: 0.18, Unit: "mm TIR", Needs: newGears, bySpread: true,
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.PinionTIRMM, x.PinionPhaseRad = size, s.Uniform(0, 6.28)
			},
		},
		{
			ID: truth.SpacerCrushed, Name: "kit spacer crushed before", Area: Spacer,
			Cause:    "somebody put the old spacer back in the box",
			Shows:    "preload comes at a low nut torque, or all at once, and little clamp holds the stack",
			TakenFor: "a soft spacer",
			Told:     "look at the bulge and measure the free length",
			Test:     act.InspectSpacer, Cure: act.ReplaceSpacer,
			Remedy: "a new spacer and a new nut",
			Missed: "the nut and the inner rings work loose",
			Lesson: "crush-spacer", BaseRate: 0.05, Late: 75, Low: 0.45, High: 0.90, Unit: "mm", Has: collapsible, Not: []truth.FaultID{truth.SpacerShort},
			Difficulty: 3, Strength: Manual, Source: "TM 9-2320-280-34, para 19-3, p 19-21: spacer and nut new each time",
			Apply: func(x *truth.Axle, size float64, _ rng.Source) {
				if len(x.Spacers) > 0 {
					x.Spacers[0].AlreadyCrushedMM = size
				}
			},
		},
		{
			ID: truth.SpacerShort, Name: "kit spacer for another axle", Area: Spacer,
			Cause:    "kits of two axles look alike in the box",
			Shows:    "preload comes before the spacer has begun to crush, at a low nut torque",
			TakenFor: "a spacer that has been crushed before",
			Told:     "its free length against the sheet; it is bright and its bulge unmarked",
			Test:     act.InspectSpacer, Cure: act.ReplaceSpacer,
			Remedy: "the spacer that belongs to this axle, and a new nut",
			Missed: "hardly any clamp holds the stack, and nut and inner rings work loose",
			Lesson: "crush-spacer", BaseRate: 0.02, Late: 75, Low: 0.70, High: 1.10, Unit: "mm", Has: collapsible, Not: []truth.FaultID{truth.SpacerCrushed},
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) {
				if len(x.Spacers) > 0 {
					x.Spacers[0].ShorterMM = size
				}
			},
		},
		{
			ID: truth.NutUsed, Name: "pinion nut used before", Area: Spacer,
			Cause:    "the old nut went back in the box, or was thought good for another time",
			Shows:    "the nut turns with less torque all the way, by what a new one grips",
			TakenFor: "a soft spacer",
			Told:     "a new nut cannot be spun down its thread by hand",
			Test:     act.InspectSpacer, Cure: act.ReplaceSpacer,
			Remedy: "a new nut, and a new spacer with it if one has been crushed",
			Missed: "the nut works back on the road, and clamp and preload with it",
			Lesson: "crush-spacer", BaseRate: 0.05, Late: 75, Low: 1, High: 1, Unit: "", Has: collapsible,
			Difficulty: 2, Strength: Manual, Source: "TM 9-2320-280-34, para 19-3, p 19-21: spacer and nut new each time",
			Apply: func(x *truth.Axle, _ float64, _ rng.Source) { x.NutGripGone = true },
		},
		{
			ID: truth.PackingGrease, Name: "packing grease in pinion bearings", Area: Measuring,
			Cause:    "the bearings were fitted as they came out of the wrapper",
			Shows:    "every drag reading is high by the churning of the grease",
			TakenFor: "too much preload",
			Told:     "look at the rollers",
			Test:     act.InspectBearings, Cure: act.WashBearings,
			Remedy: "wash, dry, oil, and read again",
			Missed: "preload is set low by what the grease took",
			Lesson: "rotating-torque", BaseRate: 0.05, Late: 60, Low: 1, High: 1, Unit: "",
			Difficulty: 2, Strength: Practice,
			Apply: func(x *truth.Axle, _ float64, _ rng.Source) { x.PackedInGrease = true },
		},
		{
			ID: truth.BearingGritty, Name: "grit in the pinion bearings", Area: Measuring,
			Cause:    "they lay open on the bench beside a grinder",
			Shows:    "rotating torque that catches and lets go, and grates in the hand",
			TakenFor: "a dented track",
			Told:     "washed, it turns smoothly; a dented one does not",
			Test:     act.InspectBearings, Cure: act.WashBearings,
			Remedy: "wash, dry, oil, and try again",
			Missed: "the grit dents the tracks in the first mile",
			Lesson: "rotating-torque", BaseRate: 0.03, Late: 90, Low: 300, High: 900, Unit: "N·mm",
			Difficulty: 1, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.GritNmm = size },
		},
		{
			ID: truth.BearingNotched, Name: "dented track in a new bearing", Area: Measuring,
			Cause:    "the box was dropped, or the bearing was driven on through its rollers",
			Shows:    "rotating torque that swings within every turn of the pinion, and a notch in the hand",
			TakenFor: "grease or dirt in the bearing, or a nipped cup",
			Told:     "a washed bearing still turns with a notch; the swing comes at every turn of the pinion",
			Test:     act.InspectBearings, Cure: act.ReplaceBearings,
			Remedy: "another pair, cones and cups; measure it and gauge the depth again",
			Missed: "it growls from the first mile and sheds its track",
			Lesson: "rotating-torque", BaseRate: 0.04, Late: 180, Low: 400, High: 900, Unit: "N·mm",
			Needs:      func(j Job) bool { return !j.UsedBearings && !j.DepthGiven },
			Difficulty: 2, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.NotchNmm = size },
		},
		{
			ID: truth.SealTight, Name: "pinion seal lip turned under", Area: Measuring,
			Cause:    "the seal was started dry over a burr",
			Shows:    "drag in the final build is high and steady",
			TakenFor: "too much preload",
			Told:     "look at the lip before it goes under the flange",
			Test:     act.InspectSeal, Cure: act.ReplaceSeal,
			Remedy: "a new seal with its lip oiled",
			Missed: "preload is set low by the seal's extra drag, and the lip burns",
			Lesson: "rotating-torque", BaseRate: 0.05, Late: 60, Low: 500, High: 1100, Unit: "N·mm",
			Difficulty: 2, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.SealDragNmm = x.NewSealDragNmm + size },
		},
		{
			ID: truth.WrenchOut, Name: "low-range wrench out of calibration", Area: Measuring,
			Cause:    "it was dropped, or its zero was bent back by hand",
			Shows:    "every drag reading taken with it is off by the same part",
			TakenFor: "preload that needs correcting",
			Told:     "read the same drag with cord and scale",
			Test:     act.MeasureTorque, Cure: act.MeasureTorque,
			Remedy: "trust the cord and scale, and send the wrench away",
			Missed: "preload is wrong by as much as the wrench is",
			Lesson: "trust-instruments", BaseRate: 0.05, Late: 70, Low: 0.16, High: 0.28, Unit: "of the reading",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				if s.Whole(2) == 0 {
					size = -size
				}
				x.WrenchGain = size
			},
		},
		{
			ID: truth.StringOff, Name: "cord on another radius", Area: Measuring,
			Cause:    "the cord winds on another step of the flange than the one that was measured",
			Shows:    "every drag reading taken with it is off by the same part",
			TakenFor: "a wrench out of calibration, or preload that needs correcting",
			Told:     "measure the radius where the cord really lies",
			Test:     act.TestString, Cure: act.TestString,
			Remedy: "wind it on the radius that is reckoned with, and read again",
			Missed: "preload is wrong by as much as the radius is",
			Lesson: "trust-instruments", BaseRate: 0.04, Late: 70, Low: 0.16, High: 0.28, Unit: "of the reading",
			Difficulty: 3, Strength: Manual, Source: "TM 5-3810-300-24&P2, about p 4-256: torque is pull times radius",
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				if s.Whole(2) == 0 {
					size = -size
				}
				x.StringGain = size
			},
		},
		{
			ID: truth.SideConeHigh, Name: "back side-bearing cone not home", Area: SideShims,
			Cause:    "the press stopped on a burr at the case journal",
			Shows:    "acts like a thicker back shim: less backlash and more side preload, until it goes home",
			TakenFor: "a side shim mistake",
			Told:     "a feeler behind the cone",
			Test:     act.InspectCones, Cure: act.SeatCones,
			Remedy: "press it home and choose the side shims again",
			Missed: "the cone creeps home, side preload goes and the backlash grows",
			Lesson: "side-shims", BaseRate: 0.05, Late: 150, Low: 0.08, High: 0.20, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.RingGearConeGapMM = size },
		},
		{
			ID: truth.OppositeConeHigh, Name: "tooth-side bearing cone not home", Area: SideShims,
			Cause:    "the press stopped on a burr at the case journal",
			Shows:    "acts like a thicker shim on the tooth side: more backlash and more side preload, until it goes home",
			TakenFor: "a side shim mistake",
			Told:     "a feeler behind the cone",
			Test:     act.InspectCones, Cure: act.SeatCones,
			Remedy: "press it home and choose the side shims again",
			Missed: "the cone creeps home, side preload goes and the backlash shrinks",
			Lesson: "side-shims", BaseRate: 0.04, Late: 150, Low: 0.08, High: 0.20, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.OppositeConeGapMM = size },
		},
		{
			ID: truth.CapsSwapped, Name: "side-bearing caps changed over", Area: SideShims,
			Cause:    "the caps were not marked at teardown",
			Shows:    "total drag goes tight once a turn and backlash will not repeat",
			TakenFor: "too much side preload",
			Told:     "the witness marks of cap and housing do not meet",
			Test:     act.InspectCaps, Cure: act.MatchCaps,
			Remedy: "each cap to its own side, right way up",
			Missed: "the cups are nipped oval and fail early",
			Lesson: "inspect-first", BaseRate: 0.04, Late: 110, Low: 1, High: 1, Unit: "",
			Difficulty: 3, Strength: Manual, Source: "TM 9-2320-289-34, para 6-5; TM 9-2320-260-34-1, para 10-8: caps belong to their own places",
			Apply: func(x *truth.Axle, _ float64, _ rng.Source) { x.CapsSwapped = true },
		},
		{
			ID: truth.CapTurned, Name: "side-bearing cap end for end", Area: SideShims,
			Cause:    "the cap was put back without a look at its mark",
			Shows:    "total drag goes tight once a turn and backlash will not repeat, both less than with caps changed over",
			TakenFor: "caps changed over, or too much side preload",
			Told:     "the mark is on the right cap, at the wrong end",
			Test:     act.InspectCaps, Cure: act.MatchCaps,
			Remedy: "turn the cap round",
			Missed: "its cup is nipped oval and fails early",
			Lesson: "inspect-first", BaseRate: 0.04, Late: 110, Low: 1, High: 1, Unit: "",
			Difficulty: 2, Strength: Manual, Source: "TM 9-2320-289-34, para 6-5; TM 9-2320-260-34-1, para 10-8: caps belong to their own places",
			Apply: func(x *truth.Axle, _ float64, _ rng.Source) { x.CapRotated = true },
		},
		{
			ID: truth.HousingSpread, Name: "housing once spread too far", Area: SideShims,
			Cause:    "somebody opened it past its limit, and it has stayed wider",
			Shows:    "the old side shims go in loose: end play where there should be preload",
			TakenFor: "old side shims that were too thin",
			Told:     "the end play of a known pack; nothing else moved, and both sides lack alike",
			Test:     act.MeasureEndPlay, Cure: act.FitSideShims,
			Remedy: "a little is made up with shims both sides; more than that is a new housing",
			Missed: "the case floats and the ring gear with it",
			Lesson: "side-shims", BaseRate: 0.06, Late: 80, Low: 0.04, High: 0.10, Unit: "mm", Has: spread,
			Difficulty: 4, Strength: Memory,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.HousingGrowthMM = size },
		},
		{
			ID: truth.DirtBehindGear, Name: "chip between ring gear and case", Area: Runout,
			Cause:    "the faces were not stoned and wiped before the gear was bolted on",
			Shows:    "back-face runout, and backlash that rises and falls once a turn",
			TakenFor: "a bent case flange",
			Told:     "take the gear off, clean, and read the bare flange",
			Test:     act.MeasureRunout, Cure: act.CleanRingGear,
			Remedy: "clean both faces and bolt the gear on again with new bolts",
			Missed: "a cyclic whine, and bolts that work loose",
			Lesson: "runout", BaseRate: 0.05, Late: 80, Low: 0.10, High: 0.20, Unit: "mm TIR",
			Difficulty: 2, Strength: Manual, Source: "TM 9-2320-289-34, para 6-5, p 6-21, steps 15 and 16",
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.GearDirtTIRMM, x.DirtPhaseRad = size, s.Uniform(0, 6.28)
			},
		},
		{
			ID: truth.BoltsUneven, Name: "ring gear bolts uneven", Area: Runout,
			Cause:    "old stretched bolts, oil in the threads, or no order in tightening them",
			Shows:    "back-face runout, and backlash that rises and falls once a turn",
			TakenFor: "dirt behind the ring gear",
			Told:     "a wrench on every bolt: some turn on well below their torque",
			Test:     act.InspectBolts, Cure: act.CleanRingGear,
			Remedy: "new bolts in clean threads, up in stages",
			Missed: "bolts shear, and one loose in the axle can lock it",
			Lesson: "runout", BaseRate: 0.04, Late: 80, Low: 0.10, High: 0.18, Unit: "mm TIR",
			Difficulty: 2, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.BoltsTIRMM, x.BoltsPhaseRad = size, s.Uniform(0, 6.28)
			},
		},
		{
			ID: truth.BoltsLong, Name: "ring gear bolts too long", Area: Runout,
			Cause:    "bolts of another case, or washers left out: they reach the bottom of their holes before they clamp",
			Shows:    "every bolt is at its torque and backlash will not repeat: the gear lies differently on its case each time",
			TakenFor: "a loose indicator arm, or uneven bolts",
			Told:     "the gear moves under the hand though its bolts hold; the flick test clears the indicator",
			Test:     act.InspectBolts, Cure: act.CleanRingGear,
			Remedy: "new bolts of the right length in clean threads, up in stages",
			Missed: "the gear works on its case until the bolts shear, and one loose in the axle can lock it",
			Lesson: "runout", BaseRate: 0.02, Late: 120, Low: 0.04, High: 0.07, Unit: "mm",
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.GearLooseMM = size },
		},
		{
			ID: truth.BentFlange, Name: "differential case flange bent", Area: Runout,
			Cause:    "the case was dropped, or the axle has been in a crash",
			Shows:    "back-face runout and backlash that rises and falls once a turn; cleaning does not cure it",
			TakenFor: "dirt behind the ring gear",
			Told:     "runout of the bare flange",
			Test:     act.MeasureCaseRunout, Cure: act.ReplaceCase,
			Remedy: "a new case",
			Missed: "a cyclic noise and worn side bearings",
			Lesson: "runout", BaseRate: 0.04, Late: 80, Low: 0.11, High: 0.20, Unit: "mm TIR",
			Difficulty: 3, Strength: Manual, Source: "TM 9-2320-289-34, para 6-5, p 6-21, steps 15 and 16; TM 9-2320-280-34, p 19-22",
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.FlangeTIRMM, x.FlangePhaseRad = size, s.Uniform(0, 6.28)
			},
		},
		{
			ID: truth.GearWarped, Name: "ring gear warped", Area: Runout,
			Cause:    "it was warmed with a torch, or forced over a register that was too tight",
			Shows:    "back face and backlash rise and fall twice a turn; cleaning does not cure it, and the bare flange is true",
			TakenFor: "dirt behind the ring gear, or a bent flange",
			Told:     "the gear on a flat plate: it rocks; two waves in a turn instead of one",
			Test:     act.MeasureCaseRunout, Cure: act.ReplaceGears,
			Remedy: "another ring and pinion of one set",
			Missed: "a noise twice in every turn of the wheel",
			Lesson: "runout", BaseRate: 0.02, Late: 200, Low: 0.11, High: 0.20, Unit: "mm TIR", Needs: newGears,
			Difficulty: 3, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.WarpTIRMM, x.WarpWaves, x.WarpPhaseRad = size, 2, s.Uniform(0, 6.28)
			},
		},
		{
			ID: truth.GearOffCenter, Name: "ring gear not down on its register", Area: Runout,
			Cause:    "it was drawn on by one bolt, over a burr on the register",
			Shows:    "backlash that rises and falls once a turn, while the back face is true; the print climbs and falls round the gear",
			TakenFor: "dirt behind the ring gear, or a bent pinion",
			Told:     "the rim under the indicator",
			Test:     act.MeasureRadialRunout, Cure: act.CleanRingGear,
			Remedy: "gear off, stone the register, draw it on evenly with new bolts",
			Missed: "a cyclic whine, and teeth that carry high and low by turns",
			Lesson: "runout", BaseRate: 0.02, Late: 80, Low: 0.22, High: 0.34, Unit: "mm TIR", bySpread: true,
			Difficulty: 4, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, s rng.Source) {
				x.RadialTIRMM, x.RadialPhaseRad = size, s.Uniform(0, 6.28)
			},
		},
		{
			ID: truth.IndicatorLoose, Name: "indicator arm loose", Area: Measuring,
			Cause:    "the clamp was never tightened after the last job",
			Shows:    "readings with the indicator scatter and will not repeat",
			TakenFor: "loose side bearings or runout",
			Told:     "the flick test",
			Test:     act.TestIndicator, Cure: act.TestIndicator,
			Remedy: "tighten the joint and read again",
			Missed: "backlash and runout are judged from noise",
			Lesson: "trust-instruments", BaseRate: 0.05, Late: 40, Low: 1, High: 1, Unit: "",
			Difficulty: 1, Strength: Practice,
			Apply: func(x *truth.Axle, _ float64, _ rng.Source) { x.IndicatorLoose = true },
		},
		{
			ID: truth.BrakesOn, Name: "axle shaft and brake left on", Area: Measuring,
			Cause:    "a shaft was put in again before the axle was measured",
			Shows:    "total drag far above the pinion's, though the side shims are right",
			TakenFor: "too much side preload",
			Told:     "a look at the wheel ends; the spread of the housing is as it should be",
			Test:     act.InspectShafts, Cure: act.RemoveShafts,
			Remedy: "draw the shafts clear and read again",
			Missed: "side shims are taken out that belong in, and the case floats",
			Lesson: "total-torque", BaseRate: 0.08, Late: 60, Low: 4000, High: 12000, Unit: "N·mm",
			Needs:      func(j Job) bool { return j.CaseIn },
			Difficulty: 1, Strength: Practice,
			Apply: func(x *truth.Axle, size float64, _ rng.Source) { x.BrakeNmm = size },
		},
	}
}
