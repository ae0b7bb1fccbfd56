// Package bearing is the exact physics of one tapered roller bearing, and of
// bearings loaded in series by one axial force.
//
// # What it models
//
//   - axial deflection and stiffness under a centred thrust (contact plus ring);
//   - friction torque at hand speed, starting and running;
//   - what press fits and temperature do to the setting of a bearing pair;
//   - the catalogue relations between e, contact angle, Y and load rating.
//
// No noise, no instruments, no randomness: the same input gives the same number.
//
// # Conventions
//
// Millimetres, newtons, newton millimetres, rev/min, mm²/s (cSt), degrees at the
// edge. An axial force is positive when it presses the rollers into the cup; a
// force of zero or less means the bearing is unloaded and every deflection and
// torque is zero. A deflection is positive when cone and cup move closer
// together. A fit is positive when it is tight, measured on the diameter.
//
// # Assumptions and validity
//
//   - Pure thrust shared equally by all rollers. Right for a hand-turned set-up
//     check, wrong under driving load.
//   - Line contact of steel on steel [1]. The published law gives the contacts
//     alone and warns that real seats change the value; a linear ring spring
//     stands for the seats. Its stiffness is an engineering estimate.
//   - Friction by the rolling-plus-sliding model [2] from standstill to about
//     60 rev/min. Inlet shear heating, starvation and oil-bath drag are left out
//     of the torque because each is below half a per cent at hand speed; the two
//     factors are exported so that this can be checked.
//   - A maker's running-torque equation for fully flooded bearings is left out on
//     purpose: hand speed is far below the lowest speed it is valid for.
//   - Friction factors are a new or a run-in bearing's; the change between the two
//     has no published formula.
//
// Left out: radial load, misalignment, roller skew, seal drag, running-in, life,
// and the breakaway jerk that makes the first part-turn of a real bearing read
// high (an instrument or a person sees that; the bearing's physics does not
// contain it).
//
// # Sources
//
//	[1] Rolling Bearings, Cat. E1102m: p. A128 axial deflection, p. A130 fits,
//	    p. A134 rib friction.
//	[2] General Catalogue 6000 EN, friction chapter pp. 88-105 and preload section
//	    pp. 209-215.
//	[3] Bearing Engineering Manual, pp. 79-81: setting loss by fit and temperature.
//	[4] Technical Report E728g, sections 5.1 and 7.2: roller force balance.
//	[5] ISO 281, rating of roller bearings (from memory).
//	[6] ISO 76, static rating (from memory).
//	[7] Lamé's thick-ring solution (from memory), used where the copy of [1] that
//	    was read had lost fractions.
package bearing
