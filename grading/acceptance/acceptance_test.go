package acceptance_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/acceptance"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/text"
)

func say(t testing.TB, line string) act.Act {
	t.Helper()
	a, err := act.Parse(line, quantity.Inch)
	require.NoError(t, err, line)
	return a
}

// worked returns the acts with which the reference technician finishes a job.
func worked(t testing.TB, j scenarios.Job) []act.Act {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	rec := &sim.Recorder{Stand: s}
	if technician.Work(rec, j.Card.Known, technician.Competent()) != nil {
		return nil
	}
	var out []act.Act
	for _, o := range rec.Steps {
		out = append(out, o.Act)
	}
	return out
}

// play does acts on a job; what is refused is left out.
func play(t testing.TB, j scenarios.Job, acts []act.Act) *sim.Recorder {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	rec := &sim.Recorder{Stand: s}
	for _, a := range acts {
		_, _ = rec.Do(a)
	}
	return rec
}

// spoil changes an attempt in a few places, as carelessness, ignorance or ill will would.
func spoil(t testing.TB, acts []act.Act, s rng.Source) []act.Act {
	hostile := []string{
		"loosen nut 3 deg", "loosen nut 12 deg", "tighten nut 2 deg", "tighten nut 25 deg", "tighten nut to 250 lb-ft", "turn pinion 5", "turn pinion 0.2",
		"measure torque breakaway wrench", "measure torque rotating string", "measure torque rotating wrench", "mount indicator heel tilted pinion-held",
		"mount indicator toe square pinion-held", "mount indicator heel square pinion-free", "mount indicator heel square pinion-held", "measure backlash 1", "measure backlash 2", "measure backlash 8",
		"paint teeth thick", "paint teeth thin", "roll gears free", "roll gears braked", "remove case", "fit case", "loosen caps", "torque caps", "grease bearings", "wash bearings",
		"seat cups", "seat cones", "clean shim-seat", "inspect bearings", "inspect caps", "inspect seal", "match caps", "test indicator", "test string", "test gauge", "measure runout", "measure depth",
		"measure case-runout", "remove pinion", "fit pinion final", "fit pinion mock-up", "replace seal", "replace bearings", "remove axle-shafts", "inspect axle-shafts", "measure bearings",
		"turn ring-gear-adjuster in 1", "turn opposite-adjuster out 2", "spread housing 0.030in", "sign off",
		"record pinion-torque 20lb-in", "record total-torque 99lb-in", "record backlash 0.5in", "record backlash 0.0065in", "record runout 0.001in", "record pattern 0.5", "record depth-shim 0.025in",
	}
	out := append([]act.Act(nil), acts...)
	for range 1 + s.Whole(6) {
		if len(out) < 4 {
			break
		}
		i := s.Whole(len(out) - 1)
		switch s.Whole(6) {
		case 0:
			out = append(out[:i], out[i+1:]...)
		case 1:
			out[i], out[i+1] = out[i+1], out[i]
		case 2: // another way of doing it
			a := out[i]
			a.Choices = append([]act.Option(nil), a.Choices...)
			for k, c := range a.Choices {
				switch c {
				case act.Rotating:
					a.Choices[k] = act.Breakaway
				case act.Braked:
					a.Choices[k] = act.Free
				case act.Thin:
					a.Choices[k] = act.Thick
				case act.Heel:
					a.Choices[k] = act.Toe
				case act.PinionHeld:
					a.Choices[k] = act.PinionFree
				}
			}
			out[i] = a
		case 3: // something else is written
			for k := range out {
				if a := out[k]; a.Form == act.RecordValue && s.Whole(3) == 0 {
					a.Amounts = []quantity.Entered{{Number: a.Amounts[0].Number * s.Uniform(0.6, 1.4), Unit: a.Amounts[0].Unit}}
					out[k] = a
				}
			}
		default:
			at := i
			if s.Whole(2) == 0 {
				at = len(out) - 1 - s.Whole(min(8, len(out)-1))
			}
			out = append(out[:at], append([]act.Act{say(t, hostile[s.Whole(len(hostile))])}, out[at:]...)...)
		}
	}
	return out
}

// Attempts at random, careless and hostile ones, signed and left open: somebody who follows
// the acts and readings with the rules in words comes to the same on every line. Nothing is
// ticked that is not shown.
func TestAnIndependentCheckerAgrees(t *testing.T) {
	attempts := longtest.Pick(160, 5000)
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	seen := map[string]map[acceptance.Outcome]int{}
	n, seed := 0, uint64(1)
	for ; n < attempts; seed++ {
		for fi, f := range family.Shelf() {
			kinds := scenarios.Kinds()
			k := kinds[(int(seed)+fi)%len(kinds)]
			m, err := scenarios.Order{Family: f, Kind: k}.Maker()
			require.NoError(t, err)
			j, err := m.Sketch(seed)
			if err != nil {
				continue
			}
			good := worked(t, j)
			if good == nil {
				continue
			}
			s := rng.Stream(seed, "spoil/"+f.Code)
			for turn := range 6 {
				acts := good
				if turn > 0 {
					acts = spoil(t, good, s)
				}
				if turn == 5 {
					acts = acts[:len(acts)-1-s.Whole(len(acts)/2)]
				}
				rec := play(t, j, acts)
				want := check(j.Card, rec.Steps)
				for _, l := range acceptance.Of(j.Card, rec.Steps) {
					w := want[l.ID]
					if w == unknown {
						continue
					}
					if seen[l.ID] == nil {
						seen[l.ID] = map[acceptance.Outcome]int{}
					}
					seen[l.ID][l.Outcome]++
					if !assert.Equal(t, w.String(), l.Outcome.String(), "%s %s %d, turn %d: %s (%s)", f.Code, k, seed, turn, l.ID, p.Print(l.Evidence.Message())) {
						for i, o := range rec.Steps {
							t.Log(i+1, o.Act)
						}
						t.FailNow()
					}
				}
				n++
			}
		}
	}
	for id, by := range seen {
		t.Log(id, fmt.Sprint(by))
		if id != "depth" && id != "housing-spread" {
			assert.GreaterOrEqual(t, len(by), 2, "%s never came out otherwise", id)
		}
	}
	t.Log(n, "attempts")
}

// What is tried to get a tick without the work fails, each on its line.
func TestAttacks(t *testing.T) {
	j, err := scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}}.Generate(4)
	require.NoError(t, err)
	good := worked(t, j)
	for _, l := range acceptance.Of(j.Card, play(t, j, good).Steps) {
		require.Contains(t, []acceptance.Outcome{acceptance.Proved, acceptance.NotApplicable}, l.Outcome, l.ID)
	}
	sign := len(good) - 1
	before := func(lines ...string) []act.Act { // the signature
		out := append([]act.Act(nil), good[:sign]...)
		for _, l := range lines {
			out = append(out, say(t, l))
		}
		return append(out, good[sign])
	}
	leave := func(f ...act.Form) []act.Act {
		var out []act.Act
		for _, a := range good {
			keep := true
			for _, x := range f {
				keep = keep && a.Form != x
			}
			if keep {
				out = append(out, a)
			}
		}
		return out
	}
	change := func(from, to act.Option) []act.Act {
		var out []act.Act
		for _, a := range good {
			a.Choices = append([]act.Option(nil), a.Choices...)
			for k, c := range a.Choices {
				if c == from {
					a.Choices[k] = to
				}
			}
			out = append(out, a)
		}
		return out
	}
	for _, c := range []struct {
		name, line string
		acts       []act.Act
		want       acceptance.Outcome
		why        acceptance.Why
	}{
		{"no pattern", "pattern", leave(act.PaintTeeth, act.RollGears), acceptance.Open, acceptance.NeverRead},
		{"pattern rolled free", "pattern", change(act.Braked, act.Free), acceptance.Open, acceptance.NotBraked},
		{"pattern in a thick coat", "pattern", change(act.Thin, act.Thick), acceptance.Open, acceptance.ThickCoat},
		{"case out and in after the pattern", "pattern", before("remove case", "fit case", "torque caps"), acceptance.Open, acceptance.Stale},
		{"backlash of the case before", "backlash", before("remove case", "fit case", "torque caps"), acceptance.Open, acceptance.Stale},
		{"total torque of the case before", "total-torque", before("remove case", "fit case", "torque caps"), acceptance.Open, acceptance.Stale},
		{"caps left snug", "caps", before("remove case", "fit case"), acceptance.Contradicted, acceptance.CapsNotTorqued},
		{"read with the caps snug", "backlash", leave(act.TorqueCaps), acceptance.Open, acceptance.CapsSnug},
		{"pinion torque at breakaway", "pinion-torque", change(act.Rotating, act.Breakaway), acceptance.Open, acceptance.Breakaway},
		{"total torque at breakaway", "total-torque", change(act.Rotating, act.Breakaway), acceptance.Open, acceptance.Breakaway},
		{"pinion never turned", "pinion-torque", leave(act.TurnPinion), acceptance.Open, acceptance.NotTurned},
		{"bearings never inspected", "pinion-torque", leave(act.InspectBearings), acceptance.Open, acceptance.NotKnownOiled},
		{"nut moved after the torque was read", "pinion-torque", before("tighten nut 1 deg"), acceptance.Open, acceptance.Stale},
		{"nut backed off", "nut", before("loosen nut 8 deg"), acceptance.Contradicted, acceptance.BackedOff},
		{"indicator at the toe", "backlash", change(act.Heel, act.Toe), acceptance.Open, acceptance.NotSquare},
		{"pinion free", "backlash", change(act.PinionHeld, act.PinionFree), acceptance.Open, acceptance.PinionLoose},
		{"no runout", "runout", leave(act.MeasureRunout), acceptance.Open, acceptance.NeverRead},
		{"caps never inspected", "match-marks", leave(act.InspectCaps), acceptance.Open, acceptance.NotInspected},
		{"backlash of half an inch written", "sheet-true", before("record backlash 0.5in"), acceptance.Contradicted, acceptance.WrittenOtherwise},
		{"total torque of 99 lb-in written", "sheet-true", before("record total-torque 99lb-in"), acceptance.Contradicted, acceptance.WrittenOtherwise},
		{"another shim written", "sheet-true", before("record depth-shim 0.039in"), acceptance.Contradicted, acceptance.WrittenOtherwise},
		{"a pattern written that nobody made", "sheet-true", leave(act.PaintTeeth, act.RollGears), acceptance.Contradicted, acceptance.WrittenUnread},
		{"nothing written", "sheet-complete", leave(act.RecordValue), acceptance.Open, acceptance.NotWritten},
		{"nothing written", "sheet-true", leave(act.RecordValue), acceptance.Open, acceptance.NotWritten},
	} {
		rec := play(t, j, c.acts)
		require.True(t, rec.Status().SignedOff, c.name)
		l, ok := acceptance.Find(acceptance.Of(j.Card, rec.Steps), c.line)
		require.True(t, ok)
		assert.Equal(t, c.want.String(), l.Outcome.String(), c.name)
		assert.Equal(t, c.why.String(), l.Evidence.Why.String(), c.name)
		if c.why == acceptance.WrittenOtherwise && c.line == "sheet-true" {
			assert.Positive(t, l.Evidence.Read, c.name)
		}
	}
}

// What was read and what was written of a share stand in the sentence as they are.
func TestAShareIsToldAsItIs(t *testing.T) {
	e := acceptance.Evidence{Why: acceptance.WrittenOtherwise, Of: acceptance.Share, Read: 0.4504, Written: 0.62}
	said := text.NewPrinter(quantity.Inch, text.Overlay{}).Print(e.Message())
	assert.Contains(t, said, " 0.62,")
	assert.Contains(t, said, "it is 0.45")
}

// Every row can be read: it has a name, a lesson that can be opened, a source, a weight.
func TestRowsAreWhole(t *testing.T) {
	var ids []string
	for _, r := range acceptance.Rows() {
		ids = append(ids, r.ID)
		assert.False(t, scenarios.PointName(r.ID).IsZero(), r.ID)
		assert.False(t, r.Source.IsZero(), r.ID)
		assert.NotEmpty(t, r.Kinds, r.ID)
		assert.Contains(t, []scenarios.Weight{scenarios.Critical, scenarios.Major, scenarios.Minor}, r.Severity)
		_, err := lessons.Find(r.Lesson)
		assert.NoError(t, err, r.ID)
	}
	assert.Equal(t, scenarios.Points()[:len(ids)], ids)
	words, codes := map[string]bool{}, map[string]bool{}
	for w := acceptance.Inside; w <= acceptance.NotYet; w++ {
		m := acceptance.Evidence{Why: w, Of: acceptance.Length}.Message()
		assert.False(t, m.IsZero(), w)
		assert.False(t, codes[w.String()], w)
		codes[w.String()], words[text.NewPrinter(quantity.Inch, text.Overlay{}).Print(m)] = true, true
	}
}
