package act

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

// A form's line is literal words, "{a|b}" for a choice and "{length}", "{torque}",
// "{angle}", "{turns}", "{places}", "{notches}" or "{amount}" for an amount.
type spec struct {
	form Form
	line string
	help string
}

// catalogue lists every act once. Order is the order help shows.
func catalogue() []spec {
	return []spec{
		{InspectCups, "inspect cups", "try a feeler behind both pinion cups"},
		{InspectBearings, "inspect bearings", "what the pinion bearings are wet with"},
		{InspectSpacer, "inspect spacer", "the spacer to be fitted, its length, and its nut"},
		{InspectCones, "inspect cones", "try a feeler behind the side-bearing cones"},
		{InspectCaps, "inspect caps", "witness marks of the side-bearing caps"},
		{InspectSeal, "inspect seal", "the lip of the pinion seal"},
		{InspectShimSeat, "inspect shim-seat", "the face the depth shim lies on, for dirt and burrs"},
		{InspectBolts, "inspect bolts", "try the ring gear bolts with a wrench"},
		{InspectShafts, "inspect axle-shafts", "whether axle shafts or brakes still drag on the gears"},
		{InspectGears, "inspect gears", "set numbers of ring and pinion, and the tag of the ring gear"},
		{MeasureBearings, "measure bearings", "set-up bearing against the one that stays"},
		{MeasurePinionRunout, "measure pinion-runout", "the pinion turned in vee blocks under the indicator"},
		{MeasureDepthShim, "measure depth-shim", "micrometer on the depth shim in hand"},
		{MeasureSideShims, "measure side-shims", "micrometer on both side shims in hand"},
		{MeasureCaseRunout, "measure case-runout", "ring gear off: read the bare flange, try the gear on a flat plate"},
		{WashBearings, "wash bearings", "wash, dry and oil the pinion bearings"},
		{GreaseBearings, "grease bearings", "pack the pinion bearings with grease"},
		{ReplaceBearings, "replace bearings", "another new pair of pinion bearings, cups and all"},
		{CleanShimSeat, "clean shim-seat", "stone and wipe the depth shim's seat, and the shim"},
		{SeatCups, "seat cups", "drive both pinion cups home"},
		{SeatCones, "seat cones", "press both side-bearing cones home"},
		{MatchCaps, "match caps", "each cap to its own side, right way up"},
		{CleanRingGear, "clean ring-gear", "ring gear off, clean both faces, bolt on"},
		{ReplaceCase, "replace case", "a new differential case"},
		{ReplaceGears, "replace gears", "another ring and pinion, lapped together, same depth mark"},
		{ReplaceSlinger, "replace slinger", "a new oil slinger under the depth shim"},
		{ReplaceSeal, "replace seal", "a new seal for the final build"},
		{ReplaceSpacer, "replace spacer", "a new spacer and nut for the final build"},
		{RemoveShafts, "remove axle-shafts", "draw the axle shafts clear, brakes and all"},
		{FitDepthShim, "fit depth-shim {length}", "choose the depth shim (pinion out)"},
		{FitPreloadShims, "fit preload-shims {length}", "solid spacer: choose the preload pack between the cones (pinion out)"},
		{FitPinion, "fit pinion {mock-up|final}", "trial: set-up bearing, no spacer, no seal; final: spacer, seal, nut"},
		{MeasureDepth, "measure depth", "gauge: pinion head to ring gear axis"},
		{TurnPinion, "turn pinion {turns}", "turn the pinion by hand to seat the rollers"},
		{TightenNutAngle, "tighten nut {angle}", "tighten the pinion nut by an angle"},
		{TightenNutTorque, "tighten nut to {torque}", "tighten the pinion nut until the wrench says so"},
		{LoosenNut, "loosen nut {angle}", "loosen the pinion nut by an angle"},
		{MeasurePinionEndPlay, "measure pinion-end-play", "push and pull the flange on the indicator"},
		{MeasureTorque, "measure torque {rotating|breakaway} {wrench|string}", "rotating torque at the pinion"},
		{FitSideShims, "fit side-shims ring-gear {length} opposite {length}", "choose the side shims; back = behind the ring gear"},
		{SpreadHousing, "spread housing {length}", "open the housing by that much on the dial, to let the case in"},
		{FitCase, "fit case", "case in, cap bolts snug; threaded rings run up by hand"},
		{TurnRingGearAdjuster, "turn ring-gear-adjuster {in|out} {notches}", "threaded ring behind the ring gear; half slots can be locked"},
		{TurnOppositeAdjuster, "turn opposite-adjuster {in|out} {notches}", "threaded ring on the tooth side"},
		{TorqueCaps, "torque caps", "cap bolts to the sheet's torque"},
		{LoosenCaps, "loosen caps", "cap bolts back to snug, so that the rings can turn"},
		{MeasureEndPlay, "measure end-play", "rock the case sideways on the indicator"},
		{MeasureSpread, "measure spread", "how much wider the housing stands with the case in"},
		{MeasureRunout, "measure runout", "back face of the ring gear, one turn"},
		{MeasureRadialRunout, "measure radial-runout", "rim of the ring gear, one turn: is it central?"},
		{MountIndicator, "mount indicator {heel|middle|toe} {square|along|tilted} {pinion-held|pinion-free}", "set the indicator up for backlash: place, stem, pinion"},
		{MeasureBacklash, "measure backlash {places}", "rock the ring gear at 1 to 8 places"},
		{PaintTeeth, "paint teeth {thin|thick}", "marking compound on some teeth"},
		{RollGears, "roll gears {braked|free}", "turn the gears both ways, read the print"},
		{RemoveCase, "remove case", "take the case and ring gear out again"},
		{RemovePinion, "remove pinion", "take the pinion out again"},
		{TestIndicator, "test indicator", "flick test on the indicator's arm"},
		{TestString, "test string", "measure the radius that the cord winds on"},
		{TestGauge, "test gauge", "wipe the bores and try the depth gauge on its setting block"},
		{ExpectValue, "expect {amount}", "say beforehand what you will read, with its unit; nothing changes"},
		{RecordValue, "record {depth-shim|preload-shims|ring-gear-shim|opposite-shim|pinion-torque|total-torque|backlash|runout|pattern} {amount}", "write a value on the build sheet"},
		{SignOff, "sign off", "declare the axle ready"},
	}
}
