package act

import "shimwright/sim/text"

// A Form is one kind of act: a row of the catalogue below.
type Form int

// The acts of the bench, in the order a job meets them.
const (
	InspectCups Form = iota
	InspectBearings
	InspectSpacer
	InspectCones
	InspectCaps
	InspectSeal
	InspectShimSeat
	InspectBolts
	InspectShafts
	InspectGears
	MeasureBearings
	MeasurePinionRunout
	MeasureDepthShim
	MeasureSideShims
	MeasureCaseRunout
	WashBearings
	GreaseBearings
	ReplaceBearings
	CleanShimSeat
	SeatCups
	SeatCones
	ReplaceSideBearings
	MatchCaps
	CleanRingGear
	ReplaceCase
	ReplaceGears
	ReplaceSlinger
	ReplaceSeal
	ReplaceSpacer
	RemoveShafts
	FitDepthShim
	FitPreloadShims
	FitPinion
	MeasureDepth
	TurnPinion
	TightenNutAngle
	TightenNutTorque
	LoosenNut
	MeasurePinionEndPlay
	MeasureTorque
	FitSideShims
	SpreadHousing
	FitCase
	TurnRingGearAdjuster
	TurnOppositeAdjuster
	TorqueCaps
	LoosenCaps
	MeasureEndPlay
	MeasureSpread
	MeasureRunout
	MeasureRadialRunout
	MountIndicator
	MeasureBacklash
	PaintTeeth
	RollGears
	RemoveCase
	RemovePinion
	TestIndicator
	TestString
	TestGauge
	ExpectValue
	RecordValue
	SignOff
)

// A spec is a row of the catalogue: what an act is, apart from what it needs and does at a
// bench. Its line is literal words, "{a|b}" for a choice and "{length}", "{torque}",
// "{angle}", "{turns}", "{places}", "{notches}" or "{amount}" for an amount.
type spec struct {
	form     Form
	line     string
	help     text.Message
	minutes  float64 // on the usual design; estimates, common practice
	perPlace float64 // and for each place read
	caution  Caution
}

// catalogue lists every act once. Order is the order help shows.
func catalogue() []spec {
	return []spec{
		{form: InspectCups, line: "inspect cups", help: text.Say("act.inspect-cups", "try a feeler gauge behind both pinion bearing cups, and push them around"), minutes: 2},
		{form: InspectBearings, line: "inspect bearings", help: text.Say("act.inspect-bearings", "the pinion bearings: lubricant, rollers, races"), minutes: 1},
		{form: InspectSpacer, line: "inspect spacer", help: text.Say("act.inspect-spacer", "the spacer to be fitted, its free length, and its nut"), minutes: 1},
		{form: InspectCones, line: "inspect cones", help: text.Say("act.inspect-cones", "try a feeler gauge behind both side bearing cones"), minutes: 2},
		{form: InspectCaps, line: "inspect caps", help: text.Say("act.inspect-caps", "the match marks of the bearing caps, and the cups and adjusters under them"), minutes: 1},
		{form: InspectSeal, line: "inspect seal", help: text.Say("act.inspect-seal", "the lip of the pinion seal"), minutes: 1},
		{form: InspectShimSeat, line: "inspect shim-seat", help: text.Say("act.inspect-shim-seat", "the face the depth shim lies on, for dirt and burrs"), minutes: 1},
		{form: InspectBolts, line: "inspect bolts", help: text.Say("act.inspect-bolts", "try the ring gear bolts with a wrench"), minutes: 2},
		{form: InspectShafts, line: "inspect axle-shafts", help: text.Say("act.inspect-shafts", "whether axle shafts or brakes still drag on the gears"), minutes: 1},
		{form: InspectGears, line: "inspect gears", help: text.Say("act.inspect-gears", "match numbers of ring gear and pinion, and the tag of the ring gear"), minutes: 2},
		{form: MeasureBearings, line: "measure bearings", help: text.Say("act.measure-bearings", "height of the set-up bearing against the bearing that stays"), minutes: 3},
		{form: MeasurePinionRunout, line: "measure pinion-runout", help: text.Say("act.measure-pinion-runout", "the pinion turned in V-blocks under the indicator"), minutes: 3},
		{form: MeasureDepthShim, line: "measure depth-shim", help: text.Say("act.measure-depth-shim", "micrometer on the depth shim in hand"), minutes: 2},
		{form: MeasureSideShims, line: "measure side-shims", help: text.Say("act.measure-side-shims", "micrometer on both side shims in hand"), minutes: 3},
		{form: MeasureCaseRunout, line: "measure case-runout", help: text.Say("act.measure-case-runout", "ring gear off: runout of the bare case flange; try the gear on a flat plate"), minutes: 20, caution: GearBoltsCaution},
		{form: WashBearings, line: "wash bearings", help: text.Say("act.wash-bearings", "wash the pinion bearings, let them dry, oil them"), minutes: 8, caution: SolventCaution},
		{form: GreaseBearings, line: "grease bearings", help: text.Say("act.grease-bearings", "pack the pinion bearings with grease"), minutes: 3},
		{form: ReplaceBearings, line: "replace bearings", help: text.Say("act.replace-bearings", "another new pair of pinion bearings, cups included"), minutes: 25, caution: PressingCaution},
		{form: CleanShimSeat, line: "clean shim-seat", help: text.Say("act.clean-shim-seat", "stone and wipe the depth shim seat, and the shim"), minutes: 4},
		{form: SeatCups, line: "seat cups", help: text.Say("act.seat-cups", "drive both pinion bearing cups against their shoulders"), minutes: 8, caution: PressingCaution},
		{form: SeatCones, line: "seat cones", help: text.Say("act.seat-cones", "press both side bearing cones to their shoulders"), minutes: 10, caution: PressingCaution},
		{form: ReplaceSideBearings, line: "replace side-bearings", help: text.Say("act.replace-side-bearings", "a new pair of side bearings, cups included, cones pressed on"), minutes: 30, caution: PressingCaution},
		{form: MatchCaps, line: "match caps", help: text.Say("act.match-caps", "each bearing cap on its own side, right way up"), minutes: 8},
		{form: CleanRingGear, line: "clean ring-gear", help: text.Say("act.clean-ring-gear", "clean both ring gear faces; new bolts"), minutes: 25, caution: GearBoltsCaution},
		{form: ReplaceCase, line: "replace case", help: text.Say("act.replace-case", "a new differential case"), minutes: 45, caution: GearBoltsCaution},
		{form: ReplaceGears, line: "replace gears", help: text.Say("act.replace-gears", "another matched ring gear and pinion (the bench gives it the same depth mark; a real set has its own)"), minutes: 40, caution: PressingCaution},
		{form: ReplaceSlinger, line: "replace slinger", help: text.Say("act.replace-slinger", "a new oil slinger under the depth shim"), minutes: 2},
		{form: ReplaceSeal, line: "replace seal", help: text.Say("act.replace-seal", "a new pinion seal for final assembly"), minutes: 2},
		{form: ReplaceSpacer, line: "replace spacer", help: text.Say("act.replace-spacer", "a new collapsible spacer and nut for final assembly"), minutes: 2},
		{form: RemoveShafts, line: "remove axle-shafts", help: text.Say("act.remove-shafts", "draw the axle shafts clear of the case, brakes and all"), minutes: 12},
		{form: FitDepthShim, line: "fit depth-shim {length}", help: text.Say("act.fit-depth-shim", "choose the depth shim"), minutes: 10},
		{form: FitPreloadShims, line: "fit preload-shims {length}", help: text.Say("act.fit-preload-shims", "solid spacer: choose the preload shims between the cones"), minutes: 4},
		{form: FitPinion, line: "fit pinion {mock-up|final}", help: text.Say("act.fit-pinion", "mock-up: set-up bearing, no spacer, no seal; final: spacer, seal, nut"), minutes: 10},
		{form: MeasureDepth, line: "measure depth", help: text.Say("act.measure-depth", "depth gauge: pinion face to ring gear centerline"), minutes: 5},
		{form: TurnPinion, line: "turn pinion {turns}", help: text.Say("act.turn-pinion", "turn the pinion by hand to seat the rollers"), minutes: 1},
		{form: TightenNutAngle, line: "tighten nut {angle}", help: text.Say("act.tighten-nut-angle", "tighten the pinion nut by an angle"), minutes: 1, caution: PinionNutCaution},
		{form: TightenNutTorque, line: "tighten nut to {torque}", help: text.Say("act.tighten-nut-torque", "tighten the pinion nut to a torque"), minutes: 1, caution: PinionNutCaution},
		{form: LoosenNut, line: "loosen nut {angle}", help: text.Say("act.loosen-nut", "loosen the pinion nut by an angle"), minutes: 1},
		{form: MeasurePinionEndPlay, line: "measure pinion-end-play", help: text.Say("act.measure-pinion-end-play", "push and pull the yoke under the indicator"), minutes: 3},
		{form: MeasureTorque, line: "measure torque {rotating|breakaway} {wrench|string}", help: text.Say("act.measure-torque", "torque at the pinion: the pinion's with the case out, total with it in"), minutes: 2},
		{form: FitSideShims, line: "fit side-shims ring-gear {length} opposite {length}", help: text.Say("act.fit-side-shims", "choose the side shims: ring-gear side and opposite side"), minutes: 4},
		{form: SpreadHousing, line: "spread housing {length}", help: text.Say("act.spread-housing", "open the carrier housing by that much on the indicator, to let the case in"), minutes: 4, caution: SpreaderCaution},
		{form: FitCase, line: "fit case", help: text.Say("act.fit-case", "case in, cap bolts snug, adjusters run up by hand"), minutes: 8, caution: LiftingCaution},
		{form: TurnRingGearAdjuster, line: "turn ring-gear-adjuster {in|out} {notches}", help: text.Say("act.turn-ring-gear-adjuster", "bearing adjuster on the ring-gear side; half notches can be locked"), minutes: 2},
		{form: TurnOppositeAdjuster, line: "turn opposite-adjuster {in|out} {notches}", help: text.Say("act.turn-opposite-adjuster", "bearing adjuster on the opposite side"), minutes: 2},
		{form: TorqueCaps, line: "torque caps", help: text.Say("act.torque-caps", "cap bolts to the specified torque"), minutes: 3},
		{form: LoosenCaps, line: "loosen caps", help: text.Say("act.loosen-caps", "cap bolts back to snug, so that the adjusters turn"), minutes: 3},
		{form: MeasureEndPlay, line: "measure end-play", help: text.Say("act.measure-end-play", "rock the case sideways under the indicator"), minutes: 3},
		{form: MeasureSpread, line: "measure spread", help: text.Say("act.measure-spread", "how much wider the housing stands with the case in"), minutes: 3},
		{form: MeasureRunout, line: "measure runout", help: text.Say("act.measure-runout", "back-face runout of the ring gear, one turn"), minutes: 3},
		{form: MeasureRadialRunout, line: "measure radial-runout", help: text.Say("act.measure-radial-runout", "radial runout of the ring gear, one turn: is it centered?"), minutes: 3},
		{form: MountIndicator, line: "mount indicator {heel|middle|toe} {square|along|tilted} {pinion-held|pinion-free}", help: text.Say("act.mount-indicator", "set the indicator up for backlash: place on the tooth, plunger, pinion"), minutes: 3},
		{form: MeasureBacklash, line: "measure backlash {places}", help: text.Say("act.measure-backlash", "rock the ring gear at 1 to 8 places"), minutes: 1, perPlace: 1},
		{form: PaintTeeth, line: "paint teeth {thin|thick}", help: text.Say("act.paint-teeth", "marking compound on a few teeth"), minutes: 3},
		{form: RollGears, line: "roll gears {braked|free}", help: text.Say("act.roll-gears", "turn the gears both ways and read the pattern"), minutes: 5, caution: TurningGearsCaution},
		{form: RemoveCase, line: "remove case", help: text.Say("act.remove-case", "take the case and ring gear out again"), minutes: 8, caution: LiftingCaution},
		{form: RemovePinion, line: "remove pinion", help: text.Say("act.remove-pinion", "take the pinion out again"), minutes: 8},
		{form: TestIndicator, line: "test indicator", help: text.Say("act.test-indicator", "flick test on the indicator's arm"), minutes: 1},
		{form: TestString, line: "test string", help: text.Say("act.test-string", "measure the radius the string winds on"), minutes: 2},
		{form: TestGauge, line: "test gauge", help: text.Say("act.test-gauge", "wipe the bores and try the depth gauge on its setting block"), minutes: 2},
		{form: ExpectValue, line: "expect {amount}", help: text.Say("act.expect-value", "say beforehand what you will read, with its unit; nothing changes"), minutes: 0},
		{form: RecordValue, line: "record {depth-shim|preload-shims|ring-gear-shim|opposite-shim|pinion-torque|total-torque|backlash|runout|pattern} {amount}", help: text.Say("act.record-value", "write a value on the build sheet"), minutes: 0},
		{form: SignOff, line: "sign off", help: text.Say("act.sign-off", "declare the axle ready"), minutes: 0},
	}
}
