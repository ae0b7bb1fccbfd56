package act

// A Form is one kind of act: a row of the catalogue below.
type Form int

// The acts of the bench, in the order a job meets them.
const (
	LookCups Form = iota
	LookBearings
	LookSpacer
	LookCones
	LookCaps
	LookSeal
	MeasureBearings
	MeasureDepthShim
	MeasureSideShims
	MeasureFlangeRunout
	WashBearings
	GreaseBearings
	SeatCups
	SeatCones
	MatchCaps
	CleanRingGear
	ReplaceCase
	ReplaceSeal
	ReplaceSpacer
	FitDepthShim
	FitPinion
	MeasureDepth
	TurnPinion
	TurnNutAngle
	TurnNutTorque
	BackNut
	MeasureDrag
	FitSideShims
	FitCase
	TorqueCaps
	MeasureEndPlay
	MeasureRunout
	MountIndicator
	MeasureBacklash
	PaintTeeth
	RollGears
	RemoveCase
	RemovePinion
	TestIndicator
	RecordValue
	SignOff
)

// A form's line is literal words, "{a|b}" for a choice and "{length}", "{torque}",
// "{angle}", "{turns}", "{places}" or "{amount}" for an amount.
type spec struct {
	form Form
	line string
	help string
}

// catalogue lists every act once. Order is the order help shows.
func catalogue() []spec {
	return []spec{
		{LookCups, "look cups", "try a thin feeler behind both pinion bearing cups"},
		{LookBearings, "look bearings", "see what the pinion bearings are wet with, and turn them by hand"},
		{LookSpacer, "look spacer", "check the collapsible spacer that is waiting to be fitted against its free length"},
		{LookCones, "look cones", "try a feeler behind the side-bearing cones"},
		{LookCaps, "look caps", "compare the witness marks of the side-bearing caps"},
		{LookSeal, "look seal", "look at the pinion seal's lip"},
		{MeasureBearings, "measure bearings", "compare the height of the set-up bearing with the bearing that will stay"},
		{MeasureDepthShim, "measure depth-shim", "micrometer on the depth shim in hand"},
		{MeasureSideShims, "measure side-shims", "micrometer on both side shims in hand"},
		{MeasureFlangeRunout, "measure flange-runout", "take the ring gear off and read the bare case flange"},
		{WashBearings, "wash bearings", "wash the pinion bearings, dry them and oil them"},
		{GreaseBearings, "grease bearings", "pack the pinion bearings with grease"},
		{SeatCups, "seat cups", "drive both pinion bearing cups home"},
		{SeatCones, "seat cones", "press both side-bearing cones home"},
		{MatchCaps, "match caps", "put each side-bearing cap back to its own side, right way up"},
		{CleanRingGear, "clean ring-gear", "unbolt the ring gear, stone and wipe both faces, bolt it on in stages"},
		{ReplaceCase, "replace case", "fit a new differential case"},
		{ReplaceSeal, "replace seal", "a new pinion seal for the final build"},
		{ReplaceSpacer, "replace spacer", "a new collapsible spacer and nut for the final build"},
		{FitDepthShim, "fit depth-shim {length}", "choose the depth shim (pinion out)"},
		{FitPinion, "fit pinion {trial|final}", "trial: set-up bearing, no spacer, no seal; final: spacer, seal and nut"},
		{MeasureDepth, "measure depth", "depth gauge: pinion head to ring gear axis (case out)"},
		{TurnPinion, "turn pinion {turns}", "turn the pinion by hand to seat the rollers"},
		{TurnNutAngle, "turn nut {angle}", "tighten the pinion nut by an angle"},
		{TurnNutTorque, "turn nut to {torque}", "tighten the pinion nut until the wrench says so"},
		{BackNut, "back nut {angle}", "loosen the pinion nut by an angle"},
		{MeasureDrag, "measure drag {turning|first-pull} {wrench|cord}", "rotating torque at the pinion"},
		{FitSideShims, "fit side-shims back {length} tooth {length}", "choose the side shims (case out): back = behind the ring gear"},
		{FitCase, "fit case", "put the case in with those shims and run the cap bolts snug"},
		{TorqueCaps, "torque caps", "bring the cap bolts to the sheet's torque"},
		{MeasureEndPlay, "measure end-play", "rock the case sideways against the indicator"},
		{MeasureRunout, "measure runout", "indicator on the ring gear's back face, one full turn"},
		{MountIndicator, "mount indicator {heel|middle|toe} {square|along|tilted} {pinion-held|pinion-free}", "set the indicator up for backlash"},
		{MeasureBacklash, "measure backlash {places}", "rock the ring gear at so many places round it"},
		{PaintTeeth, "paint teeth {thin|thick}", "marking compound on a group of teeth"},
		{RollGears, "roll gears {braked|free}", "turn the gears both ways and read the print"},
		{RemoveCase, "remove case", "take the case and ring gear out again"},
		{RemovePinion, "remove pinion", "take the pinion out again"},
		{TestIndicator, "test indicator", "flick test: push on the indicator's arm and see whether it comes back"},
		{RecordValue, "record {depth-shim|back-shim|tooth-shim|pinion-drag|total-drag|backlash|runout|pattern} {amount}", "write a value on the build sheet"},
		{SignOff, "sign off", "declare the axle ready"},
	}
}
