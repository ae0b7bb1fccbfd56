package grading

import (
	"math"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/pinion"
)

// newBearings: another head bearing stands as much taller or shorter as bearings do.
func (r *reasoner) newBearings() {
	const sd = scenarios.BearingHeightSDMM
	r.washed()
	r.cupsSeated()
	r.b.Move(shimRow, 0, sd)
	r.b.Move(tallRow, 0, sd)
	if r.solid() && r.design.DepthShim != family.BehindInnerCup {
		r.b.Move(preloadShimRow, 0, sd)
	}
	r.told[act.MeasureBearings], r.told[act.InspectBearings] = false, false
}

// anotherSet: its pinion has the mark of the one before, and what a mark leaves out is its
// own. The ring gear was bolted on clean.
func (r *reasoner) anotherSet() {
	r.b.Set(gearRow, 0, 0)
	r.b.Set(markRow, 0, scenarios.MarkSD(r.sheet))
	r.b.Set(patternRow, 0, setPatternSD)
	r.told[act.InspectGears], r.told[act.MeasurePinionRunout] = false, false
}

// apply takes in how the axle stands now, and moves the belief for what an act did.
func (r *reasoner) apply(o history.Step) {
	a, was, is := o.Act, o.Before, o.After
	r.stand(is)
	r.curedBy(a.Form)
	if is.Builds != was.Builds || is.Pinion != was.Pinion || is.DepthShim != was.DepthShim {
		// What was read of depth is of another place.
		r.gaugeReads = 0
		r.told[act.RollGears] = false
	}
	if is.Changes.Depth != was.Changes.Depth || is.Changes.Sides != was.Changes.Sides {
		r.lashReads = 0
	}
	if is.DepthShim != was.DepthShim {
		r.b.Set(inHandRow, 0, sim.ShimScatterMM)
	}
	switch a.Form {
	case act.FitDepthShim:
		if is.Pinion != history.PinionOut { // under the cage
			r.b.Move(inHandRow, 0, sim.RefitMM)
		}
	case act.FitSideShims:
		r.b.Set(pairRow, 0, math.Sqrt2*sim.ShimScatterMM)
		r.b.Set(placeRow, 0, sim.ShimScatterMM/math.Sqrt2)
	case act.FitPinion:
		r.b.Move(inHandRow, 0, sim.RefitMM)
		r.reused, r.rocks = false, false
		if is.Pinion == history.PinionFinal {
			r.preloadDepthShim = r.depthShim
			if !r.solid() {
				slope := r.gains.TorquePerDegreeNmm
				r.b.Set(torqueRow, r.gains.TorqueAtContactNmm-r.gains.DegreesToContact*slope, 45*slope)
			}
			r.reused = r.risk[fault.SpacerCrushed]+r.risk[fault.SpacerShort] > 0.5
		} else {
			w := r.spec()
			r.b.Set(torqueRow, w.Mid(), w.Mid()/3)
		}
	case act.RemovePinion:
		if was.Pinion == history.PinionFinal {
			r.cured(fault.SpacerCrushed, fault.SpacerShort)
			if !r.solid() {
				r.risk[fault.NutUsed] = 0 // a new pair lies ready
			}
		}
		r.loosened = 0
	case act.TurnPinion:
		r.turned(o)
	case act.TightenNutAngle:
		r.nutMoved(o, a.Amounts[0].Number)
	case act.TightenNutTorque:
		for _, rd := range o.Readings {
			if rd.Kind == gauge.NutAngle {
				r.nutMoved(o, rd.Degrees)
			}
		}
	case act.LoosenNut:
		r.nutMoved(o, -a.Amounts[0].Number)
	case act.FitCase:
		if is.CaseIn {
			r.b.Move(placeRow, 0, sim.RefitMM)
		}
	case act.RemoveCase:
		r.shaftsOut() // they run in it
	case act.SeatCups:
		r.cupsSeated()
	case act.SeatCones, act.ReplaceSideBearings:
		r.conesSeated()
	case act.WashBearings:
		r.washed()
	case act.ReplaceBearings:
		r.newBearings()
	case act.ReplaceGears:
		r.anotherSet()
	case act.ReplaceSlinger:
		r.b.Set(slingerRow, 0, 0)
	case act.CleanShimSeat:
		r.b.Set(dirtRow, 0, 0)
	case act.RemoveShafts:
		r.shaftsOut()
	case act.GreaseBearings:
		r.b.Set(greaseRow, assembly.GreaseDragNmm, 0)
	case act.ReplaceSeal:
		s := r.card.Family.Model.SealNmm
		r.b.Set(sealRow, s.Mid(), evenSD(s))
	case act.ReplaceCase:
		r.conesSeated()
	}
}

// curedBy takes out what an act cures. A test of an instrument that puts it right says itself
// what it found.
func (r *reasoner) curedBy(form act.Form) {
	for _, f := range fault.All() {
		if f.CuredBy(form) && f.Test != form {
			r.cured(f.ID)
		}
	}
}

func (r *reasoner) washed() {
	r.b.Set(greaseRow, 0, 0)
}

func (r *reasoner) shaftsOut() {
	r.b.Set(brakeRow, 0, 0)
}

// cupsHome: a cup that stood off went in, and took the pinion out by its gap.
func (r *reasoner) cupsSeated() {
	r.b.Set(innerGapRow, 0, 0)
	r.b.Set(outerGapRow, 0, 0)
}

// conesHome: cones that stood off went in, and took the ring gear along.
func (r *reasoner) conesSeated() {
	if r.rings() && r.AdjustersUp {
		// The rings were run up to cones that have now gone home.
		r.b.Add(splitRow, belief.Look{ringGearGapRow: 1})
		r.b.Add(lineRow, belief.Look{ringGearGapRow: 1, oppositeGapRow: 1})
	}
	r.b.Set(ringGearGapRow, 0, 0)
	r.b.Set(oppositeGapRow, 0, 0)
}

// nutMoved carries the drag along with the nut and takes in what the hand felt.
func (r *reasoner) nutMoved(o history.Step, degrees float64) {
	r.rocks = false
	if r.solid() {
		return // the pack sets the preload, the nut only has to hold
	}
	// While there is play a degree takes out a degree's worth of it; once there is none, this
	// axle's own steepness counts.
	slope := r.gains.TorquePerDegreeNmm
	r.b.Move(torqueRow, slope*degrees, slope*math.Hypot(sim.ChalkDeg, 0.02*degrees))
	steep := math.Min(slope*math.Abs(degrees), math.Max(r.b.Mean(torqueRow), 0))
	r.b.Add(torqueRow, belief.Look{slopeRow: math.Copysign(steep, degrees)})
	// Rollers that are not home take up play until the pinion is turned.
	h, felt := belief.Look{torqueRow: 1}, r.noPlay()-r.unseated()
	trace := sim.EndPlayTraceMM / r.threadMMPerDegree() * slope
	switch {
	case o.Felt(history.PlentyOfEndPlay):
		_ = r.b.Below(h, felt-trace, 0)
	case o.Felt(history.TraceOfEndPlay):
		_ = r.b.Between(h, felt-trace, felt, 0)
	case o.Felt(history.NoEndPlay):
		_ = r.b.Above(h, felt, 0)
	}
}

// turned takes in how the pinion went round: freely, or against a preload.
func (r *reasoner) turned(o history.Step) {
	if r.Pinion != history.PinionFinal {
		return
	}
	h, c := r.torqueLook()
	none := r.noPlay() - c - r.unseated()
	r.rocks = o.Felt(history.PinionRocks)
	if r.rocks {
		_ = r.b.Below(h, none, 0)
	} else {
		_ = r.b.Above(h, none, 0)
	}
}

// noPlay is where the bearing drag of a pinion that is just losing its end play would lie,
// were every degree or shim worth as much as about the middle of the window, N·mm.
func (r *reasoner) noPlay() float64 {
	if r.solid() {
		none, _ := r.straight(0)
		return none
	}
	return r.gains.TorqueAtContactNmm
}

// unseated is how much more the pinion drags while its rollers are not home, N·mm: so much
// less play there is.
func (r *reasoner) unseated() float64 {
	perMM := r.gains.TorquePerPreloadShimNmmPerMM
	if !r.solid() {
		perMM = r.gains.TorquePerDegreeNmm / r.threadMMPerDegree()
	}
	return perMM * r.card.Family.Model.UnseatedRollersMM * (1 - pinion.SeatingAfter(r.Turns))
}

func (r *reasoner) threadMMPerDegree() float64 { return r.card.Family.Model.ThreadPitchMM / 360 }

func lengthMM(a act.Act, i int) float64 {
	l, _ := a.Amounts[i].Length()
	return l.MM()
}
