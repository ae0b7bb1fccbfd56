package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of runout.
const (
	PinionBent     ID = "pinion-bent"
	DirtBehindGear ID = "dirt-behind-ring-gear"
	BoltsUneven    ID = "ring-gear-bolts-uneven"
	BoltsLong      ID = "ring-gear-bolts-too-long"
	BentFlange     ID = "bent-case-flange"
	GearWarped     ID = "ring-gear-warped"
	GearOffCenter  ID = "ring-gear-off-center"
)

// phase is where on its turn a part runs out most, radians.
func phase(s rng.Source) float64 { return s.Uniform(0, 6.28) }

// bolted lists the acts beside cleaning that bolt a ring gear on clean.
func bolted() []act.Form { return []act.Form{act.MeasureCaseRunout, act.ReplaceCase, act.ReplaceGears} }

// PinionRunoutLimitMM is the runout in V-blocks above which a pinion counts as bent, mm: as
// much as the specification lets backlash vary (common practice, no source).
func PinionRunoutLimitMM(sh family.Sheet) float64 { return sh.BacklashSpreadMM }

func pinionBent() Fault {
	return Fault{
		ID: PinionBent, Area: Runout, Stage: BeforePinion,
		Name:     text.Say("fault.pinion-bent.name", "pinion shaft bent"),
		Cause:    text.Say("fault.pinion-bent.cause", "The pinion was dropped, or it was pressed out against its nut."),
		Shows:    text.Say("fault.pinion-bent.shows", "Backlash rises and falls once per turn of the pinion, several times per turn of the ring gear. The ring gear runs true at its back face and at its outside."),
		TakenFor: text.Say("fault.pinion-bent.taken-for", "a ring gear that is not seated on its pilot, or dirt behind it"),
		Told:     text.Say("fault.pinion-bent.told", "The variation repeats with every turn of the pinion. Turn the pinion in V-blocks under the dial indicator."),
		Remedy:   text.Say("fault.pinion-bent.remedy", "Fit another matched set. A bent pinion is not straightened."),
		Missed:   text.Say("fault.pinion-bent.missed", "The yoke shakes the driveshaft once per turn, and the pinion seal leaks."),
		Alikes: []Alike{
			{string(GearOffCenter), text.Say("fault.pinion-bent.like-center", "Backlash rises and falls while the back face runs true."),
				text.Say("fault.pinion-bent.from-center", "Measure the radial runout."), []act.Form{act.MeasureRadialRunout}},
		},
		Test: act.MeasurePinionRunout, Cure: act.ReplaceGears, Lesson: "runout",
		Difficulty: 3, Strength: Practice,
		Rate: 0.02, Late: Late{200, 0.5}, Size: Size{Low: 0.10, High: 0.18, Unit: MMTotal, Scale: ByVariation},
		Needs:     newGears,
		Apply:     func(x *truth.Axle, size float64, s rng.Source) { x.PinionTIRMM, x.PinionPhaseRad = size, phase(s) },
		Mend:      func(x *truth.Axle) { x.PinionTIRMM = 0 },
		Remains:   func(s Standing) bool { return s.Axle.PinionTIRMM > 0 },
		Belief:    Belief{Swings: BacklashAlone},
		Unmodeled: true,
	}
}

func dirtBehindGear() Fault {
	return Fault{
		ID: DirtBehindGear, Area: Runout, Stage: BeforeCase,
		Name:     text.Say("fault.dirt-behind-ring-gear.name", "chip between ring gear and case"),
		Cause:    text.Say("fault.dirt-behind-ring-gear.cause", "The faces were not stoned and wiped before the ring gear was bolted on."),
		Shows:    text.Say("fault.dirt-behind-ring-gear.shows", "There is back-face runout, and backlash rises and falls once per turn of the ring gear."),
		TakenFor: text.Say("fault.dirt-behind-ring-gear.taken-for", "a bent case flange"),
		Told:     text.Say("fault.dirt-behind-ring-gear.told", "Take the ring gear off, clean both faces, and read the runout of the bare case flange."),
		Remedy:   text.Say("fault.dirt-behind-ring-gear.remedy", "Clean both faces, and bolt the ring gear on again with new bolts."),
		Missed:   text.Say("fault.dirt-behind-ring-gear.missed", "The axle whines in time with the wheels, and the ring gear bolts work loose."),
		Alikes: []Alike{
			{string(BentFlange), text.Say("fault.dirt-behind-ring-gear.like-flange", "There is back-face runout once per turn."),
				text.Say("fault.dirt-behind-ring-gear.from-flange", "Measure the case runout."), []act.Form{act.MeasureCaseRunout}},
			{string(BoltsUneven), text.Say("fault.dirt-behind-ring-gear.like-bolts", "There is back-face runout once per turn."),
				text.Say("fault.dirt-behind-ring-gear.from-bolts", "Inspect the bolts."), []act.Form{act.InspectBolts}},
		},
		Test: act.MeasureRunout, Cure: act.CleanRingGear, Also: bolted(), Lesson: "ring-gear-bolts",
		Difficulty: 2, Strength: Manual, Source: text.Verbatim("TM 9-2320-289-34, para 6-5, p 6-21, steps 15 and 16"),
		Rate: 0.05, Late: Late{80, 0.2}, Size: Size{Low: 0.10, High: 0.20, Unit: MMTotal, Scale: ByRunout},
		Apply:   func(x *truth.Axle, size float64, s rng.Source) { x.GearDirtTIRMM, x.DirtPhaseRad = size, phase(s) },
		Mend:    func(x *truth.Axle) { x.GearDirtTIRMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.GearDirtTIRMM > 0 },
		Belief:  Belief{Swings: BackFace},
	}
}

func boltsUneven() Fault {
	return Fault{
		ID: BoltsUneven, Area: Runout, Stage: BeforeCase,
		Name:     text.Say("fault.ring-gear-bolts-uneven.name", "ring gear bolts uneven"),
		Cause:    text.Say("fault.ring-gear-bolts-uneven.cause", "The bolts are old and stretched, there is oil in the threads, or they were not tightened in stages."),
		Shows:    text.Say("fault.ring-gear-bolts-uneven.shows", "There is back-face runout, and backlash rises and falls once per turn of the ring gear."),
		TakenFor: text.Say("fault.ring-gear-bolts-uneven.taken-for", "dirt behind the ring gear"),
		Told:     text.Say("fault.ring-gear-bolts-uneven.told", "Put a torque wrench on every bolt: some turn on well below their torque."),
		Remedy:   text.Say("fault.ring-gear-bolts-uneven.remedy", "Fit new bolts in clean threads, and tighten them in stages."),
		Missed:   text.Say("fault.ring-gear-bolts-uneven.missed", "Bolts shear. A bolt that comes loose in the axle can lock it."),
		Alikes: []Alike{
			{string(BentFlange), text.Say("fault.ring-gear-bolts-uneven.like-flange", "There is back-face runout once per turn."),
				text.Say("fault.ring-gear-bolts-uneven.from-flange", "Inspect the bolts."), []act.Form{act.InspectBolts}},
		},
		Test: act.InspectBolts, Cure: act.CleanRingGear, Also: bolted(), Lesson: "ring-gear-bolts",
		Difficulty: 2, Strength: Practice,
		Rate: 0.04, Late: Late{80, 0.2}, Size: Size{Low: 0.10, High: 0.18, Unit: MMTotal, Scale: ByRunout},
		Apply:   func(x *truth.Axle, size float64, s rng.Source) { x.BoltsTIRMM, x.BoltsPhaseRad = size, phase(s) },
		Mend:    func(x *truth.Axle) { x.BoltsTIRMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.BoltsTIRMM > 0 },
		Belief:  Belief{Swings: BackFace},
	}
}

func boltsLong() Fault {
	return Fault{
		ID: BoltsLong, Area: Runout, Stage: BeforeCase,
		Name:     text.Say("fault.ring-gear-bolts-too-long.name", "ring gear bolts too long"),
		Cause:    text.Say("fault.ring-gear-bolts-too-long.cause", "The bolts belong to a different case, or washers were left out. They reach the bottom of their holes before they clamp."),
		Shows:    text.Say("fault.ring-gear-bolts-too-long.shows", "Every bolt is at its torque, but backlash does not repeat: the ring gear lies differently on its case each time."),
		TakenFor: text.Say("fault.ring-gear-bolts-too-long.taken-for", "a loose indicator arm, or unevenly tightened bolts"),
		Told:     text.Say("fault.ring-gear-bolts-too-long.told", "The ring gear can be moved by hand although its bolts hold. The indicator comes back to its mark when tapped."),
		Remedy:   text.Say("fault.ring-gear-bolts-too-long.remedy", "Fit new bolts of the right length in clean threads, and tighten them in stages."),
		Missed:   text.Say("fault.ring-gear-bolts-too-long.missed", "The ring gear moves on its case until the bolts shear. A bolt that comes loose in the axle can lock it."),
		Alikes: []Alike{
			{string(IndicatorLoose), text.Say("fault.ring-gear-bolts-too-long.like-indicator", "Backlash does not repeat."),
				text.Say("fault.ring-gear-bolts-too-long.from-indicator", "Inspect the bolts."), []act.Form{act.InspectBolts}},
		},
		Test: act.InspectBolts, Cure: act.CleanRingGear, Also: bolted(), Lesson: "ring-gear-bolts",
		Difficulty: 3, Strength: Practice,
		Rate: 0.02, Late: Late{120, 0.35}, Size: Size{Low: 0.04, High: 0.07, Unit: MM, Scale: ByRunout},
		Apply:     func(x *truth.Axle, size float64, _ rng.Source) { x.GearLooseMM = size },
		Mend:      func(x *truth.Axle) { x.GearLooseMM = 0 },
		Remains:   func(s Standing) bool { return s.Axle.GearLooseMM > 0 },
		Unmodeled: true,
	}
}

// newCaseTIRMM is the flange runout of a new case, mm.
const newCaseTIRMM = 0.008

func bentFlange() Fault {
	return Fault{
		ID: BentFlange, Area: Runout, Stage: BeforeCase,
		Name:     text.Say("fault.bent-case-flange.name", "differential case flange bent"),
		Cause:    text.Say("fault.bent-case-flange.cause", "The case was dropped, or the axle has been in a crash."),
		Shows:    text.Say("fault.bent-case-flange.shows", "There is back-face runout, and backlash rises and falls once per turn of the ring gear. Cleaning does not change it."),
		TakenFor: text.Say("fault.bent-case-flange.taken-for", "dirt behind the ring gear"),
		Told:     text.Say("fault.bent-case-flange.told", "Measure the runout of the bare case flange."),
		Remedy:   text.Say("fault.bent-case-flange.remedy", "Fit a new differential case."),
		Missed:   text.Say("fault.bent-case-flange.missed", "The axle is noisy in time with the wheels, and the side bearings wear."),
		Test:     act.MeasureCaseRunout, Cure: act.ReplaceCase, Lesson: "runout",
		Difficulty: 3, Strength: Manual, Source: text.Verbatim("TM 9-2320-289-34, para 6-5, p 6-21, steps 15 and 16; TM 9-2320-280-34, p 19-22"),
		Rate: 0.04, Late: Late{80, 0.2}, Size: Size{Low: 0.11, High: 0.20, Unit: MMTotal, Scale: ByRunout},
		Apply:   func(x *truth.Axle, size float64, s rng.Source) { x.FlangeTIRMM, x.FlangePhaseRad = size, phase(s) },
		Mend:    func(x *truth.Axle) { x.FlangeTIRMM = newCaseTIRMM },
		Remains: func(s Standing) bool { return s.Axle.FlangeTIRMM > s.Sheet.CaseFlangeRunoutMM },
		Belief:  Belief{Swings: BackFace},
	}
}

func gearWarped() Fault {
	return Fault{
		ID: GearWarped, Area: Runout, Stage: BeforeCase,
		Name:     text.Say("fault.ring-gear-warped.name", "ring gear warped"),
		Cause:    text.Say("fault.ring-gear-warped.cause", "It was heated with a torch, or forced over a pilot that was too tight."),
		Shows:    text.Say("fault.ring-gear-warped.shows", "Back-face runout and backlash rise and fall twice per turn. Cleaning does not change it, and the bare case flange runs true."),
		TakenFor: text.Say("fault.ring-gear-warped.taken-for", "dirt behind the ring gear, or a bent case flange"),
		Told:     text.Say("fault.ring-gear-warped.told", "Lay the ring gear on a flat plate: it rocks. The indicator shows two waves in a turn instead of one."),
		Remedy:   text.Say("fault.ring-gear-warped.remedy", "Fit another matched set."),
		Missed:   text.Say("fault.ring-gear-warped.missed", "The axle makes a noise twice in every turn of the wheels."),
		Alikes: []Alike{
			{string(BentFlange), text.Say("fault.ring-gear-warped.like-flange", "There is back-face runout that cleaning does not change."),
				text.Say("fault.ring-gear-warped.from-flange", "Measure the case runout."), []act.Form{act.MeasureCaseRunout}},
		},
		Test: act.MeasureCaseRunout, Cure: act.ReplaceGears, Lesson: "runout",
		Difficulty: 3, Strength: Practice,
		Rate: 0.02, Late: Late{200, 0.5}, Size: Size{Low: 0.11, High: 0.20, Unit: MMTotal, Scale: ByRunout},
		Needs: newGears,
		Apply: func(x *truth.Axle, size float64, s rng.Source) {
			x.WarpTIRMM, x.WarpWaves, x.WarpPhaseRad = size, 2, phase(s)
		},
		Mend:    func(x *truth.Axle) { x.WarpTIRMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.WarpTIRMM > 0 },
		Belief:  Belief{Swings: BackFace},
	}
}

func gearOffCenter() Fault {
	return Fault{
		ID: GearOffCenter, Area: Runout, Stage: BeforeCase,
		Name:     text.Say("fault.ring-gear-off-center.name", "ring gear not seated on its pilot"),
		Cause:    text.Say("fault.ring-gear-off-center.cause", "The ring gear was drawn on by one bolt, over a burr on the pilot."),
		Shows:    text.Say("fault.ring-gear-off-center.shows", "Backlash rises and falls once per turn while the back face runs true. The contact pattern moves toward the face and back toward the flank round the gear."),
		TakenFor: text.Say("fault.ring-gear-off-center.taken-for", "dirt behind the ring gear, or a bent pinion"),
		Told:     text.Say("fault.ring-gear-off-center.told", "Measure the radial runout of the ring gear."),
		Remedy:   text.Say("fault.ring-gear-off-center.remedy", "Take the ring gear off, stone the pilot, and draw the gear on evenly with new bolts."),
		Missed:   text.Say("fault.ring-gear-off-center.missed", "The axle whines in time with the wheels, and the teeth carry high and low by turns."),
		Alikes: []Alike{
			{string(DirtBehindGear), text.Say("fault.ring-gear-off-center.like-dirt", "Backlash rises and falls round the ring gear."),
				text.Say("fault.ring-gear-off-center.from-dirt", "Measure the runout: with a gear off its pilot the back face runs true."), []act.Form{act.MeasureRunout}},
		},
		Test: act.MeasureRadialRunout, Cure: act.CleanRingGear, Also: bolted(), Lesson: "runout",
		Difficulty: 4, Strength: Practice,
		Rate: 0.02, Late: Late{80, 0.2}, Size: Size{Low: 0.22, High: 0.34, Unit: MMTotal, Scale: ByVariation},
		Apply:     func(x *truth.Axle, size float64, s rng.Source) { x.RadialTIRMM, x.RadialPhaseRad = size, phase(s) },
		Mend:      func(x *truth.Axle) { x.RadialTIRMM = 0 },
		Remains:   func(s Standing) bool { return s.Axle.RadialTIRMM > 0 },
		Belief:    Belief{Swings: BacklashAlone},
		Unmodeled: true,
		stream:    "ring-gear-off-centre",
	}
}
