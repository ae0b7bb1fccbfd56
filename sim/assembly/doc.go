// Package assembly puts one axle together: what is hidden in it, what somebody has
// built into it, and from both the true state that every reading is a reading of.
//
// An Axle is a family with a hidden state (sim/truth). Pinion gives the parameters of a
// pinion build for the design of the family; the other methods say where the pinion and
// the ring gear then stand, what the side bearings carry, how the ring gear swings and
// what the pinion takes to turn. The practice bench (sim) and the open demonstration
// axle (sim/exhibit) both ask here, so that they cannot differ.
//
// # Axes and signs
//
// The pinion's place is positive out of the axle, away from the ring gear's axis; the
// ring gear's is positive away from the pinion. Side fit is interference, negative for
// end play, and is counted for the back side (behind the ring gear) and the tooth side
// apart. Angles are the ring gear's.
//
// # Designs
//
//   - Depth shim under the head bearing cone or behind its cup: thicker is deeper. Under
//     the flange of a pinion cage: thicker is shallower.
//   - Behind the cup the shim also drives the two cups apart: it takes up end play, and a
//     solid pack must be thicker by as much for the same preload.
//   - Collapsible spacer, or a solid one with a pack of shims: more pack, less preload.
//   - Side shims outside the cups or inside behind the cones move the ring gear alike:
//     thicker at the back brings it to the pinion. A threaded ring that is screwed in is
//     a shim that grows.
//   - The flank that drives is the convex one of the ring gear or, in axles whose gears
//     run the other way round, the concave one; only the names change sides.
//
// # What is in the hidden state, and how it acts
//
//   - A cup off its shoulder: the head cup stands the pinion deeper; either takes up end
//     play until the preload overcomes what holds it.
//   - Dirt or a wrinkle in the depth pack: extra thickness, under the cone and behind the
//     cup deeper, under the cage shallower. A slinger left out of it: so much less.
//   - A cone off its shoulder on the case is shim of its side that is not on the shelf.
//   - A housing once spread past its limit stays wider, half on each side.
//   - Runout: a chip, a bent flange, uneven bolts and the gear's own error go once round,
//     a warped gear two or three times. A gear off centre on its register and a bent
//     pinion leave the back face true; see SwingMM.
//   - A ring gear that its bolts do not clamp lies differently each time.
//   - Ring and pinion of two sets have an ease-off that stands apart on drive and coast; a
//     ring gear for another case stands away from the pinion by what it is thinner.
//   - A spacer made too short takes up its clamp too late, if at all.
//   - A cap on the wrong side or the wrong way around squeezes its cup: the case turns heavy
//     and rough, the same all around, and lies differently each time.
//   - Notched or brinelled rollers, and grit between them, add a torque that comes and goes
//     within a turn.
//   - Grease, a tight seal and dragging brakes add torque; only the last is felt at the
//     ring gear and is divided by the ratio.
//   - Warmer than the shop: the fits change with the difference between housing and
//     steel; see PinionPlayByHeatMM.
//
// # Units
//
// Millimetres, newtons, newton millimetres, radians, kelvin; names say which.
//
// # Assumptions and validity
//
// Those of sim/mesh, sim/pinion, sim/carrier and sim/bearing. The pinion's place is
// defined at the family's reference preload; the head bearing gives with preload from
// there. Sizes of effects are engineering choices unless a source is named there.
//
// Left out: load on the teeth, wear while running, tipping of bearing rings.
//
// # Sources
//
//	[1] TM 5-3805-261-34, p. 14-99: housing growth by side bearing preload.
//	[2] Package sim/bearing: expansion of the metals and of a back-to-back pair.
package assembly
