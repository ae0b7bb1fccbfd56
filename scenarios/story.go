package scenarios

import (
	"shimwright/sim/family"
	"shimwright/sim/rng"
	"shimwright/sim/text"
)

// drawStory draws what the vehicle does and why its axle is apart. A family that comes
// with the program has stories of its own kind of vehicle; another has plain ones.
func drawStory(s rng.Source, fam family.Family, usedBearings, usedGears bool) (vehicle, complaint text.Message) {
	vehicles := vehiclesOf(fam.Code)
	vehicle = vehicles[s.Whole(len(vehicles))]
	reasons := []text.Message{
		text.Say("complaint.whine-drive", "whines under power above walking speed"),
		text.Say("complaint.howl-coast", "howls when the driver lifts off the gas"),
		text.Say("complaint.growl", "growled for a month, then left metal in the oil"),
		text.Say("complaint.low-oil", "ran low on oil after the pinion seal leaked"),
		text.Say("complaint.clunk", "clunks between drive and coast, and now whines on both"),
	}
	switch {
	case usedBearings:
		reasons = []text.Message{
			text.Say("complaint.chipped-teeth", "a loose bolt chipped the gear teeth; the bearings are nearly new and go back in"),
			text.Say("complaint.other-ratio", "a new ring and pinion for another ratio; the bearings are good and go back in"),
		}
	case usedGears:
		reasons = []text.Message{
			text.Say("complaint.bearings-growl", "the bearings growl; the gears are good and go back in with new bearings"),
			text.Say("complaint.water", "water in the oil has pitted the bearings; the gears are good and go back in"),
		}
	}
	return vehicle, reasons[s.Whole(len(reasons))]
}

func vehiclesOf(code string) []text.Message {
	switch code {
	case "ALDER":
		return []text.Message{
			text.Say("vehicle.small-sedan", "small sedan, school runs and the highway on Fridays"),
			text.Say("vehicle.hatchback", "light hatchback, hills every day"),
			text.Say("vehicle.small-wagon", "small station wagon, mostly in town"),
		}
	case "BEECH":
		return []text.Message{
			text.Say("vehicle.farm-pickup", "farm pickup, mostly dirt roads and a stock trailer"),
			text.Say("vehicle.builders-pickup", "contractor's pickup, short trips with a full bed"),
			text.Say("vehicle.towing-sedan", "family sedan that tows a trailer in summer"),
			text.Say("vehicle.delivery-pickup", "delivery pickup, highway miles"),
			text.Say("vehicle.ranch-pickup", "ranch pickup, seldom loaded"),
		}
	case "CEDAR", "FIR":
		return []text.Message{
			text.Say("vehicle.forestry", "forestry four-wheel drive, trails and mud"),
			text.Say("vehicle.quarry", "quarry truck, low range all day"),
			text.Say("vehicle.hill-farm", "mountain ranch four-wheel drive, snow in winter"),
		}
	case "DOGWOOD":
		return []text.Message{
			text.Say("vehicle.wrecker", "tow truck, long pulls"),
			text.Say("vehicle.dump-body", "chassis cab with a dump body"),
			text.Say("vehicle.fifth-wheel", "heavy pickup with a fifth-wheel trailer"),
		}
	case "ELM":
		return []text.Message{
			text.Say("vehicle.lumber", "medium truck, lumber yard deliveries"),
			text.Say("vehicle.garbage", "garbage truck, a thousand stops a week"),
			text.Say("vehicle.box-truck", "box truck, overnight freight"),
		}
	case "GORSE":
		return []text.Message{
			text.Say("vehicle.trails", "small four-wheel drive, forest trails"),
			text.Say("vehicle.mail-route", "small four-wheel drive, mountain mail route"),
			text.Say("vehicle.dunes", "small off-roader, beach and dunes"),
		}
	case "HAZEL":
		return []text.Message{
			text.Say("vehicle.parcel-van", "package van, two hundred stops a day"),
			text.Say("vehicle.motorhome", "motorhome, two long trips a year"),
			text.Say("vehicle.bakery-van", "bakery van, before dawn every day"),
		}
	case "IRONBARK":
		return []text.Message{
			text.Say("vehicle.log-truck", "heavy tractor, log hauling"),
			text.Say("vehicle.dump-truck", "heavy dump truck, quarry to rail yard"),
			text.Say("vehicle.lowboy", "lowboy tractor, slow and heavy loads"),
		}
	case "JUNIPER":
		return []text.Message{
			text.Say("vehicle.classic", "classic sedan, Sundays only"),
			text.Say("vehicle.old-van", "old light van, restored"),
			text.Say("vehicle.race-car", "weekend race car, hill climbs"),
		}
	}
	return []text.Message{
		text.Say("vehicle.everyday", "everyday use"),
		text.Say("vehicle.work", "work vehicle, mixed roads"),
		text.Say("vehicle.towing", "towing now and then"),
	}
}
