package catalogue

import "shimwright/sim/truth"

// A Pair is two entries that are easily taken for one another.
type Pair struct {
	A, B  string // ids
	Agree string // the reading they share
	Apart string // the test that decides
}

// Pairs lists the look-alikes.
func Pairs() []Pair {
	id := func(f truth.FaultID) string { return string(f) }
	return []Pair{
		{id(truth.InnerCupHigh), id(truth.DirtUnderShim), "pinion too deep on the gauge, shim right by the micrometer", "inspect cups"},
		{id(truth.InnerCupHigh), id(truth.OuterCupHigh), "a feeler goes in behind a cup, preload comes early", "measure depth: only the head cup moves the pinion"},
		{id(truth.DirtUnderShim), id(truth.ShimsRunThick), "pinion too deep on the gauge", "measure depth-shim"},
		{id(truth.SetUpBearingOff), id(truth.ShimsRunThick), "trial build too deep on the gauge", "measure bearings"},
		{id(truth.SlingerOut), id(truth.GaugeOff), "pinion too far out on the gauge, shim right by the micrometer", "inspect shim-seat"},
		{id(truth.GaugeOff), id(truth.SetUpBearingOff), "trial build too far out on the gauge", "test gauge"},
		{id(truth.SetMixed), "mark-forgotten", "the print on the drive side stands off up and down", "the print on the coast side: a wrong depth moves both the same way"},
		{id(truth.GearForOther), id(truth.OppositeConeHigh), "more backlash than the pair of side shims was to give", "inspect gears"},
		{id(truth.SpacerCrushed), id(truth.SpacerShort), "the nut turns below its usual torque", "inspect spacer: only one has a polished bulge"},
		{id(truth.SpacerCrushed), id(truth.NutUsed), "the nut turns below its usual torque", "inspect spacer: its length and the nut's grip are two things"},
		{id(truth.NutUsed), "backed-off", "the finished nut turns on below its usual torque", "the nut is tried by hand on its thread before it goes in"},
		{id(truth.PackingGrease), id(truth.SealTight), "drag in the final build too high", "inspect seal"},
		{id(truth.PackingGrease), "overshot", "drag in the final build too high", "inspect bearings"},
		{id(truth.SealTight), "overshot", "drag in the final build too high", "inspect seal"},
		{id(truth.WrenchOut), id(truth.StringOff), "wrench and cord disagree", "test string"},
		{id(truth.WrenchOut), "overshot", "the wrench reads too high", "measure torque rotating string"},
		{id(truth.BearingGritty), id(truth.BearingNotched), "rotating torque that swings with the case out", "wash bearings, then inspect bearings: a dent stays"},
		{id(truth.BearingNotched), id(truth.CapsSwapped), "total drag goes tight and easy", "measure torque with the case out: nipped cups are not in it"},
		{id(truth.CapsSwapped), id(truth.CapTurned), "total drag goes tight and easy once a turn of the ring gear", "inspect caps"},
		{id(truth.SideConeHigh), "one-side-only", "less backlash and more total drag than the pair was to give", "inspect cones"},
		{id(truth.OppositeConeHigh), "one-side-only", "more backlash and more total drag than the pair was to give", "inspect cones"},
		{id(truth.HousingSpread), "no-side-preload", "end play where there should be preload", "measure side-shims: in one the pack is as it was, in the other it is thin"},
		{id(truth.DirtBehindGear), id(truth.BentFlange), "back-face runout once a turn", "measure case-runout"},
		{id(truth.DirtBehindGear), id(truth.BoltsUneven), "back-face runout once a turn", "inspect bolts"},
		{id(truth.BoltsUneven), id(truth.BentFlange), "back-face runout once a turn", "inspect bolts"},
		{id(truth.GearWarped), id(truth.BentFlange), "back-face runout that cleaning does not cure", "measure case-runout"},
		{id(truth.GearOffCenter), id(truth.DirtBehindGear), "backlash that rises and falls round the gear", "measure runout: the back face of one is true"},
		{id(truth.PinionBent), id(truth.GearOffCenter), "backlash that rises and falls, with a back face that is true", "measure radial-runout"},
		{id(truth.BoltsLong), id(truth.IndicatorLoose), "backlash that will not repeat", "inspect bolts"},
		{id(truth.IndicatorLoose), "no-side-preload", "backlash that will not repeat", "test indicator"},
		{id(truth.IndicatorLoose), "caps-snug", "backlash that will not repeat", "test indicator"},
		{id(truth.BrakesOn), "side-preload-high", "total drag far above the pinion's", "inspect axle-shafts"},
		{"mark-turned", "mark-forgotten", "pinion off the same way, and the print with it", "measure depth: turned, the error is twice the other"},
		{"plunger-tilted", "pinion-free", "a backlash read larger than it is", "the stem set square alone cures only one"},
	}
}

// Other returns the other entry of a pair, "" if the id is in neither place.
func (p Pair) Other(id string) string {
	switch id {
	case p.A:
		return p.B
	case p.B:
		return p.A
	}
	return ""
}

// alikes lists what an entry may be taken for, by id.
func alikes(id string) []string {
	var out []string
	for _, p := range Pairs() {
		if other := p.Other(id); other != "" {
			out = append(out, other)
		}
	}
	return out
}
