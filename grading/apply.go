package grading

import (
	"math"
	"slices"
	"strings"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/pinion"
	"shimwright/sim/truth"
)

// newBearings: another head bearing stands as much taller or shorter as bearings do.
func (r *reasoner) newBearings() {
	const sd = scenarios.BearingHeightSDMM
	r.cured(truth.BearingNotched)
	r.washed()
	r.cupsHome()
	r.b.Move(shimRow, 0, sd)
	r.b.Move(tallRow, 0, sd)
	if r.solid() && r.design.DepthShim != family.BehindHeadCup {
		r.b.Move(packRow, 0, sd)
	}
	r.told[act.MeasureBearings], r.told[act.LookBearings] = false, false
}

// anotherSet: its pinion has the mark of the one before, and what a mark leaves out is its
// own. The ring gear was bolted on clean.
func (r *reasoner) anotherSet() {
	r.cured(truth.SetMixed, truth.GearForOther, truth.GearWarped, truth.PinionBent, truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre)
	r.b.Set(gearRow, 0, 0)
	r.b.Set(markRow, 0, scenarios.MarkSD(r.sheet))
	r.b.Set(printRow, 0, setPrintSD)
	r.told[act.LookGears], r.told[act.MeasurePinionRunout] = false, false
}

// apply moves the visible build and the belief for what an act did.
func (r *reasoner) apply(o sim.Outcome) {
	a := o.Act
	switch a.Form {
	case act.FitDepthShim:
		if mm := r.sheet.DepthShims.Nearest(lengthMM(a, 0)); mm != r.depthShim {
			r.depthShim = mm
			r.b.Set(inHandRow, 0, shimSDMM)
		}
		if r.pinion != sim.PinionOut {
			// Under the cage: what was read of depth and backlash is of another place.
			r.gaugeReads, r.lashReads = 0, 0
			r.told[act.RollGears] = false
			r.b.Move(inHandRow, 0, refitSDMM)
		}
	case act.FitPack:
		r.pack = r.design.Solid.Pack.Nearest(lengthMM(a, 0))
	case act.SpreadHousing:
		r.spread = lengthMM(a, 0)
	case act.TurnBackRing, act.TurnToothRing:
		for _, rd := range o.Readings {
			in := rd.Slots * r.design.Rings.SlotTravelMM()
			if a.Form == act.TurnBackRing {
				r.back += in
			} else {
				r.tooth += in
			}
		}
		r.lashReads = 0
	case act.SlackenCaps:
		r.capsTight = false
	case act.FitSideShims:
		r.back = r.sheet.SideShims.Nearest(lengthMM(a, 0))
		r.tooth = r.sheet.SideShims.Nearest(lengthMM(a, 1))
		r.b.Set(pairRow, 0, math.Sqrt2*shimSDMM)
		r.b.Set(placeRow, 0, shimSDMM/math.Sqrt2)
	case act.FitPinion:
		r.b.Move(inHandRow, 0, refitSDMM)
		r.turns, r.gaugeReads, r.lastTorque, r.sincePull, r.backedOff, r.contactFelt = 0, 0, 0, false, false, false
		r.reused, r.rocks = false, false
		r.told[act.RollGears] = false // a new build's print has to be read once
		if a.Choices[0] == "final" {
			r.pinion, r.packShim = sim.PinionFinal, r.depthShim
			if !r.solid() {
				slope := r.gains.DragPerDegreeNmm
				r.b.Set(dragRow, r.gains.DragAtContactNmm-r.gains.DegreesToContact*slope, 45*slope)
			}
			r.reused = r.risk[truth.SpacerCrushed]+r.risk[truth.SpacerShort] > 0.5
		} else {
			r.pinion, r.turns = sim.PinionTrial, 6
			r.contactFelt = true
			w := r.window()
			r.b.Set(dragRow, w.Mid(), w.Mid()/3)
		}
	case act.RemovePinion:
		if r.pinion == sim.PinionFinal {
			r.cured(truth.SpacerCrushed, truth.SpacerShort)
			if !r.solid() {
				r.risk[truth.NutUsed] = 0 // a new pair lies ready
			}
		}
		r.loosened = 0
		r.pinion = sim.PinionOut
	case act.TurnPinion:
		r.turns += a.Amounts[0].Number
		r.turned(o)
	case act.TurnNutAngle:
		r.nutMoved(o, a.Amounts[0].Number)
	case act.TurnNutTorque:
		for _, rd := range o.Readings {
			if rd.What == "nut-angle" {
				r.nutMoved(o, rd.Degrees)
			}
		}
	case act.BackNut:
		if !r.backedOff {
			r.backedOff, r.backDeg = true, 0
		}
		r.backDeg += a.Amounts[0].Number
		r.nutMoved(o, -a.Amounts[0].Number)
	case act.FitCase:
		for _, rd := range o.Readings {
			if rd.What == "case-fit" && rd.Found {
				return
			}
		}
		r.caseIn, r.capsTight, r.lashReads, r.spread, r.ringsUp = true, false, 0, 0, true
		r.b.Move(placeRow, 0, refitSDMM)
	case act.RemoveCase:
		r.caseIn, r.capsTight = false, false
		r.shaftsOut() // they run in it
	case act.TorqueCaps:
		r.capsTight = true
	case act.SeatCups:
		r.cupsHome()
	case act.SeatCones:
		r.conesHome()
	case act.WashBearings:
		r.washed()
	case act.ReplaceBearings:
		r.newBearings()
	case act.ReplaceGears:
		r.anotherSet()
	case act.ReplaceSlinger:
		r.cured(truth.SlingerOut)
		r.b.Set(slingerRow, 0, 0)
	case act.CleanShimSeat:
		r.cured(truth.DirtUnderShim)
		r.b.Set(dirtRow, 0, 0)
	case act.RemoveShafts:
		r.shaftsOut()
	case act.GreaseBearings:
		r.b.Set(greaseRow, assembly.GreaseDragNmm, 0)
	case act.MatchCaps:
		r.risk[truth.CapsSwapped], r.risk[truth.CapTurned] = 0, 0
	case act.ReplaceSeal:
		s := r.card.Family.Model.SealNmm
		r.cured(truth.SealTight)
		r.b.Set(sealRow, s.Mid(), evenSD(s))
	case act.ReplaceSpacer:
		r.cured(truth.SpacerCrushed, truth.SpacerShort, truth.NutUsed)
	case act.CleanRingGear:
		r.cured(truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre)
	case act.ReplaceCase:
		r.cured(truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre, truth.BentFlange)
		r.conesHome()
	case act.MeasureDrag:
		if a.Choices[0] == "turning" {
			r.turns += 2
		}
	}
}

func (r *reasoner) washed() {
	r.cured(truth.PackingGrease, truth.BearingGritty)
	r.b.Set(greaseRow, 0, 0)
}

func (r *reasoner) shaftsOut() {
	r.cured(truth.BrakesOn)
	r.b.Set(brakeRow, 0, 0)
}

// cupsHome: a cup that stood off went in, and took the pinion out by its gap.
func (r *reasoner) cupsHome() {
	r.cured(truth.HeadCupHigh, truth.TailCupHigh)
	r.b.Set(headGapRow, 0, 0)
	r.b.Set(tailGapRow, 0, 0)
}

// conesHome: cones that stood off went in, and took the ring gear along.
func (r *reasoner) conesHome() {
	r.cured(truth.SideConeHigh, truth.ToothConeHigh)
	if r.rings() && r.ringsUp {
		// The rings were run up to cones that have now gone home.
		r.b.Add(splitRow, belief.Look{backGapRow: 1})
		r.b.Add(lineRow, belief.Look{backGapRow: 1, toothGapRow: 1})
	}
	r.b.Set(backGapRow, 0, 0)
	r.b.Set(toothGapRow, 0, 0)
}

// nutMoved carries the drag along with the nut and takes in what the hand felt.
func (r *reasoner) nutMoved(o sim.Outcome, degrees float64) {
	r.sincePull, r.rocks = false, false
	if degrees > 0 && r.backedOff {
		r.backDeg -= degrees
		r.backedOff = r.backDeg >= 0 // past where it was, the spacer crushes on
	}
	if r.solid() {
		r.contactFelt = true
		return // the pack sets the preload, the nut only has to hold
	}
	// A chalk mark is met to half a degree. While there is play a degree takes out a degree's
	// worth of it; once there is none, this axle's own steepness counts.
	const handDeg = 0.5
	slope := r.gains.DragPerDegreeNmm
	r.b.Move(dragRow, slope*degrees, slope*math.Hypot(handDeg, 0.02*degrees))
	steep := math.Min(slope*math.Abs(degrees), math.Max(r.b.Mean(dragRow), 0))
	r.b.Add(dragRow, belief.Look{slopeRow: math.Copysign(steep, degrees)})
	// Rollers that are not home take up play until the pinion is turned.
	h, felt := belief.Look{dragRow: 1}, r.noPlay()-r.unseated()
	trace := sim.EndPlayTraceMM / r.threadMMPerDegree() * slope
	for _, n := range o.Notes {
		switch {
		case has(n, "plenty of end play"):
			_ = r.b.Below(h, felt-trace, 0)
		case has(n, "a trace of end play"):
			_ = r.b.Between(h, felt-trace, felt, 0)
		case has(n, "no end play"):
			_ = r.b.Above(h, felt, 0)
			r.contactFelt = true
		}
	}
}

// turned takes in how the pinion went round: freely, or against a preload.
func (r *reasoner) turned(o sim.Outcome) {
	if r.pinion != sim.PinionFinal {
		return
	}
	h, c := r.dragLook()
	none := r.noPlay() - c - r.unseated()
	r.rocks = noted(o.Notes, "there is end play")
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
	return r.gains.DragAtContactNmm
}

// unseated is how much more the pinion drags while its rollers are not home, N·mm: so much
// less play there is.
func (r *reasoner) unseated() float64 {
	perMM := r.gains.DragPerPackNmmPerMM
	if !r.solid() {
		perMM = r.gains.DragPerDegreeNmm / r.threadMMPerDegree()
	}
	return perMM * r.card.Family.Model.UnseatedRollersMM * (1 - pinion.SeatingAfter(r.turns))
}

func (r *reasoner) threadMMPerDegree() float64 { return r.card.Family.Model.ThreadPitchMM / 360 }

func lengthMM(a act.Act, i int) float64 {
	l, _ := a.Amounts[i].Length()
	return l.MM()
}

func has(text, part string) bool { return strings.Contains(text, part) }

// noted tells whether one of the notes has a part of text in it.
func noted(notes []string, part string) bool {
	return slices.ContainsFunc(notes, func(n string) bool { return has(n, part) })
}
