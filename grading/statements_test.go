package grading_test

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/grading/ledger"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// Eleven false things that a debrief has said; none may be said again.

// sound is a job without a fault, on a family.
func sound(t *testing.T, fam family.Family, kind scenarios.Kind, seed uint64) scenarios.Job {
	t.Helper()
	j, err := scenarios.Order{Family: fam, Kind: kind, Faults: scenarios.FaultRule{None: true}}.Generate(seed)
	require.NoError(t, err)
	return j
}

// withAdjusters is a family whose side bearings are set by adjusters.
func withAdjusters(t *testing.T) family.Family {
	t.Helper()
	for _, f := range family.Shelf() {
		if f.Design.SideAdjust == family.BearingAdjusters && f.Design.Preload == family.CollapsibleSpacer {
			return f
		}
	}
	t.Fatal("no family has adjusters and a collapsible spacer")
	return family.Family{}
}

func lineOf(t *testing.T, rep grading.Report, id string) acceptance.Line {
	t.Helper()
	l, ok := acceptance.Find(rep.Acceptance, id)
	require.True(t, ok, id)
	return l
}

// torqueOf is the last reading of a kind of torque, N·mm.
func torqueOf(b *bench, k gauge.Kind) float64 {
	for i := len(b.outs) - 1; i >= 0; i-- {
		if r, ok := b.outs[i].Reading(k); ok {
			return r.MeanTorque().Nmm()
		}
	}
	return 0
}

// crushed pulls the nut until the pinion takes some times the highest torque of its spec, as
// it is read.
func crushed(t *testing.T, b *bench, times float64, card scenarios.Card) {
	t.Helper()
	script(t, b, "fit pinion final", "tighten nut to 150 lb-ft")
	most := card.Known.PinionTorqueSpec().HighNmm
	for range 60 {
		script(t, b, "tighten nut 10 deg", "turn pinion 5", "measure torque rotating wrench")
		if torqueOf(b, gauge.PinionTorque) > times*most {
			return
		}
	}
	t.Fatal("the torque does not rise")
}

// 1. What is signed outside of its specification is never called inside, whichever reading
// it is: the line is contradicted, and says by which reading and which specification.
func TestFalse1SignedOutsideIsContradicted(t *testing.T) {
	contradicted := func(rep grading.Report, id string, kind gauge.Kind) {
		l := lineOf(t, rep, id)
		assert.Equal(t, acceptance.Contradicted, l.Outcome, id)
		e := l.Evidence
		assert.Equal(t, acceptance.Outside, e.Why, id)
		assert.Equal(t, kind, e.Kind, id)
		assert.Positive(t, e.Step, id)
		assert.True(t, e.Read < e.Low || e.Read > e.High, "%s: %v is not inside %v to %v", id, e.Read, e.Low, e.High)
		assert.LessOrEqual(t, rep.Score, grading.TheFormula().ContradictedMost)
	}
	j := sound(t, family.Beech(), scenarios.PreloadJob, 3)
	b := open(t, j)
	script(t, b, "inspect bearings", "wash bearings")
	crushed(t, b, 1.5, j.Card)
	script(t, b, "sign off")
	contradicted(grade(t, j, b.outs), "pinion-torque", gauge.PinionTorque)

	// The nut pulled on with the case in: the total torque is far above what both may take.
	j = sound(t, family.Beech(), scenarios.WholeJob, 4)
	_, w := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.SignOff {
			return nil
		}
		return []act.Act{a}
	})
	spec := j.Card.Known.PinionTorqueSpec().HighNmm + j.Card.Family.Sheet.SideRise(j.Card.UsedBearings).HighNmm
	for range 20 {
		script(t, w, "tighten nut 10 deg", "turn pinion 5", "measure torque rotating wrench")
		if torqueOf(w, gauge.TotalTorque) > 1.4*spec {
			break
		}
	}
	script(t, w, "sign off")
	contradicted(grade(t, j, w.outs), "total-torque", gauge.TotalTorque)

	j = carrying(t, fault.BentFlange)
	_, w = work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.MeasureCaseRunout || a.Form == act.ReplaceCase || a.Form == act.CleanRingGear {
			return nil
		}
		return []act.Act{a}
	})
	rep := grade(t, j, w.outs)
	if !rep.SignedOff {
		script(t, w, "sign off")
		rep = grade(t, j, w.outs)
	}
	l := lineOf(t, rep, "backlash-variation")
	assert.NotEqual(t, acceptance.Proved, l.Outcome)

	j = sound(t, family.Beech(), scenarios.DepthJob, 5)
	b = open(t, j)
	starter := j.Card.Known.StarterShim().Inches() - 0.009
	_, err := b.Do(act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{{Number: math.Round(1000*starter) / 1000, Unit: quantity.UnitInch}}})
	require.NoError(t, err)
	script(t, b, "fit pinion mock-up", "measure depth", "sign off")
	contradicted(grade(t, j, b.outs), "depth", gauge.Depth)
}

// 2. A case that does not move has no end play, whatever the floor of the indicator shows: it is
// neither told nor believed as end play, and no axle with adjusters is sent to the lesson on
// side shims.
func TestFalse2TheIndicatorsFloorIsNoEndPlay(t *testing.T) {
	held := 0
	for seed := uint64(1); seed <= 6; seed++ {
		j := job(t, seed)
		rep, w := work(t, j, technician.Habits{WrongMoveOnce: true}, nil)
		fast := map[int]bool{}
		for i, o := range w.outs {
			if r, ok := o.Reading(gauge.CaseEndPlay); ok && o.Felt(history.CaseFast) {
				fast[i+1] = true
				if r.Lengths[0] > 0 {
					held++
				}
			}
		}
		for _, d := range rep.Decisions {
			for _, k := range d.Knew {
				if k.Kind == gauge.CaseEndPlay {
					assert.Equal(t, fast[k.Act], k.Held, "seed %d, act %d", seed, k.Act)
					assert.Equal(t, k.Held, k.Message().Code() == "known.at" && regexp.MustCompile("did not move").MatchString(said(k.Message())))
				}
			}
		}
	}
	// One that surely had none: thick side shims, read with the caps torqued.
	j := sound(t, family.Beech(), scenarios.WholeJob, 4)
	_, w := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.SignOff {
			return says("measure end-play", "sign off")
		}
		return []act.Act{a}
	})
	gains := gainsOf(t, j.Card)
	l := ledger.New(cost.Default(), j.Card, gains)
	s := l.Begin()
	for _, o := range w.outs[:len(w.outs)-1] {
		l.Take(s, o)
	}
	require.True(t, w.outs[len(w.outs)-2].Felt(history.CaseFast), "a set-up axle does not move")
	assert.Less(t, s.Sides().Fit.Below(0), 0.01, "it has side preload, and no end play")

	fam := withAdjusters(t)
	j = sound(t, fam, scenarios.WholeJob, 2)
	for _, h := range []technician.Habits{{SignsTurned: true}, {NeverMeasures: true}} {
		rep, _ := work(t, j, h, nil)
		for _, d := range rep.Decisions {
			assert.NotEqual(t, "side-shims", d.Lesson, "act %d on %s", d.Act, fam.Code)
		}
		assert.NotEqual(t, "side-shims", rep.Lesson)
	}
}

// 3. Taken out and put in again, the case stands between its adjusters as they were left: what
// the bench says, counts and reads agree, and the book believes no other setting.
func TestFalse3AdjustersStayWhereTheyWereLeft(t *testing.T) {
	fam := withAdjusters(t)
	j := sound(t, fam, scenarios.SidesJob, 3)
	b := open(t, j)
	if b.Status().Pinion != history.PinionFinal {
		t.Fatal("a job of the sides has its pinion in")
	}
	script(t, b, "fit case")
	first := b.outs[len(b.outs)-1]
	assert.True(t, first.Felt(history.AdjustersRunUp) && !first.Felt(history.AdjustersAsLeft))
	script(t, b, "turn ring-gear-adjuster in 2", "turn opposite-adjuster in 1", "measure end-play")
	was := b.outs[len(b.outs)-1]
	script(t, b, "remove case", "fit case")
	again := b.outs[len(b.outs)-1]
	assert.True(t, again.Felt(history.AdjustersAsLeft) && !again.Felt(history.AdjustersRunUp))
	assert.Equal(t, was.After.RingGearNotches, again.After.RingGearNotches)
	assert.Equal(t, was.After.OppositeNotches, again.After.OppositeNotches)
	script(t, b, "measure end-play")
	now := b.outs[len(b.outs)-1]
	r1, _ := was.Reading(gauge.CaseEndPlay)
	r2, _ := now.Reading(gauge.CaseEndPlay)
	assert.Equal(t, was.Felt(history.CaseFast), now.Felt(history.CaseFast))
	if !now.Felt(history.CaseFast) {
		assert.InDelta(t, r1.Lengths[0].MM(), r2.Lengths[0].MM(), 4*math.Hypot(r1.StdMM, r2.StdMM)+0.01)
	}

	l := ledger.New(cost.Default(), j.Card, gainsOf(t, j.Card))
	s := l.Begin()
	before, after := 0.0, 0.0
	for _, o := range b.outs {
		if o.Act.Form == act.RemoveCase {
			before = s.Sides().Fit.Mean
		}
		l.Take(s, o)
		if o.Felt(history.AdjustersAsLeft) {
			after = s.Sides().Fit.Mean
		}
	}
	assert.InDelta(t, before, after, 0.02, "the same setting is believed, mm")
}

// 4. Who has read nothing is told that nothing had been read; no fault is said to have been
// found that no inspection found, however likely the card makes it.
func TestFalse4NothingReadIsNothingFound(t *testing.T) {
	o := scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{OneOf: []fault.ID{fault.DirtUnderShim, fault.InnerCupHigh}}}
	j, err := o.Generate(2)
	require.NoError(t, err)
	require.InDelta(t, 0.5, j.Card.RateOf(fault.DirtUnderShim), 0.01, "one of two, evenly")
	b := open(t, j)
	script(t, b, "fit depth-shim 0.030in", "fit pinion final", "tighten nut to 300 lb-ft", "fit side-shims ring-gear 0.070in opposite 0.070in", "fit case", "torque caps", "sign off")
	rep := grade(t, j, b.outs)
	explained := 0
	for _, d := range rep.Decisions {
		read := []grading.Known{}
		for _, k := range d.Knew {
			if k.Kind != gauge.NutTorque { // the wrench says it as it pulls
				read = append(read, k)
			}
		}
		assert.Empty(t, read, "act %d", d.Act)
		assert.NotContains(t, []string{"decision.left", "means.faults"}, d.Means.Code(), "act %d: nothing had been found", d.Act)
		if len(d.Knew) == 0 {
			assert.Contains(t, []string{"decision.nothing-read", "decision.nothing-inspected"}, d.KnewMessage().Code())
		}
		if !d.Means.IsZero() {
			explained++
		}
	}
	assert.Positive(t, explained)

	// Found and left, it is said, with the act that found it.
	b = open(t, j)
	script(t, b, "inspect shim-seat", "inspect cups")
	found := 0
	for i, o := range b.outs {
		if len(o.Readings) > 0 && o.Readings[0].Wrong() {
			found = i + 1
		}
	}
	require.Positive(t, found, "it carries one of the two")
	script(t, b, "fit depth-shim 0.030in", "fit pinion final")
	rep = grade(t, j, b.outs)
	left := false
	for _, d := range rep.Decisions {
		if d.Means.Code() == "decision.left" {
			left = true
			require.Len(t, d.Knew, 1)
			assert.Equal(t, found, d.Knew[0].Act)
			assert.NotEqual(t, gauge.NoFinding, d.Knew[0].Finding)
		}
	}
	assert.True(t, left)
}

// 5. Signing is never called best, nor a signature right and proved, where the pattern or the
// total torque has not been read.
func TestFalse5UnreadIsNotRight(t *testing.T) {
	j := job(t, 7)
	for name, leave := range map[string][]act.Form{"pattern": {act.PaintTeeth, act.RollGears}, "total-torque": nil} {
		cased := false
		_, w := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
			switch {
			case a.Form == act.FitCase:
				cased = true
			case a.Form == act.RemoveCase:
				cased = false
			case a.Form == act.MeasureTorque && cased && leave == nil, a.Form == act.PaintTeeth && leave != nil, a.Form == act.RollGears && leave != nil:
				return nil
			}
			return []act.Act{a}
		})
		rep := grade(t, j, w.outs)
		assert.NotEqual(t, acceptance.Proved, outcomeOf(rep, name))
		assert.LessOrEqual(t, rep.Score, grading.TheFormula().UnprovedMost)
		l := ledger.New(cost.Default(), j.Card, gainsOf(t, j.Card))
		s := l.Begin()
		for i, o := range w.outs {
			assert.NotEqual(t, act.SignOff, l.Next(s).Form, "%s, before act %d", name, i+1)
			l.Take(s, o)
		}
		if rep.SignedOff {
			d := debrief.New(j, rep, nil, w.outs, false)
			assert.Equal(t, "said.unproved", d.Said.Right.Code())
		}
	}
}

// 6. Where the torque is far out, or there is plenty of end play, nobody is sent to read it
// once more: what puts it right is called best.
func TestFalse6FarOutIsNotReadAgain(t *testing.T) {
	reads := []act.Form{act.MeasureTorque, act.TurnPinion, act.MeasurePinionEndPlay}
	j := sound(t, family.Beech(), scenarios.PreloadJob, 3)
	b := open(t, j)
	crushed(t, b, 2, j.Card)
	l := ledger.New(cost.Default(), j.Card, gainsOf(t, j.Card))
	next := func(b *bench) act.Act {
		s := l.Begin()
		for _, o := range b.outs {
			l.Take(s, o)
		}
		return l.Next(s)
	}
	assert.Equal(t, act.RemovePinion, next(b).Form)
	script(t, b, "sign off")
	rep := grade(t, j, b.outs)
	last := rep.Decisions[len(rep.Decisions)-1]
	require.Equal(t, act.SignOff, last.Form)
	assert.Equal(t, "remove pinion", said(last.Best))

	b = open(t, j)
	script(t, b, "fit pinion final", "tighten nut to 60 lb-ft")
	require.True(t, b.outs[len(b.outs)-1].Felt(history.PlentyOfEndPlay), "finger tight and a little more")
	assert.NotContains(t, reads, next(b).Form)
	script(t, b, "sign off")
	rep = grade(t, j, b.outs)
	last = rep.Decisions[len(rep.Decisions)-1]
	assert.Regexp(t, "^tighten nut", said(last.Best))
}

// 7. What is best is an act that can be typed, and no backlash reading at fewer than three places
// is called best; who reads one place has not proved the backlash.
func TestFalse7NoAdviceOfOnePlace(t *testing.T) {
	j := job(t, 7)
	rep, w := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.MeasureBacklash {
			return says("measure backlash 1")
		}
		return []act.Act{a}
	})
	assert.NotEqual(t, acceptance.Proved, outcomeOf(rep, "backlash"))
	assert.LessOrEqual(t, rep.Score, grading.TheFormula().UnprovedMost)
	l := ledger.New(cost.Default(), j.Card, gainsOf(t, j.Card))
	s := l.Begin()
	for i, o := range w.outs {
		next := l.Next(s)
		again, err := act.Parse(next.String(), quantity.Inch)
		require.NoError(t, err, "before act %d: %s", i+1, next)
		assert.Equal(t, next.Form, again.Form)
		if next.Form == act.MeasureBacklash {
			assert.GreaterOrEqual(t, next.Amounts[0].Number, 3.0)
		}
		l.Take(s, o)
	}
}

// 8. A state is charged once: putting the case in again on a torque that is wrong costs its
// minutes and no second charge for the torque, and a nut loosened while there is end play costs
// the minutes it took.
func TestFalse8AStateIsChargedOnce(t *testing.T) {
	j := sound(t, family.Beech(), scenarios.WholeJob, 4)
	b := open(t, j)
	script(t, b, "fit depth-shim 0.032in")
	crushed(t, b, 1.6, j.Card)
	script(t, b, "fit side-shims ring-gear 0.074in opposite 0.074in")
	for range 4 {
		script(t, b, "fit case", "remove case")
	}
	rep := grade(t, j, b.outs)
	seen := 0
	for i := 0; i+1 < len(rep.Lines); i++ {
		in, out := rep.Lines[i], rep.Lines[i+1]
		if b.outs[in.Act-1].Act.Form != act.FitCase {
			continue
		}
		if seen++; seen > 1 {
			assert.LessOrEqual(t, in.Charge+out.Charge, in.Spent+out.Spent+1, "acts %d and %d, in and out once more", in.Act, out.Act)
		}
	}
	assert.Equal(t, 4, seen)

	nut := func(lines ...string) (float64, float64) {
		j := sound(t, family.Beech(), scenarios.PreloadJob, 3)
		b := open(t, j)
		script(t, b, "fit pinion final", "tighten nut to 60 lb-ft")
		require.True(t, b.outs[len(b.outs)-1].Felt(history.PlentyOfEndPlay))
		script(t, b, lines...)
		spent := 0.0
		rep := grade(t, j, b.outs)
		sum := 0.0
		for _, x := range rep.Lines {
			sum, spent = sum+x.Charge, spent+x.Spent
		}
		return sum, spent
	}
	straight, took := nut("tighten nut to 150 lb-ft")
	backed, longer := nut("loosen nut 10 deg", "tighten nut to 150 lb-ft")
	assert.LessOrEqual(t, backed-straight, longer-took+1, "backed off in free play and pulled past it")
}

// 9. Advice on adjusters is from where they stand: followed, they are where they were to be, and
// are not to be turned again by more than half a notch.
func TestFalse9AdjusterAdviceIsFromWhereTheyStand(t *testing.T) {
	fam := withAdjusters(t)
	j := sound(t, fam, scenarios.SidesJob, 3)
	b := open(t, j)
	script(t, b, "fit case", "measure end-play", "turn ring-gear-adjuster in 1", "turn opposite-adjuster in 3")
	l := ledger.New(cost.Default(), j.Card, gainsOf(t, j.Card))
	turned := 0
	for range 6 {
		s := l.Begin()
		for _, o := range b.outs {
			l.Take(s, o)
		}
		next := l.Next(s)
		if next.Form != act.TurnRingGearAdjuster && next.Form != act.TurnOppositeAdjuster {
			if turned > 0 {
				break
			}
			_, err := b.Do(next)
			require.NoError(t, err, next.String())
			continue
		}
		turned++
		was := b.Status()
		_, err := b.Do(next)
		require.NoError(t, err)
		moved := b.Status().RingGearNotches - was.RingGearNotches + b.Status().OppositeNotches - was.OppositeNotches
		want := next.Amounts[0].Number
		if next.Choices[0] == act.Out {
			want = -want
		}
		assert.InDelta(t, want, moved, 1e-9, "from where it stood")
	}
	assert.Positive(t, turned)
	assert.LessOrEqual(t, turned, 2, "each of the two once")
}

// 10. No amount that cannot be less than none is told with a minus, no zero has one, gears that
// bind are not said to turn smoothly, and decisions told in full stand in the order of the work.
func TestFalse10NoAmountBelowNone(t *testing.T) {
	below := regexp.MustCompile(`(^|[ (])-\d|-0(\.0*)?\b`)
	for name, h := range map[string]technician.Habits{"signs turned": {SignsTurned: true}, "blind": {NeverMeasures: true}, "careful": {}} {
		for seed := uint64(1); seed <= 3; seed++ {
			rep, w := work(t, job(t, seed), h, nil)
			last := 0
			told := map[string]bool{}
			for _, d := range rep.Decisions {
				if !d.Best.IsZero() {
					key := fmt.Sprint(d.Act, said(d.Means), said(d.Best))
					assert.False(t, told[key], "%s: told twice: %s", name, key)
					told[key] = true
				}
				assert.GreaterOrEqual(t, d.Act, last, "%s: in the order of the work", name)
				last = d.Act
				assert.False(t, math.Signbit(d.Lost), "%s, act %d", name, d.Act)
				for _, s := range []string{said(d.KnewMessage()), said(d.Means)} {
					assert.NotRegexp(t, below, s, "%s, act %d", name, d.Act)
				}
				for _, a := range d.Alternatives {
					assert.GreaterOrEqual(t, a.Minutes, 0.0)
				}
			}
			for _, a := range rep.Areas {
				assert.False(t, math.Signbit(a.Lost))
			}
			for i, o := range w.outs {
				assert.False(t, o.Felt(history.GearsBind, history.PinionBound) && o.Felt(history.PinionSmooth), "%s, act %d", name, i+1)
			}
		}
	}
	// Gears pushed together until they bind.
	j := sound(t, family.Beech(), scenarios.SidesJob, 3)
	b := open(t, j)
	script(t, b, "fit side-shims ring-gear 0.100in opposite 0.050in", "fit case", "torque caps", "mount indicator heel square pinion-held", "measure backlash 4")
	require.True(t, b.outs[len(b.outs)-1].Felt(history.GearsBind))
	script(t, b, "turn pinion 1")
	turn := b.outs[len(b.outs)-1]
	assert.True(t, turn.Felt(history.PinionBound))
	assert.False(t, turn.Felt(history.PinionSmooth))
}

// 11. An area is not called right in which nothing was read, and an open job is shown and counts as
// its exercise says (class.Counts).
func TestFalse11UngaugedIsNotAHundred(t *testing.T) {
	j := sound(t, family.Beech(), scenarios.WholeJob, 4)
	rep, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		switch a.Form {
		case act.MeasureDepth, act.PaintTeeth, act.RollGears:
			return nil
		}
		return []act.Act{a}
	})
	f := grading.TheFormula()
	checked := 0
	for _, a := range rep.Areas {
		if a.Area == grading.Depth {
			checked++
			assert.Positive(t, a.Missed)
			assert.LessOrEqual(t, a.Score, f.UnprovedMost)
		}
	}
	assert.Equal(t, 1, checked)
	rep, _ = work(t, j, technician.Competent(), nil)
	for _, a := range rep.Areas {
		assert.Zero(t, a.Missed, a.Area)
		assert.Equal(t, f.Sum(nil, a.Lost, true).Score, a.Score, "with nothing missed it is the cost alone")
	}
}
