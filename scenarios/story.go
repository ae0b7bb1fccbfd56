package scenarios

import (
	"shimwright/sim/family"
	"shimwright/sim/rng"
)

// drawStory draws what the vehicle does and why its axle is apart. A family that comes
// with the program has stories of its own kind of vehicle; another has plain ones.
func drawStory(s rng.Source, fam family.Family, usedBearings, usedGears bool) (vehicle, complaint string) {
	vehicles := vehiclesOf(fam.Code)
	vehicle = vehicles[s.Whole(len(vehicles))]
	reasons := []string{"whines under power above a walking pace", "howls when the foot comes off", "growled for a month, then left metal in the oil",
		"ran low on oil after a leaking pinion seal", "clunks between drive and overrun and now whines both ways"}
	switch {
	case usedBearings:
		reasons = []string{"gear teeth chipped by a dropped bolt; the bearings are nearly new and go back in", "new ring and pinion for another ratio; the bearings are sound and go back in"}
	case usedGears:
		reasons = []string{"growling bearings; the gears are sound and go back in with new bearings", "water in the oil has pitted the bearings; the gears are good and go back in"}
	}
	return vehicle, reasons[s.Whole(len(reasons))]
}

func vehiclesOf(code string) []string {
	switch code {
	case "ALDER":
		return []string{"small saloon, school runs and motorway on Fridays", "light hatchback, hills every day", "small estate car, mostly town"}
	case "BEECH":
		return []string{"farm pickup, mostly lanes and a stock trailer", "builder's pickup, short trips with a full bed",
			"family saloon used for towing in summer", "delivery pickup, motorway miles", "estate pickup, seldom loaded"}
	case "CEDAR", "FIR":
		return []string{"forestry four-by-four, tracks and mud", "quarry runabout, low gear all day", "hill farm four-by-four, snow in winter"}
	case "DOGWOOD":
		return []string{"recovery truck, long pulls", "chassis cab with a tipping body", "heavy pickup with a fifth-wheel trailer"}
	case "ELM":
		return []string{"medium truck, builders' merchant rounds", "refuse truck, a thousand stops a week", "box truck, night trunking"}
	case "GORSE":
		return []string{"small four-by-four, green lanes", "small four-by-four, mountain post round", "little off-roader, beach and dunes"}
	case "HAZEL":
		return []string{"parcel van, two hundred stops a day", "motorhome, two long trips a year", "bakery van, before dawn every day"}
	case "IRONBARK":
		return []string{"heavy tractor unit, timber haulage", "heavy tipper, quarry to railhead", "low-loader tractor, slow and heavy"}
	case "JUNIPER":
		return []string{"classic saloon, Sundays only", "old light van, restored", "weekend competition car, hill climbs"}
	}
	return []string{"everyday use", "works vehicle, mixed roads", "towing now and then"}
}
