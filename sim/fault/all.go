package fault

// values lists every fault in the order of the job, each at the place where it is written.
// A test holds the list against the package's source.
func values() []func() Fault {
	return []func() Fault{
		innerCupHigh, outerCupHigh, pinionCupLoose,
		dirtUnderShim, setUpBearingOff, shimsRunThick, slingerOut, gaugeOff,
		setMixed, gearForOther, pinionBent,
		spacerCrushed, spacerShort, nutUsed,
		packingGrease, bearingGritty, bearingNotched, sealTight,
		wrenchOut, stringOff,
		ringGearConeHigh, oppositeConeHigh, capsSwapped, capTurned, adjusterCrossed, sideCupCracked, housingSpread,
		dirtBehindGear, boltsUneven, boltsLong, bentFlange, gearWarped, gearOffCenter,
		indicatorLoose, brakesOn,
	}
}
