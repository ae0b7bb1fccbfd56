package setup

import (
	"math"

	"shimwright/sim/text"
)

// TotalTorqueNmm returns the rotating torque at the pinion with the case in: the
// pinion's own plus that of the sides, which is felt through the ratio, all in newton
// millimetres. Seal and mesh losses are not in it.
//
// T_total = T_pinion + T_side / ratio, from the work done in one turn of the pinion.
// A torque below zero, a ratio of zero or less, or no number is an error.
func TotalTorqueNmm(pinionNmm, sideAtCaseNmm, ratio float64) (float64, error) {
	if err := first(notNegative(namePinionTorque(), pinionNmm),
		notNegative(nameSideTorque(), sideAtCaseNmm),
		positive(nameRatio(), ratio)); err != nil {
		return 0, err
	}
	return pinionNmm + sideAtCaseNmm/ratio, nil
}

// SideTorqueAtCaseNmm turns TotalTorqueNmm round: what the sides take at the ring
// gear, in newton millimetres, from total and pinion torque. It is zero when the
// total is no more than the pinion's, within the reading a sign of no side preload,
// and an error when it is less: then one of the two readings is wrong. Ratio and
// number rules as for TotalTorqueNmm.
func SideTorqueAtCaseNmm(totalNmm, pinionNmm, ratio float64) (float64, error) {
	if err := first(notNegative(nameTotalTorque(), totalNmm),
		notNegative(namePinionTorque(), pinionNmm),
		positive(nameRatio(), ratio)); err != nil {
		return 0, err
	}
	if totalNmm < pinionNmm {
		return 0, text.Fail(nil, text.Say("setup.total-below-pinion", "the total rotating torque is below that of the pinion alone: measure both again the same way, turning steadily and with the same seal"))
	}
	return (totalNmm - pinionNmm) * ratio, nil
}

// StringTorqueNmm returns the torque of a string pulled off a drum or socket, in newton
// millimetres: pull in newtons times the radius in millimetres, which is half the
// diameter that a rule shows (TM 5-3810-300-24&P2, about p. 4-256). A pull below zero
// or a radius of zero or less is an error.
func StringTorqueNmm(pullN, radiusMM float64) (float64, error) {
	if err := first(notNegative(namePull(), pullN),
		positive(nameRadius(), radiusMM)); err != nil {
		return 0, err
	}
	return pullN * radiusMM, nil
}

// AdapterFactor returns the torque at the fastener over the torque set on the wrench
// for an adapter on its square. Lengths in millimetres, square to grip and square to
// fastener; angleDeg is 0 when the adapter prolongs the wrench, 90 when it stands
// square to it, up to 180 when it points back along the handle.
//
//	factor = (L + E cos angle) / L        TM 9-2350-277-40&P, WP 0004 00; TM 9-254, fig. 4-5 and 4-6 (not seen again)
//
// The wrench length must be above zero, the adapter's not below it, and the factor
// must come out above zero; otherwise it is an error.
func AdapterFactor(wrenchLengthMM, extensionMM, angleDeg float64) (float64, error) {
	if err := first(positive(nameWrenchLength(), wrenchLengthMM),
		notNegative(nameAdapterLength(), extensionMM),
		notNegative(nameAdapterAngle(), angleDeg)); err != nil {
		return 0, err
	}
	if angleDeg > 180 {
		return 0, text.Fail(nil, text.Say("setup.adapter-angle-range", "the angle of the adapter is {x} degrees: measure it from 0 (straight on) to 180 (pointing back)", plain("x", angleDeg)))
	}
	cos := math.Cos(radians(angleDeg))
	if angleDeg == 90 {
		cos = 0 // square on needs no correction, exactly
	}
	factor := (wrenchLengthMM + extensionMM*cos) / wrenchLengthMM
	if factor <= 0 {
		return 0, text.Fail(nil, text.Say("setup.adapter-back", "the adapter reaches back past the hand: no setting gives the wanted torque; turn the adapter"))
	}
	return factor, nil
}

// WrenchSettingNmm returns what to set on the wrench so that the fastener gets the
// wanted torque through the adapter, in newton millimetres. Arguments and errors as
// for AdapterFactor; the wanted torque must be above zero.
func WrenchSettingNmm(wantedNmm, wrenchLengthMM, extensionMM, angleDeg float64) (float64, error) {
	if err := positive(nameWantedTorque(), wantedNmm); err != nil {
		return 0, err
	}
	factor, err := AdapterFactor(wrenchLengthMM, extensionMM, angleDeg)
	if err != nil {
		return 0, err
	}
	return wantedNmm / factor, nil
}
