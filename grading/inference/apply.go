package inference

import (
	"math"
	"sync"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/pinion"
)

// NutStartSDDeg is how closely a finger-tight nut stands before the end of the end play, as a
// standard deviation in degrees.
const NutStartSDDeg = 45

// springsBack is what a degree back is worth on a crushed spacer, share of a degree on (estimate
// from this model).
const springsBack = 0.7

// newBearings: another head bearing stands as much taller or shorter as bearings do.
func (t *Tracker) newBearings() {
	const sd = scenarios.BearingHeightSDMM
	t.washed()
	t.cupsSeated()
	t.b.Move(shimRow, 0, sd)
	t.b.Move(tallRow, 0, sd)
	if t.solid() && t.design.DepthShim != family.BehindInnerCup {
		t.b.Move(preloadShimRow, 0, sd)
	}
}

// anotherSet: its pinion has the mark of the one before, and what a mark leaves out is its
// own. The ring gear was bolted on clean.
func (t *Tracker) anotherSet() {
	t.b.Set(gearRow, 0, 0)
	t.b.Set(markRow, 0, scenarios.MarkSD(t.sheet))
	t.b.Set(patternRow, 0, technician.PatternSetSD)
}

// apply takes in how the axle stands now, and moves the belief for what an act did.
func (t *Tracker) apply(o history.Step) {
	a, was, is := o.Act, o.Before, o.After
	t.stand(is)
	t.curedBy(a.Form)
	if is.DepthShim != was.DepthShim {
		t.b.Set(inHandRow, 0, sim.ShimScatterMM)
	}
	switch a.Form {
	case act.FitDepthShim:
		if is.Pinion != history.PinionOut { // under the cage
			t.b.Move(inHandRow, 0, sim.RefitMM)
		}
	case act.FitSideShims:
		t.b.Set(pairRow, 0, math.Sqrt2*sim.ShimScatterMM)
		t.b.Set(placeRow, 0, sim.ShimScatterMM/math.Sqrt2)
	case act.FitPinion:
		t.b.Move(inHandRow, 0, sim.RefitMM)
		t.rocks = false
		if is.Pinion == history.PinionFinal {
			if !t.solid() {
				slope := t.gains.TorquePerDegreeNmm
				t.b.Set(torqueRow, t.gains.TorqueAtContactNmm-t.gains.DegreesToContact*slope, NutStartSDDeg*slope)
			}
		} else {
			w := t.spec()
			t.b.Set(torqueRow, w.Mid(), w.Mid()/3)
		}
	case act.RemovePinion:
		if was.Pinion == history.PinionFinal {
			t.cured(fault.SpacerCrushed, fault.SpacerShort)
			if !t.solid() {
				t.risk[fault.NutUsed] = 0 // a new pair lies ready
			}
		}
		t.loosened, t.opened = 0, true
	case act.TurnPinion:
		t.turned(o)
	case act.TightenNutAngle:
		t.nutMoved(o, a.Amounts[0].Number)
	case act.TightenNutTorque:
		for _, rd := range o.Readings {
			if rd.Kind == gauge.NutAngle {
				t.nutMoved(o, rd.Degrees)
			}
		}
	case act.LoosenNut:
		t.nutMoved(o, -a.Amounts[0].Number)
	case act.FitCase:
		if is.CaseIn {
			t.b.Move(placeRow, 0, sim.RefitMM)
		}
	case act.RemoveCase:
		t.shaftsOut() // they run in it
	case act.SeatCups:
		t.cupsSeated()
	case act.SeatCones:
		t.conesSeated()
	case act.WashBearings:
		t.washed()
	case act.ReplaceBearings:
		t.newBearings()
	case act.ReplaceGears:
		t.anotherSet()
	case act.ReplaceSlinger:
		t.b.Set(slingerRow, 0, 0)
	case act.CleanShimSeat:
		t.b.Set(dirtRow, 0, 0)
	case act.RemoveShafts:
		t.shaftsOut()
	case act.GreaseBearings:
		t.cured(fault.PackingGrease) // whatever was in them: now it is certain
		t.b.Set(greaseRow, assembly.GreaseDragNmm, 0)
		t.risk[fault.PackingGrease] = 1
	case act.ReplaceSeal:
		s := t.card.Family.Model.SealNmm
		t.b.Set(sealRow, s.Mid(), evenSD(s))
	case act.ReplaceCase, act.ReplaceSideBearings:
		t.conesSeated()
	}
}

// curedBy takes out what an act cures. A test of an instrument that puts it right says itself
// what it found.
func (t *Tracker) curedBy(form act.Form) {
	t.cured(cures()[form]...)
}

// cures lists by act the faults that it cures and does not find.
var cures = sync.OnceValue(func() map[act.Form][]fault.ID {
	out := map[act.Form][]fault.ID{}
	for _, u := range act.Usages() {
		for f := range fault.Each() {
			if f.CuredBy(u.Form) && f.Test != u.Form {
				out[u.Form] = append(out[u.Form], f.ID)
			}
		}
	}
	return out
})

func (t *Tracker) washed() {
	t.b.Set(greaseRow, 0, 0)
}

func (t *Tracker) shaftsOut() {
	t.b.Set(brakeRow, 0, 0)
}

// cupsHome: a cup that stood off went in, and took the pinion out by its gap.
func (t *Tracker) cupsSeated() {
	t.b.Set(innerGapRow, 0, 0)
	t.b.Set(outerGapRow, 0, 0)
}

// conesHome: cones that stood off went in, and took the ring gear along.
func (t *Tracker) conesSeated() {
	if t.rings() && t.AdjustersUp {
		// The rings were run up to cones that have now gone home.
		t.b.Add(splitRow, belief.Look{ringGearGapRow: 1})
		t.b.Add(lineRow, belief.Look{ringGearGapRow: 1, oppositeGapRow: 1})
	}
	t.b.Set(ringGearGapRow, 0, 0)
	t.b.Set(oppositeGapRow, 0, 0)
}

// nutMoved carries the drag along with the nut and takes in what the hand felt.
func (t *Tracker) nutMoved(o history.Step, degrees float64) {
	t.rocks = false
	if t.solid() {
		return // the pack sets the preload, the nut only has to hold
	}
	// While there is play a degree takes out a degree's worth of it; once there is none, this
	// axle's own steepness counts.
	slope, sure := t.gains.TorquePerDegreeNmm, 0.02
	if degrees < 0 && t.b.Mean(torqueRow) > t.noPlay() {
		// A crushed spacer springs back a little and holds some of the preload up.
		slope, sure = springsBack*slope, 0.2
	}
	t.b.Move(torqueRow, slope*degrees, slope*math.Hypot(sim.ChalkDeg, sure*degrees))
	steep := math.Min(slope*math.Abs(degrees), math.Max(t.b.Mean(torqueRow), 0))
	t.b.Add(torqueRow, belief.Look{slopeRow: math.Copysign(steep, degrees)})
	// Rollers that are not home take up play until the pinion is turned.
	h, felt := belief.Look{torqueRow: 1}, t.noPlay()-t.unseated()
	trace := sim.EndPlayTraceMM / t.threadMMPerDegree() * slope
	switch {
	case o.Felt(history.PlentyOfEndPlay):
		_ = t.b.Below(h, felt-trace, 0)
	case o.Felt(history.TraceOfEndPlay):
		_ = t.b.Between(h, felt-trace, felt, 0)
	case o.Felt(history.NoEndPlay):
		_ = t.b.Above(h, felt, 0)
	}
}

// turned takes in how the pinion went round: freely, or against a preload.
func (t *Tracker) turned(o history.Step) {
	if t.Pinion != history.PinionFinal {
		return
	}
	h, c := t.torqueLook()
	none := t.noPlay() - c - t.unseated()
	t.rocks = o.Felt(history.PinionRocks)
	if t.rocks {
		_ = t.b.Below(h, none, 0)
	} else {
		_ = t.b.Above(h, none, 0)
	}
}

// noPlay is where the bearing drag of a pinion that is just losing its end play would lie,
// were every degree or shim worth as much as about the middle of the window, N·mm.
func (t *Tracker) noPlay() float64 {
	if t.solid() {
		none, _ := t.straight(0)
		return none
	}
	return t.gains.TorqueAtContactNmm
}

// unseated is how much more the pinion drags while its rollers are not home, N·mm: so much
// less play there is.
func (t *Tracker) unseated() float64 {
	perMM := t.gains.TorquePerPreloadShimNmmPerMM
	if !t.solid() {
		perMM = t.gains.TorquePerDegreeNmm / t.threadMMPerDegree()
	}
	return perMM * t.card.Family.Model.UnseatedRollersMM * (1 - pinion.SeatingAfter(t.Turns))
}

func (t *Tracker) threadMMPerDegree() float64 { return t.card.Family.Model.ThreadPitchMM / 360 }
