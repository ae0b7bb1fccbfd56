package pinion

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/solve"
)

// A Build is one pinion assembly in progress. Make it with New. A Build is not
// safe for use from several goroutines at once; Clone it instead.
type Build struct {
	p    Params
	pair bearing.Series

	x                  float64 // nut advance from first contact, mm
	u                  float64 // cones' approach, mm; solved from the rest
	q                  float64 // spacer set, mm; never falls
	innerGap, outerGap float64 // still open, mm; never grow
	turns              float64 // turns the pinion has had
}

// A Pull is what one move of the nut was like.
//
// TorqueNmm is the torque at the end of the move, while the nut is still moving: +
// tightening, − backing off. PeakNmm is the largest torque of the move, same sign.
// A move of no length has both zero, except for a wrench that was already at its
// setting. Reached tells whether the wrench's setting was met. Bottomed tells that
// the spacer is past its usable crush.
type Pull struct {
	TurnedDeg, TorqueNmm, PeakNmm float64
	Reached, Bottomed             bool
}

// Forces is the true state behind what a wrench and an indicator show. PreloadN
// and EndPlayMM are never both above zero.
type Forces struct {
	StemN, SpacerN, PreloadN, EndPlayMM float64
}

// New starts an assembly with the nut just brought to contact (nut angle zero).
// Parameters are copied. Errors: those of Params.Validate.
func New(p Params) (*Build, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	if p.Spacer != nil {
		s := *p.Spacer
		p.Spacer = &s
	}
	b := &Build{p: p, pair: p.series(), q: p.startSet(), innerGap: p.InnerGapMM, outerGap: p.OuterGapMM}
	// Far enough back that nothing touches; then in to contact like any turn.
	b.x = math.Min(0, b.endPlayAt(0))
	b.u = b.x
	b.advance(0)
	return b, nil
}

// Clone returns an independent copy, for asking what a move would do.
func (b *Build) Clone() *Build {
	c := *b
	if b.p.Spacer != nil {
		s := *b.p.Spacer
		c.p.Spacer = &s
	}
	return &c
}

// Params returns a copy of what the Build was started with.
func (b *Build) Params() Params { return b.Clone().p }

// endPlayAt returns the end play (mm, negative for interference) when the cones
// have closed by u: g0 plus the cup gaps that have closed, less what unseated
// rollers take up, less u.
func (b *Build) endPlayAt(u float64) float64 {
	closed := b.p.InnerGapMM - b.innerGap + b.p.OuterGapMM - b.outerGap
	return b.p.contactEndPlay() + closed - b.p.UnseatedRollersMM*(1-b.SeatingShare()) - u
}

// stem returns N at an approach u, without committing anything.
func (b *Build) shaft(u float64) float64 {
	s, _ := b.p.between(u, b.q)
	return s + b.pair.ForceN(-b.endPlayAt(u))
}

// nutAt returns the nut advance that goes with an approach u.
func (b *Build) nutAt(u float64) float64 { return u + b.shaft(u)/b.p.NutStiffnessNPerMM }

// approachTolMM is how closely the cones' approach is solved; it is worth less
// than a micronewton of preload.
const approachTolMM = 1e-13

// approachFor solves the balance for a nut position and returns the approach,
// committing nothing. nutAt rises steadily with u (New refuses spacers for which it
// would not), is u itself where nothing touches, and is never below u.
func (b *Build) approachFor(x float64) float64 {
	free := math.Min(b.q, b.endPlayAt(0))
	if b.p.SolidStiffnessNPerMM > 0 {
		free = math.Min(free, 0)
	}
	if x <= free {
		return x
	}
	root, err := solve.Bracketed(func(u float64) float64 { return b.nutAt(u) - x }, free, x, approachTolMM)
	if err != nil {
		// The two ends differ in sign unless they are the root within rounding.
		return free
	}
	return root.X
}

// settle lets the assembly find its balance at the present nut position.
func (b *Build) settle() { b.commit(b.approachFor(b.x)) }

// commit makes u the state, and the set that goes with it.
func (b *Build) commit(u float64) {
	_, q := b.p.between(u, b.q)
	b.u, b.q = u, math.Max(b.q, q)
}

// nextCup returns the approach at which the next held cup goes home and its gap,
// or ok false if both are home.
func (b *Build) nextCup() (u float64, gap *float64, ok bool) {
	hold := math.Inf(1)
	if b.innerGap > 0 {
		hold, gap = b.p.InnerCupHoldN, &b.innerGap
	}
	if b.outerGap > 0 && b.p.OuterCupHoldN < hold {
		hold, gap = b.p.OuterCupHoldN, &b.outerGap
	}
	if gap == nil {
		return 0, nil, false
	}
	return b.endPlayAt(0) + b.pair.ApproachMM(hold), gap, true
}

// advance tightens to nut position x and returns the largest stem force met. Cups
// that go home on the way do so exactly where their hold is reached, which is what
// makes the result independent of step size.
func (b *Build) advance(x float64) (peakN float64) {
	peakN = b.shaft(b.u)
	for {
		end, gap, home := b.nextCup()
		if home {
			end = math.Max(end, b.u)
			home = b.nutAt(end) <= x
		}
		if home {
			peakN = math.Max(peakN, b.peakTo(end))
			b.x = math.Max(b.x, b.nutAt(end))
			b.commit(end)
			*gap = 0
			b.settle()
			continue
		}
		end = b.approachFor(x)
		peakN = math.Max(peakN, b.peakTo(end))
		b.x = x
		b.commit(end)
		return peakN
	}
}

// peakTo returns the largest stem force between the present approach and a larger
// one. The force rises while the spacer is elastic and curves upward while it
// crushes, so it is largest at one of the ends or where crushing starts.
func (b *Build) peakTo(end float64) float64 {
	peak := math.Max(b.shaft(b.u), b.shaft(end))
	if y, ok := b.yieldBetween(end); ok {
		peak = math.Max(peak, b.shaft(y))
	}
	return peak
}

// yieldBetween returns the approach at which the spacer starts to crush, if that
// lies between the present approach and end.
func (b *Build) yieldBetween(end float64) (float64, bool) {
	if b.p.Spacer == nil {
		return 0, false
	}
	y := b.p.Spacer.yieldPoint(b.q)
	return y, y > b.u && y < end
}

// longestMoveDeg bounds one move of the nut, so that any number is a safe input.
const longestMoveDeg = 36000

// TurnNut turns the nut by deg degrees, + tightening, − backing off. The result
// does not depend on whether a move in one direction is made at once or in steps.
// Moves longer than 100 turns count as 100 turns; a move that is not a number is no
// move.
func (b *Build) TurnNut(deg float64) Pull {
	deg = math.Max(-longestMoveDeg, math.Min(longestMoveDeg, deg))
	if math.IsNaN(deg) || deg == 0 {
		return Pull{Bottomed: b.bottomed()}
	}
	x := b.x + deg/360*b.p.Thread.PitchMM
	if deg < 0 {
		start := b.shaft(b.u)
		b.x = x
		b.settle()
		return Pull{
			TurnedDeg: deg,
			TorqueNmm: b.p.Thread.LooseningNmm(b.shaft(b.u)),
			PeakNmm:   b.p.Thread.LooseningNmm(start),
			Bottomed:  b.bottomed(),
		}
	}
	peak := b.advance(x)
	return Pull{
		TurnedDeg: deg,
		TorqueNmm: b.ForwardTorqueNmm(),
		PeakNmm:   b.p.Thread.TighteningNmm(peak),
		Bottomed:  b.bottomed(),
	}
}

// TurnNutToTorque tightens with a click wrench set to torqueNmm and stops the first
// time the setting is met, or after maxDeg degrees if it is not. A nut that
// already resists that much does not move, and the wrench clicks. A torque or
// angle that is not a number, or an angle of zero or less, is no move.
func (b *Build) TurnNutToTorque(torqueNmm, maxDeg float64) Pull {
	maxDeg = math.Min(longestMoveDeg, maxDeg)
	if math.IsNaN(torqueNmm) || !(maxDeg > 0) {
		return Pull{Bottomed: b.bottomed()}
	}
	if b.ForwardTorqueNmm() >= torqueNmm {
		return Pull{TorqueNmm: torqueNmm, PeakNmm: torqueNmm, Reached: true, Bottomed: b.bottomed()}
	}
	from := b.x
	limit := b.x + maxDeg/360*b.p.Thread.PitchMM
	target := b.p.Thread.StemN(torqueNmm)
	peak := b.shaft(b.u)
	for {
		end, gap, home := b.nextCup()
		if home {
			end = math.Max(end, b.u)
			home = b.nutAt(end) <= limit
		}
		if !home {
			end = b.approachFor(limit)
		}
		if u, ok := b.firstCrossing(target, end); ok {
			b.x = math.Min(limit, b.nutAt(u))
			b.commit(u)
			return Pull{
				TurnedDeg: (b.x - from) / b.p.Thread.PitchMM * 360,
				TorqueNmm: torqueNmm, PeakNmm: torqueNmm, Reached: true, Bottomed: b.bottomed(),
			}
		}
		peak = math.Max(peak, b.peakTo(end))
		if !home {
			b.x = limit
			b.commit(end)
			return Pull{
				TurnedDeg: maxDeg,
				TorqueNmm: b.ForwardTorqueNmm(),
				PeakNmm:   b.p.Thread.TighteningNmm(peak),
				Bottomed:  b.bottomed(),
			}
		}
		b.x = math.Max(b.x, b.nutAt(end))
		b.commit(end)
		*gap = 0
		b.settle()
	}
}

// firstCrossing returns the first approach up to end at which the stem force
// reaches target. The span is cut where crushing starts: before that the force
// rises, after it the force curves upward, so each piece is crossed at most once
// from below.
func (b *Build) firstCrossing(target, end float64) (float64, bool) {
	from := b.u
	cuts := [2]float64{end, end}
	if y, ok := b.yieldBetween(end); ok {
		cuts[0] = y
	}
	for _, to := range cuts {
		if b.shaft(to) >= target {
			root, err := solve.Bracketed(func(u float64) float64 { return b.shaft(u) - target }, from, to, approachTolMM)
			if err != nil {
				// The force is at the target at an end, within rounding.
				return to, true
			}
			return root.X, true
		}
		from = to
	}
	return 0, false
}

func (b *Build) bottomed() bool {
	return b.p.Spacer != nil && b.q > b.p.Spacer.UsableCrushMM
}

// Forces returns the present forces and end play.
func (b *Build) Forces() Forces {
	s, _ := b.p.between(b.u, b.q)
	play := b.endPlayAt(b.u)
	p := b.pair.ForceN(-play)
	return Forces{StemN: s + p, SpacerN: s, PreloadN: p, EndPlayMM: math.Max(play, 0)}
}

// SpacerLoose reports that the bearings carry the whole pull of the nut and the
// spacer none: a solid pack far too thin, or a reused spacer too short.
func (b *Build) SpacerLoose() bool {
	f := b.Forces()
	return f.SpacerN == 0 && f.PreloadN > 0 && (b.p.Spacer != nil || b.p.SolidStiffnessNPerMM > 0)
}

// SpacerSetMM returns the spacer's plastic set q in mm; zero if there is no
// collapsible spacer.
func (b *Build) SpacerSetMM() float64 { return b.q }

// NutAngleDeg returns how far the nut has been turned past first contact with a new
// free spacer, degrees; negative when it is backed off beyond.
func (b *Build) NutAngleDeg() float64 { return b.x / b.p.Thread.PitchMM * 360 }

// ForwardTorqueNmm returns the torque (N·mm) at which the nut would start to move
// forward again.
func (b *Build) ForwardTorqueNmm() float64 { return b.p.Thread.TighteningNmm(b.shaft(b.u)) }

// turnsToSeat is the number of pinion turns in which the unseated height falls to
// 37 %. An engineering choice; that rollers must be turned in is published [3].
const turnsToSeat = 1.5

// RollPinion turns the pinion so that rollers find their ribs, then lets the
// assembly settle at the same nut position. Either direction seats; a number of
// turns that is not finite is ignored.
func (b *Build) RollPinion(turns float64) {
	turns = math.Abs(turns)
	if math.IsNaN(turns) || math.IsInf(turns, 0) {
		return
	}
	b.turns += turns
	b.settle()
}

// SeatingShare returns r, how far the rollers are seated: 0 as assembled, towards 1
// with turning.
func (b *Build) SeatingShare() float64 { return SeatingAfter(b.turns) }

// SeatingAfter returns how far rollers are seated after so many turns of the pinion since it
// was built in: 0 as assembled, towards 1.
func SeatingAfter(turns float64) float64 { return -math.Expm1(-turns / turnsToSeat) }

// TapCups drives both cups home against their shoulders and lets the assembly
// settle at the same nut position. The spacer does not un-crush.
func (b *Build) TapCups() {
	b.innerGap, b.outerGap = 0, 0
	b.settle()
}

// HeadGapMM returns the gap still open under the head bearing cup, mm.
func (b *Build) InnerGapMM() float64 { return b.innerGap }

// TailGapMM returns the gap still open under the tail bearing cup, mm.
func (b *Build) OuterGapMM() float64 { return b.outerGap }

// RunningTorqueNmm returns the torque (N·mm) that keeps the pinion turning, both
// bearings, no seal, nothing meshed. Film.SpeedRPM is the pinion's speed.
func (b *Build) RunningTorqueNmm(f bearing.Film) float64 {
	p := b.Forces().PreloadN
	return b.p.Inner.RunningTorqueNmm(p, f) + b.p.Outer.RunningTorqueNmm(p, f)
}

// StartingTorqueNmm returns the torque (N·mm) at which the pinion begins to turn,
// both bearings, no seal, without the jerk of the first part-turn.
func (b *Build) StartingTorqueNmm(boundaryFriction float64) float64 {
	p := b.Forces().PreloadN
	return b.p.Inner.StartingTorqueNmm(p, boundaryFriction) + b.p.Outer.StartingTorqueNmm(p, boundaryFriction)
}

// PairApproachMM returns how much bearings and housing give under the present preload, mm.
func (b *Build) PairApproachMM() float64 { return b.pair.ApproachMM(b.Forces().PreloadN) }

// PairStiffnessNPerMM returns dP/d(approach) of bearings and housing at the present
// preload, N/mm.
func (b *Build) PairStiffnessNPerMM() float64 {
	return b.pair.StiffnessNPerMM(b.Forces().PreloadN)
}

// PreloadForDrag returns the preload (N) at which both bearings together turn with a
// torque (N·mm), no seal, in the given film. Errors: a torque that no preload up to
// 500 kN gives.
func (p Params) PreloadForTorque(torqueNmm float64, f bearing.Film) (float64, error) {
	const mostN, tolN = 500_000, 1e-9
	root, err := solve.Bracketed(func(n float64) float64 {
		return p.Inner.RunningTorqueNmm(n, f) + p.Outer.RunningTorqueNmm(n, f) - torqueNmm
	}, 0, mostN, tolN)
	return root.X, err
}
