package grading

import (
	"math"
	"strings"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/scenarios/fault"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/truth"
)

// seatClean: dirt that was believed there is gone, and what was read on it moves along.
func (r *reasoner) seatClean() {
	was := r.seatDirt
	r.seatDirt, r.risk[truth.DirtUnderShim] = amount{}, 0
	if was == (amount{}) {
		return
	}
	if r.gauged {
		r.b.Move(shimRow, was.mean, was.sd)
	}
	if r.solid() && r.packRead && r.design.DepthShim == family.BehindHeadCup {
		r.b.Move(packRow, -was.mean, was.sd)
	}
	r.byCard()
}

// newBearings: another head bearing stands as much taller or shorter as bearings do.
func (r *reasoner) newBearings() {
	const sd = scenarios.BearingHeightSDMM
	r.risk[truth.BearingNotched], r.risk[truth.BearingGritty], r.risk[truth.PackingGrease] = 0, 0, 0
	r.b.Set(greaseRow, 0, 20)
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
	r.clear(truth.SetMixed, truth.GearForOther, truth.GearWarped, truth.PinionBent, truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre)
	r.gearAway = 0
	sd := math.Sqrt2 * scenarios.MarkSD(r.sheet)
	r.b.Move(shimRow, 0, sd)
	if r.solid() && r.design.DepthShim == family.BehindHeadCup {
		r.b.Move(packRow, 0, sd)
	}
	r.told[act.LookGears], r.told[act.MeasurePinionRunout] = false, false
}

func (r *reasoner) clear(ids ...truth.FaultID) {
	for _, id := range ids {
		r.risk[id] = 0
	}
}

// slingerThick is what a missing slinger takes from under the shim, mm.
func slingerThick() amount {
	f, err := fault.Find(truth.SlingerOut)
	if err != nil {
		return amount{}
	}
	return amount{(f.Low + f.High) / 2, (f.High - f.Low) / math.Sqrt(12)}
}

// noSlinger: it was seen, or by the gauge can only be, that the slinger is not in. As
// things stand the right shim is thicker by so much.
func (r *reasoner) noSlinger(sure float64) {
	if r.risk[truth.SlingerOut] < 0.5 && !r.gauged {
		t := slingerThick()
		r.b.Move(shimRow, t.mean, t.sd)
		if r.solid() && !r.packRead && r.design.DepthShim == family.BehindHeadCup {
			r.b.Move(packRow, -t.mean, t.sd)
		}
	}
	r.risk[truth.SlingerOut] = sure
}

// slingerIn takes that back again.
func (r *reasoner) slingerIn() {
	was := r.risk[truth.SlingerOut] >= 0.5
	r.risk[truth.SlingerOut] = 0
	t := slingerThick()
	switch {
	case !was:
		return
	case r.gauged:
		r.b.Move(shimRow, -t.mean, t.sd)
	}
	if r.solid() && r.packRead && r.design.DepthShim == family.BehindHeadCup {
		r.b.Move(packRow, t.mean, t.sd)
	}
	r.byCard()
}

// apply moves the visible build and the belief for what an act did.
func (r *reasoner) apply(o sim.Outcome) {
	a := o.Act
	switch a.Form {
	case act.FitDepthShim:
		r.depthShim = r.sheet.DepthShims.Nearest(lengthMM(a, 0))
		if r.pinion != sim.PinionOut {
			// Under the cage: what was read of depth and backlash is of another place.
			r.gaugeReads, r.lashReads = 0, 0
			r.told[act.RollGears] = false
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
	case act.FitPinion:
		r.turns, r.gaugeReads, r.lastTorque, r.sincePull, r.backedOff, r.contactFelt = 0, 0, 0, false, false, false
		r.reused = false
		r.told[act.RollGears] = false // a new build's print has to be read once
		if a.Choices[0] == "final" {
			r.pinion, r.packShim = sim.PinionFinal, r.depthShim
			if !r.solid() {
				slope := r.gains.DragPerDegreeNmm
				r.b.Set(dragRow, -r.gains.DegreesToContact*slope, 45*slope)
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
			r.clear(truth.SpacerCrushed, truth.SpacerShort)
			if !r.solid() {
				r.risk[truth.NutUsed] = 0 // a new pair lies ready
			}
		}
		r.loosened = 0
		r.pinion = sim.PinionOut
	case act.TurnPinion:
		r.turns += a.Amounts[0].Number
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
	case act.RemoveCase:
		r.caseIn, r.capsTight = false, false
		r.risk[truth.BrakesOn] = 0 // the shafts run in it
	case act.TorqueCaps:
		r.capsTight = true
	case act.SeatCups:
		r.cupsHome()
	case act.SeatCones:
		r.conesHome()
	case act.WashBearings:
		r.clear(truth.PackingGrease, truth.BearingGritty)
		r.b.Set(greaseRow, 0, 20)
	case act.ReplaceBearings:
		r.newBearings()
	case act.ReplaceGears:
		r.anotherSet()
	case act.ReplaceSlinger:
		r.slingerIn()
	case act.CleanShimSeat:
		r.seatClean()
	case act.RemoveShafts:
		r.risk[truth.BrakesOn] = 0
	case act.GreaseBearings:
		r.b.Set(greaseRow, assembly.GreaseDragNmm, 150)
	case act.MatchCaps:
		r.risk[truth.CapsSwapped], r.risk[truth.CapTurned] = 0, 0
	case act.ReplaceSeal:
		s := r.card.Family.Model.SealNmm
		r.risk[truth.SealTight] = 0
		r.b.Set(sealRow, (s.Low+s.High)/2, (s.High-s.Low)/math.Sqrt(12))
	case act.ReplaceSpacer:
		r.clear(truth.SpacerCrushed, truth.SpacerShort, truth.NutUsed)
	case act.CleanRingGear:
		r.clear(truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre)
	case act.ReplaceCase:
		r.clear(truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre, truth.BentFlange)
		r.conesHome()
	case act.MeasureDrag:
		if a.Choices[0] == "turning" {
			r.turns += 2
		}
	}
}

// cupsHome: a cup that stood off went in, and took the pinion out by its gap.
func (r *reasoner) cupsHome() {
	if r.risk[truth.HeadCupHigh] == 1 {
		r.headGap, r.cupGaps = amount{}, amount{}
		m, sd := r.shimByCard()
		r.b.Set(shimRow, m, sd)
		r.gauged = false
	}
	r.risk[truth.HeadCupHigh], r.risk[truth.TailCupHigh] = 0, 0
}

// conesHome: cones that stood off went in, and took the ring gear along.
func (r *reasoner) conesHome() {
	back, tooth := r.coneGaps[0], r.coneGaps[1]
	switch {
	case back == 0 && tooth == 0:
	case !r.rings():
		r.setSides(0, 0, 0)
	case r.ringsUp:
		// The rings were run up to cones that have now gone home.
		const feelerSDMM = 0.02
		r.b.Move(splitRow, (back-tooth)/2, feelerSDMM/2)
		r.b.Move(lineRow, back+tooth, feelerSDMM)
	}
	r.coneGaps = [2]float64{}
	r.risk[truth.SideConeHigh], r.risk[truth.ToothConeHigh] = 0, 0
}

// nutMoved carries the drag along with the nut and takes in what the hand felt.
func (r *reasoner) nutMoved(o sim.Outcome, degrees float64) {
	r.turns, r.sincePull = 0, false
	if degrees > 0 && r.backedOff {
		r.backDeg -= degrees
		r.backedOff = r.backDeg >= 0 // past where it was, the spacer crushes on
	}
	if r.solid() {
		r.contactFelt = true
		return // the pack sets the preload, the nut only has to hold
	}
	slope := r.gains.DragPerDegreeNmm
	r.b.Move(dragRow, slope*degrees, 0.15*slope*math.Abs(degrees)+0.5*slope)
	h := belief.Look{dragRow: 1}
	trace := sim.EndPlayTraceMM / r.threadMMPerDegree() * slope
	for _, n := range o.Notes {
		switch {
		case has(n, "plenty of end play"):
			_ = r.b.Below(h, -trace, 0)
		case has(n, "a trace of end play"):
			_ = r.b.Between(h, -trace, 0, 0)
		case has(n, "no end play"):
			_ = r.b.Above(h, 0, 0)
			r.contactFelt = true
		}
	}
}

func (r *reasoner) threadMMPerDegree() float64 { return r.card.Family.Model.ThreadPitchMM / 360 }

func lengthMM(a act.Act, i int) float64 {
	l, _ := a.Amounts[i].Length()
	return l.MM()
}

func has(text, part string) bool { return strings.Contains(text, part) }
