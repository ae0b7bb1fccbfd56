package difficulty

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/exercise"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A Play is how one simulated hand fared at a job.
type Play struct {
	Technician string
	Score      int     // 0..100; 0 where the hand could not bring its work to a signature
	Lost       float64 // expected minutes, as the grade counts them
	Done       bool
}

// A Sign is how far a slip sets a job apart from careful work.
type Sign struct {
	Mistake string
	Steps   float64 // ApartSteps and more are enough
}

// A Measure is what playing a job shows of it.
type Measure struct {
	Minutes   float64 // of the careful hand, parts as minutes included
	Acts      int     // of the careful hand
	Decisions int     // of the careful hand, as the grade counts them
	Entropy   float64 // bits of what the card leaves open and the careful hand looks for
	Careful   int     // score of the careful hand

	// What three ways of working lose more than the careful hand, expected minutes.
	WrongMoveLoses, SignsTurnedLoses, NeverMeasuresLoses float64

	Panel          float64 // mean score of the panel
	Discrimination float64 // score of the careful hand less the mean of the two bad ones
	Signs          []Sign  // in the order of the slips asked for
	Plays          []Play  // in the order of the panel
}

// The names of the panel's hands.
const (
	Careful       = "careful"
	WrongMove     = "one wrong move"
	SignsTurned   = "signs turned"
	NeverMeasures = "never measures"
)

// member is one hand of the panel: habits, and a slip if it makes one.
type member struct {
	name    string
	habits  technician.Habits
	mistake string
}

// panel lists the simulated hands: one that does everything well, one that corrects the
// wrong way once, two that cannot come right, and three that make one slip each that can be
// made on any axle.
func panel() []member {
	return []member{
		{name: Careful, habits: technician.Competent()},
		{name: WrongMove, habits: technician.Habits{WrongMoveOnce: true}},
		{name: SignsTurned, habits: technician.Habits{SignsTurned: true}},
		{name: NeverMeasures, habits: technician.Habits{NeverMeasures: true}},
		{name: "inspects nothing", mistake: "nothing-inspected"},
		{name: "plunger tilted", mistake: "plunger-tilted"},
		{name: "reads breakaway torque", mistake: "breakaway"},
	}
}

// play has a hand work the job. The error is of a job that cannot be put on a bench; a hand
// that does not get to its signature is no error.
func play(job scenarios.Job, m member) (*sim.Recorder, error) {
	stand, err := job.Stand()
	if err != nil {
		return nil, err
	}
	rec := &sim.Recorder{Stand: stand}
	bench, known := technician.With(rec, job.Card.Known)
	if m.mistake != "" {
		made, err := mistake.Find(m.mistake)
		if err != nil {
			return nil, err
		}
		bench, known = technician.With(rec, known, made.Policy)
	}
	_ = technician.Work(bench, known, m.habits) // how far it got shows in what was done
	return rec, nil
}

// Of measures a job. slips are asked about one by one, by their ids; one that cannot be
// made on the axle sets nothing apart. Errors: a slip there is not, a family that cannot be
// graded.
func Of(job scenarios.Job, mistakes ...string) (Measure, error) {
	card := job.Card
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return Measure{}, fmt.Errorf("family %s, job %d cannot be measured: %w", card.Family.Code, card.Seed, err)
	}
	costs := cost.Default()
	var m Measure
	var right []verdict.Item
	lost := map[string]float64{}
	sum := 0
	for _, p := range panel() {
		b, err := play(job, p)
		if err != nil {
			return Measure{}, err
		}
		rep := grading.GradeWith(gains, costs, card, b.Steps, quantity.Inch)
		one := Play{Technician: p.name, Score: rep.Score, Lost: rep.Lost, Done: rep.SignedOff}
		if !one.Done {
			one.Score = 0
		}
		m.Plays = append(m.Plays, one)
		lost[p.name] = one.Lost
		sum += one.Score
		if p.name == Careful {
			m.Minutes, m.Acts = float64(rep.Minutes+rep.PartsMinutes), len(b.Steps)
			m.Decisions, m.Careful = len(rep.Decisions), one.Score
			m.Entropy = entropy(card, b.Steps)
			right = finished(card, b.Stand)
		}
	}
	m.WrongMoveLoses = math.Max(0, lost[WrongMove]-lost[Careful])
	m.SignsTurnedLoses = math.Max(0, lost[SignsTurned]-lost[Careful])
	m.NeverMeasuresLoses = math.Max(0, lost[NeverMeasures]-lost[Careful])
	m.Panel = float64(sum) / float64(len(m.Plays))
	m.Discrimination = float64(m.Careful) - (m.score(SignsTurned)+m.score(NeverMeasures))/2
	for _, id := range mistakes {
		made, err := mistake.Find(id)
		if err != nil {
			return Measure{}, err
		}
		sign := Sign{Mistake: id}
		if made.CanBeOn(card.Known) {
			b, err := play(job, member{mistake: id})
			if err != nil {
				return Measure{}, err
			}
			sign.Steps = apart(card, right, finished(card, b.Stand))
		}
		m.Signs = append(m.Signs, sign)
	}
	return m, nil
}

// A Band is a part of the scale of difficulty.
type Band string

// The bands.
const (
	Easy   Band = "easy"
	Medium Band = "medium"
	Hard   Band = "hard"
)

// Bands lists the bands from the easiest on.
func Bands() []Band { return []Band{Easy, Medium, Hard} }

// The rule of the number; see the package comment.
const (
	panelWeight, minutesWeight, decisionsWeight, entropyWeight = 60, 20, 10, 10
	minutesFull, decisionsFull, entropyFull                    = 240, 30, 8
	mediumFrom, hardFrom                                       = 35, 52
)

// Number is the job's difficulty, 0 to 100.
func (m Measure) Number() float64 {
	part := func(x, full float64) float64 { return math.Min(1, x/full) }
	return panelWeight*(100-m.Panel)/100 + minutesWeight*part(m.Minutes, minutesFull) +
		decisionsWeight*part(float64(m.Decisions), decisionsFull) + entropyWeight*part(m.Entropy, entropyFull)
}

// Band is the part of the scale that the number lies in.
func (m Measure) Band() Band {
	switch n := m.Number(); {
	case n >= hardFrom:
		return Hard
	case n >= mediumFrom:
		return Medium
	}
	return Easy
}

func (m Measure) score(tech string) float64 {
	for _, p := range m.Plays {
		if p.Technician == tech {
			return float64(p.Score)
		}
	}
	return 0
}

func finished(card scenarios.Card, s *sim.Stand) []verdict.Item {
	return verdict.Check(card.Family, card.UsedBearings, s.Sealed())
}

// entropy is how much of what the card discloses as open the careful hand looks into, bits:
// the faults that one of its acts tells apart, each for itself, and what the hand before
// may have done wrong.
func entropy(card scenarios.Card, outs []history.Step) float64 {
	sum := 0.0
	for _, f := range fault.For(card.Family.Design) {
		if slices.ContainsFunc(outs, func(o history.Step) bool { return o.Act.Form == f.Test }) {
			p := card.RateOf(f.ID)
			sum += surprise(p) + surprise(1-p)
		}
	}
	right := 1.0
	for _, s := range card.Mistakes {
		right -= s.Rate
		sum += surprise(s.Rate)
	}
	if len(card.Mistakes) > 0 {
		sum += surprise(right)
	}
	return sum
}

func surprise(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p * math.Log2(p)
}

// apart is the largest difference between two finished axles, in steps: of the depth shim
// in the pinion's place, of a side shim or a slot in the side fit, of one side shim's worth
// of backlash, and where no shim sets a value, quarters of its window. A condition met by
// one and not by the other counts as enough.
func apart(card scenarios.Card, a, b []verdict.Item) float64 {
	most := 0.0
	for i := range min(len(a), len(b)) {
		if a[i].Line != b[i].Line {
			continue
		}
		d := math.Abs(a[i].Value-b[i].Value) / step(card, a[i])
		if a[i].Kind == verdict.Condition {
			if d = 0; a[i].Met != b[i].Met {
				d = ApartSteps
			}
		}
		most = math.Max(most, d)
	}
	return most
}

// ApartSteps is how many steps a slip has to set a job apart to show.
const ApartSteps = 2

func step(card scenarios.Card, i verdict.Item) float64 {
	sh, d := card.Family.Sheet, card.Family.Design
	side := sh.SideShims.StepMM
	if d.Rings.Notches > 0 {
		side = d.Rings.NotchTravelMM()
	}
	switch {
	case i.Line == verdict.PinionDepth:
		return sh.DepthShims.StepMM
	case i.Kind == verdict.Fit:
		return side
	case i.Line == verdict.Backlash:
		return card.Known.PerTravel() * side
	}
	return (i.High - i.Low) / 4
}

// Fits tells whether a job of an exercise can be made and is as hard as it asks for. Errors:
// a job that cannot be made for another reason than that there is none.
func Fits(e exercise.Exercise, number uint64) (bool, error) {
	job, err := e.Job(number)
	if errors.Is(err, scenarios.ErrNoJob) {
		return false, nil
	}
	if err != nil || e.Band == "" {
		return err == nil, err
	}
	m, err := Of(job)
	return err == nil && string(m.Band()) == e.Band, err
}
