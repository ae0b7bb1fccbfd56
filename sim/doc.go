// Package sim is the practice bench: one drive axle on a stand, the acts a
// technician can do to it, and the readings the instruments then show.
//
// A Stand is built from a family, a sealed hidden state and a seed. Do carries out
// one act: it refuses what cannot be done (with the reason and what to do first),
// otherwise changes the axle and returns what the act showed and cost. Every
// reading comes from the one hidden state, through the tooth model (sim/mesh), the
// bearing and spacer mechanics (sim/bearing, sim/pinion, sim/carrier) and an
// instrument with its own error (sim/gauge), so two readings of one axle can
// disagree only by stated instrument error or by how they were taken.
//
// The package knows no terminal and no files. It is deterministic: the same
// family, state, seed and acts give the same outcomes. A Stand is not safe for
// concurrent use.
//
// Axes and signs. Pinion depth error is positive when the pinion stands too far
// out (away from the ring gear axis); a thicker depth shim under the head bearing
// cone moves it in. Ring gear position is positive away from the pinion; a thicker
// back side shim (behind the ring gear) moves it toward the pinion. Interference
// of the side shims is positive, end play negative.
//
// Assumptions beyond those of the packages used (estimates unless a source is
// named there):
//
//   - A pinion cup that stands off its shoulder acts as an extra depth shim (head)
//     and takes end play from the pair (both).
//   - The head bearing's own deflection under preload moves the pinion out, so
//     the place is defined at a reference preload.
//   - Grease adds a constant churning drag of 0.8 N·m in the pinion pair; shop
//     experience puts it between 0.5 and 1.1 N·m.
//   - The pull that breaks the pinion loose takes the axle's own breakaway factor
//     times the greater of starting and running torque.
//   - Cap bolts only snug let the case wander by 0.02 mm from reading to reading;
//     caps on the wrong side do so by 0.03 mm and pinch the cups once a turn.
//   - With end play at the side bearings the case lies anywhere within it.
//
// Left out: heat, wear in service, load on the teeth.
package sim
