package setup

import "shimwright/sim/text"

// What a person calls the amounts.

func nameBacklashChange() text.Message {
	return text.Say("setup.backlash-change", "the wanted backlash change")
}
func nameBacklashPerTravel() text.Message {
	return text.Say("setup.backlash-per-travel", "the backlash per travel of the ring gear")
}
func nameRatio() text.Message         { return text.Say("setup.ratio", "the axle ratio") }
func namePressureAngle() text.Message { return text.Say("setup.pressure-angle", "the pressure angle") }
func nameSpiralAngle() text.Message   { return text.Say("setup.spiral-angle", "the spiral angle") }
func namePinionTorque() text.Message {
	return text.Say("setup.pinion-torque", "the pinion rotating torque")
}
func nameSideTorque() text.Message {
	return text.Say("setup.side-torque", "the rotating torque of the side bearings")
}
func nameTotalTorque() text.Message {
	return text.Say("setup.total-torque", "the total rotating torque")
}
func namePull() text.Message { return text.Say("setup.pull", "the pull on the scale") }
func nameRadius() text.Message {
	return text.Say("setup.radius", "the radius that the string winds on")
}
func nameWrenchLength() text.Message  { return text.Say("setup.wrench-length", "the wrench length") }
func nameAdapterLength() text.Message { return text.Say("setup.adapter-length", "the adapter length") }
func nameAdapterAngle() text.Message  { return text.Say("setup.adapter-angle", "the adapter angle") }
func nameWantedTorque() text.Message  { return text.Say("setup.wanted-torque", "the wanted torque") }
