// Package pinion is the exact physics of setting pinion bearing preload: the stem
// and nut, the two opposed tapered bearings, and what stands between their cones.
//
// # What it models
//
// A Build is one assembly in progress. Turning the nut draws flange and cones
// together against whatever is between the cones:
//
//   - a collapsible spacer (Params.Spacer), which gives elastically, then crushes
//     and stays crushed;
//   - a solid spacer with shims (Params.SolidStiffnessNPerMM), which does not;
//   - nothing (neither given), a trial build: the cones simply close.
//
// The balance, with legend:
//
//	N = S + P          stem force = spacer force + preload           N
//	u = x − N/k_nut    cones' approach = nut advance − stretch        mm
//	P = f(u − g)       preload; f inverts the pair's deflection law    N
//	S = k_s (u − q)    spacer, 0 ≤ S ≤ Y(q); or S = k_sol u, S ≥ 0     N
//	T = Tp + λ N       nut torque while tightening                     N·mm
//	T = −(Tp + λoff N) nut torque while backing off                    N·mm
//	Y(q) = Y0 + (Ypk − Y0) exp(−q/dpk) + H q, and steeper past the usable crush
//
// # State
//
// Only these change: the nut's position x, the spacer's set q (never falls), the
// cup gaps still open (never grow) and the turns the pinion has had. Everything
// else is computed from them, so a move made in one go and the same move made in
// steps end in the same state.
//
// # Zero, signs, units
//
// Millimetres, newtons, N/mm, newton millimetres, degrees. x = 0, and nut angle 0,
// is where the nut has just brought flange, cones and a new free spacer into
// contact. Turning + tightens. Torque is + when tightening, − when backing off.
// End play is the axial movement the pinion has when nothing is preloaded;
// preload and end play are never both above zero.
//
// # Order of events
//
//   - A cup that stands off its shoulder stays there while the preload is below
//     the force that holds it. When tightening brings the preload to that force
//     the cup goes home in one move, at the same nut position, and the preload
//     drops. If both cups are held by the same force the head cup goes first.
//   - A cup going home and rollers finding the rib both take preload off and put a
//     little more of the nut's pull on the spacer, which may crush a trifle
//     further. It never un-crushes; it only springs back.
//   - Rollers that have not been turned in make the pair too tall by
//     UnseatedRollersMM · (1 − r), r = 1 − exp(−turns/1.5).
//
// # Assumptions and validity
//
//   - Stem, threads, flange and cones are one linear spring; housing likewise.
//   - Friction is constant through a pull. The torque to restart a nut at rest is
//     taken equal to the torque that moves it.
//   - The spacer's load depends on its set alone. The curve is bracketed by tube
//     formulas (see TubeFold2001N and its neighbours); no measured curve of a
//     pinion spacer has been published. Elastic, unloading and reloading lines are
//     one straight line.
//   - A spacer that softens faster than a quarter of the nut's stiffness would let
//     the assembly snap; New refuses it (ErrSpacerSnaps).
//   - Numbers for roller seating and held cups are engineering choices; that both
//     happen is published in words.
//
// Left out: seal drag, breakaway jerk, ripple over a turn, instrument error,
// temperature (see bearing.BackToBackPair), yield of stem or thread.
//
// # Sources
//
//	[1] VDI 2230, equations R13/1 and 5.5/2, as restated in open software: thread
//	    torque and assembly preload.
//	[2] Rolling Bearings, Cat. E1102m, section 10.3 and p. A128: preloaded pair.
//	[3] General Catalogue 6000 EN pp. 209-215, 610: preload; rollers must be seated
//	    by turning.
//	[4] TM 9-2320-289-34 p. 6-119; TM 9-2320-387-24-2 p. 30-17: collapsible spacer,
//	    small steps, replace an overrun spacer. TM 10-3930-660-34 p. 9-16: solid
//	    spacer, thinner raises preload.
//	[5] Abramowicz and Jones, axial crushing of tubes, 1984 and 1986; Alexander 1960
//	    (all from memory).
//	[6] Guillow, Lu, Grzebieta, Int. J. Mech. Sci. 43 (2001) 2103-2123.
//	[7] NASA-STD-5020 and NSTS 08307 as cited in J. Fail. Anal. Prev. 2019,
//	    10.1007/s11668-019-00693-z: scatter of force at a given torque.
package pinion
