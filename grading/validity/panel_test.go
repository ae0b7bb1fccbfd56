package validity_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/misconception"
	"shimwright/scenarios"
	held "shimwright/scenarios/misconception"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	finish "shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
)

// A place is one job of a form.
type place struct {
	family string
	kind   scenarios.Kind
	faults scenarios.FaultRule
}

// formPlaces are the twelve jobs of a form: every family, the common one three times.
func formPlaces() []place {
	var out []place
	for _, code := range []string{"BEECH", "ALDER", "CEDAR", "DOGWOOD", "ELM", "BEECH", "FIR", "GORSE", "HAZEL", "IRONBARK", "JUNIPER", "BEECH"} {
		out = append(out, place{family: code})
	}
	return out
}

func (p place) generate(t testing.TB, seed uint64) scenarios.Job {
	t.Helper()
	fam, err := family.Shipped(p.family)
	require.NoError(t, err)
	j, err := scenarios.Order{Family: fam, Kind: p.kind, Faults: p.faults}.Generate(seed)
	require.NoError(t, err)
	return j
}

// A trainee works a job. Its acts depend on the job's number alone.
type trainee struct {
	name    string
	idea    string // of package misconception, "" none
	mistake string // of package technician, "" none
	work    func(b technician.Bench, j scenarios.Job)
}

// play has a trainee work a job. A trainee may come to where it can do no more; what it
// has done until then counts.
func (tr trainee) play(t testing.TB, j scenarios.Job) []history.Step {
	t.Helper()
	return tr.finish(t, j).Steps
}

func (tr trainee) finish(t testing.TB, j scenarios.Job) *sim.Recorder {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	r := &sim.Recorder{Stand: s}
	tr.work(r, j)
	return r
}

// costOf is what a play came to in truth, shop minutes: the minutes and parts it took, and
// the price of an axle that comes back where its finish misses the sheet. The prices are
// those of package grading, which does not get to see the finish.
func costOf(r *sim.Recorder, j scenarios.Job) float64 {
	costs := cost.Default()
	st := r.Status()
	sum := float64(st.Minutes + st.PartsMinutes)
	missed := slices.DeleteFunc(finish.Check(j.Card.Family, j.Card.UsedBearings, r.Sealed()), func(i finish.Item) bool { return i.Met })
	switch {
	case len(missed) == 1 && missed[0].Line == finish.SidePreload:
		return sum + costs.SideComebackMin
	case len(missed) > 0:
		return sum + costs.ComebackMin
	}
	return sum
}

func gradeOf(t testing.TB, j scenarios.Job, outs []history.Step) grading.Report {
	t.Helper()
	rep, err := grading.Grade(j.Card, outs, quantity.Inch)
	require.NoError(t, err)
	return rep
}

// scoreOf is the score a job goes down with: none without a signature.
func scoreOf(r grading.Report) float64 {
	if !r.SignedOff {
		return 0
	}
	return float64(r.Score)
}

func evidenceOf(t testing.TB, j scenarios.Job, outs []history.Step) misconception.Evidence {
	t.Helper()
	gains, err := sim.NominalGains(j.Card.Family, j.Card.UsedBearings)
	require.NoError(t, err)
	return misconception.Of(j.Card, gains, outs)
}

func competent() trainee { return counting("competent", 0) }

// counting is a careful technician who counts so much of the ring gear's travel as backlash; 0
// for the family's own share.
func counting(name string, perTravel float64) trainee {
	return trainee{name: name, work: func(b technician.Bench, j scenarios.Job) {
		k, h := j.Card.Known, technician.Competent()
		if perTravel > 0 {
			k.BacklashPerTravel = perTravel
		}
		_ = technician.Work(b, k, h)
	}}
}

// careful are sensible hands that differ in what they count of the ring gear's travel: a
// manual has 0.010 in give 0.005 to 0.008 in (TM 9-2320-289-34, table 6-1).
func careful() []trainee {
	var out []trainee
	for _, share := range []float64{0.6, technician.UsualPerTravel, 0.8} {
		out = append(out, counting("competent", share))
	}
	return out
}

// slippers make a slip on some of their jobs, others than the person beside them.
func mistakenTechnicians(name string, persons int, rate float64) []trainee {
	var out []trainee
	for p := range persons {
		out = append(out, trainee{name: name, work: func(b technician.Bench, j scenarios.Job) {
			k, chance := j.Card.Known, rng.Stream(j.Card.Seed, fmt.Sprintf("%s/%d", name, p))
			may := mistake.On(k)
			if chance.Uniform(0, 1) < rate {
				b, k = technician.With(b, k, may[chance.Whole(len(may))].Policy)
			}
			_ = technician.Work(b, k, technician.Competent())
		}})
	}
	return out
}

// atRandom does whatever the bench lets it, and signs.
func atRandom(persons int) []trainee {
	var out []trainee
	for p := range persons {
		out = append(out, trainee{name: "random", work: func(b technician.Bench, j scenarios.Job) {
			const tries = 250
			k, chance := j.Card.Known, rng.Stream(j.Card.Seed, fmt.Sprintf("random/%d", p))
			for range tries {
				_, _ = b.Do(anyAct(chance, k))
			}
			_, _ = b.Do(act.Act{Form: act.SignOff})
		}})
	}
	return out
}

// anyAct is some act with sizes off the shelf.
func anyAct(chance rng.Source, k technician.Known) act.Act {
	all := menu(k, chance.Whole)
	return all[chance.Whole(len(all))]
}

// menu lists acts of all kinds. which picks one of so many words, sizes or numbers.
func menu(k technician.Known, which func(n int) int) []act.Act {
	pick := func(words ...string) string { return words[which(len(words))] }
	off := func(s family.Stock) string {
		sizes := s.Sizes()
		return fmt.Sprintf("%.6fmm", sizes[which(len(sizes))])
	}
	lines := []string{"inspect cups", "inspect bearings", "inspect spacer", "inspect cones", "inspect caps", "inspect seal", "measure bearings", "measure depth-shim",
		"seat cups", "seat cones", "match caps", "replace seal", "fit depth-shim " + off(k.Sheet.DepthShims), "fit pinion " + pick("mock-up", "final", "final"),
		"measure depth", "turn pinion 5", fmt.Sprintf("tighten nut %d deg", 5+which(60)), fmt.Sprintf("tighten nut to %d lb-ft", 50+which(250)),
		"measure torque " + pick("rotating", "breakaway") + " " + pick("wrench", "string"), "fit case", "torque caps", "torque caps", "measure end-play", "measure runout",
		"mount indicator " + pick("heel", "middle", "toe") + " " + pick("square", "tilted") + " " + pick("pinion-held", "pinion-free"),
		fmt.Sprintf("measure backlash %d", 1+which(8)), "paint teeth " + pick("thin", "thick"), "roll gears " + pick("braked", "free"), "remove case", "remove pinion", "test indicator"}
	if k.Design.Preload == family.SolidSpacer {
		lines = append(lines, "fit preload-shims "+off(k.Design.Solid.PreloadShims))
	}
	if k.Design.SideAdjust == family.BearingAdjusters {
		lines = append(lines, "turn ring-gear-adjuster "+pick("in", "out")+" 2", "turn opposite-adjuster "+pick("in", "out")+" 2", "loosen caps")
	} else {
		lines = append(lines, "fit side-shims ring-gear "+off(k.Sheet.SideShims)+" opposite "+off(k.Sheet.SideShims))
	}
	var out []act.Act
	for _, l := range lines {
		a, err := act.Parse(l, quantity.Inch)
		if err != nil {
			panic(err) // one of the lines above is wrong
		}
		out = append(out, a)
	}
	return out
}

// pure lists a trainee for each misconception: sensible but for it.
func pure() []trainee {
	var out []trainee
	for _, m := range held.All() {
		out = append(out, trainee{name: m.ID, idea: m.ID, mistake: m.ID, work: func(b technician.Bench, j scenarios.Job) {
			k := j.Card.Known
			if m.CanShowOn(j.Card) {
				b, k = technician.With(b, k, m.Policy)
			}
			_ = technician.Work(b, k, technician.Competent())
		}})
	}
	return out
}

// suited lists the jobs on which an idea has a chance to show, what else they must be, and
// what must have come of them.
func suited(idea string) (places []place, also func(scenarios.Card) bool, came func(scenarios.Card, []history.Step) bool) {
	whole := func(codes ...string) {
		for _, c := range codes {
			places = append(places, place{family: c})
		}
	}
	patterns := func(codes ...string) {
		for _, c := range codes {
			places = append(places, place{family: c, kind: scenarios.PatternJob})
		}
	}
	switch idea {
	case "thicker-is-deeper", "pinion-for-backlash":
		whole("DOGWOOD", "ELM", "IRONBARK")
	case "mark-turned", "mark-forgotten", "new-mark-only", "marks-added", "mark-in-other-units":
		whole("BEECH", "GORSE", "ALDER")
	case "preload-shims-not-followed", "thicker-shims-tighten":
		whole("CEDAR", "FIR", "HAZEL")
	case "lengthwise-as-depth":
		patterns("JUNIPER")
		whole("ELM", "IRONBARK")
	case "tiny-steps":
		whole("BEECH", "ALDER", "GORSE")
	case "picture-chased":
		patterns("JUNIPER")
		whole("BEECH", "ALDER")
	case "height-as-backlash", "not-rechecked":
		patterns("DOGWOOD", "JUNIPER", "ELM")
	case "one-to-one", "gain-turned":
		whole("DOGWOOD", "CEDAR", "GORSE")
	case "seal-counted": // where the seal drags much against the window
		whole("DOGWOOD", "JUNIPER", "BEECH")
		came = leftLoose
	case "backed-off":
		whole("BEECH", "ALDER", "GORSE")
	case "sides-swapped", "one-side-only":
		whole("BEECH", "CEDAR", "ALDER")
	case "variation-averaged":
		for _, c := range []string{"BEECH", "CEDAR", "DOGWOOD"} {
			places = append(places, place{family: c, faults: scenarios.FaultRule{OneOf: []fault.ID{fault.DirtBehindGear, fault.BentFlange}}})
		}
	case "used-set-as-new":
		whole("BEECH", "CEDAR", "DOGWOOD")
		also = func(c scenarios.Card) bool { return c.UsedGears }
	case "strip-first":
		for _, c := range []string{"BEECH", "CEDAR", "DOGWOOD"} {
			places = append(places, place{family: c, kind: scenarios.PreviousWork})
		}
	default:
		whole("BEECH", "CEDAR", "DOGWOOD")
	}
	return places, also, came
}

// leftLoose tells whether a pinion was left with less drag than its window: a nut that went
// further than was meant stands right by luck.
func leftLoose(c scenarios.Card, outs []history.Step) bool {
	torque := 0.0
	for _, o := range outs {
		for _, r := range o.Readings {
			if r.Kind == gauge.PinionTorque {
				torque = r.Torques[len(r.Torques)-1].Nmm()
			}
		}
	}
	return torque < c.Known.PinionTorqueSpec().LowNmm
}

// differentActs lists the acts that were done, each once.
func differentActs(outs []history.Step) []string {
	var out []string
	for _, o := range outs {
		if a := o.Act.String(); !slices.Contains(out, a) {
			out = append(out, a)
		}
	}
	return out
}

// A play is a job and what was done on it.
type play struct {
	job  scenarios.Job
	outs []history.Step
}

// suitedJobs plays so many jobs on which an idea shows, their numbers not below from.
func suitedJobs(t testing.TB, tr trainee, n int, from uint64) []play {
	t.Helper()
	places, also, came := suited(tr.idea)
	var out []play
	for seed := from; len(out) < n; seed++ {
		p := places[len(out)%len(places)]
		fam, err := family.Shipped(p.family)
		require.NoError(t, err)
		if also != nil {
			sketch, err := scenariostest.Sketch(fam, seed)
			if err != nil || !also(sketch.Card) {
				continue
			}
		}
		j := p.generate(t, seed)
		// A job on which the idea makes no difference says nothing of it, and nor does one on
		// which it only makes the hand read the same once more.
		outs := tr.play(t, j)
		if slices.Equal(differentActs(outs), differentActs(competent().play(t, j))) || came != nil && !came(j.Card, outs) {
			continue
		}
		out = append(out, play{j, outs})
	}
	return out
}
