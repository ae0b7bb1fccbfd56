package act

import "shimwright/sim/text"

// A Caution is what a person should be told the first time an act can hurt someone.
type Caution int

// The cautions. NoCaution is for acts that need none.
const (
	NoCaution Caution = iota
	PressingCaution
	SpreaderCaution
	LiftingCaution
	SolventCaution
	PinionNutCaution
	TurningGearsCaution
	GearBoltsCaution
)

// Message is the caution in words; the zero Message for NoCaution.
func (c Caution) Message() text.Message {
	switch c {
	case PressingCaution:
		return text.Say("caution.pressing", "Wear eye protection: hardened rings chip, and a press can throw them. Drive or press only on the ring you are fitting, with a soft drift or the right sleeve.")
	case SpreaderCaution:
		return text.Say("caution.spreader", "A spreader can break a housing. Watch the indicator, stay well inside the manual's limit and keep clear of the line of the screw.")
	case LiftingCaution:
		return text.Say("caution.lifting", "The case and ring gear are heavy and the teeth are sharp. Lift with help or a hoist, keep your fingers out of the mesh, and leave the caps and a few turns of their bolts on until the case is held.")
	case SolventCaution:
		return text.Say("caution.solvent", "Solvent: open a door, wear gloves, no flame. Let bearings drain and air-dry. Never spin a bearing with compressed air.")
	case PinionNutCaution:
		return text.Say("caution.pinion-nut", "Hold the yoke with a proper bar on firm ground: a nut this tight can throw a wrench. Never let the bar bear on the gear teeth.")
	case TurningGearsCaution:
		return text.Say("caution.turning-gears", "Keep rags, sleeves and fingers clear of turning gears. Use a lead-free compound and wash your hands.")
	case GearBoltsCaution:
		return text.Say("caution.gear-bolts", "Ring gear bolts: new ones, to the maker's torque in stages, with thread locker where the manual asks for it. A bolt that comes loose can lock the axle at speed.")
	}
	return text.Message{}
}
