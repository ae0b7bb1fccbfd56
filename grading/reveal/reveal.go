package reveal

import (
	"errors"
	"math"
	"slices"

	"shimwright/grading"
	"shimwright/scenarios"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// ErrNotSignedOff is returned while a job is still open: its axle stays hidden.
var ErrNotSignedOff = errors.New("the job is not signed off, so what the axle really is stays hidden")

// A Carried is one fault state the axle came with.
type Carried struct {
	Name   text.Message `json:"name"`
	Size   float64      `json:"size"` // always in Unit
	Unit   string       `json:"unit"`
	Amount text.Message `json:"amount"`
	Shows  text.Message `json:"shows"`
	Told   text.Message `json:"told_by"`
	Remedy text.Message `json:"remedy"`
	Missed text.Message `json:"if_missed"`
	Still  bool         `json:"still_there"` // left in the axle at sign-off
}

// A Line is one line of the sheet against the truth.
type Line struct {
	Line  verdict.Line `json:"line"`
	Name  text.Message `json:"name"`
	Value text.Message `json:"value"`
	Spec  text.Message `json:"spec"`
	Met   bool         `json:"met"`
	Near  text.Message `json:"near_limit"` // which side of a limit, where no instrument here could tell
}

// A Reveal is the whole answer.
type Reveal struct {
	Faults       []Carried      `json:"faults"`
	PreviousWork bool           `json:"taken_over,omitempty"` // another hand had finished it
	Mistake      *Mistook       `json:"mistake,omitempty"`    // what the previous technician did wrong
	Lines        []Line         `json:"lines"`
	Service      Service        `json:"service"`
	AllMet       bool           `json:"all_met"`
	RightShim    text.Message   `json:"right_depth_shim"`
	Luck         []text.Message `json:"luck,omitempty"`
	Lucks        []Luck         `json:"luck_of_decisions"` // to each decision of the report
	TryFamily    string         `json:"try_family"`
	TrySeed      uint64         `json:"try_seed"`
}

// Of opens the state of a signed-off job.
func Of(job scenarios.Job, stand *sim.Stand, rep grading.Report) (Reveal, error) {
	if !rep.SignedOff {
		return Reveal{}, ErrNotSignedOff
	}
	came, _ := truth.Open(job.Sealed())
	left, f := truth.Open(stand.Sealed())
	r := Reveal{RightShim: text.Say("reveal.right-shim", "With the cups as they came, the right depth shim was {shim}.", text.Length("shim", quantity.Millimetres(came.IdealShimMM)))}
	r.PreviousWork = job.Card.Kind == scenarios.PreviousWork
	var err error
	if r.Mistake, err = mistook(came.Mistake); err != nil {
		return Reveal{}, err
	}
	for _, c := range came.Faults {
		entry, err := fault.Find(c.ID)
		if err != nil {
			return Reveal{}, err
		}
		r.Faults = append(r.Faults, Carried{Name: entry.Name, Size: math.Round(c.Size*1000) / 1000, Unit: entry.Size.Unit.String(),
			Amount: entry.Size.Amount(c.Size), Shows: entry.Shows, Told: entry.Told, Remedy: entry.Remedy,
			Missed: entry.Missed, Still: slices.Contains(f.Remaining, c.ID)})
	}
	items := verdict.Check(job.Card.Family, job.Card.UsedBearings, stand.Sealed())
	for _, i := range items {
		value, spec := i.Text()
		if !i.Why.IsZero() && !i.Met {
			value = i.Why
		}
		r.Lines = append(r.Lines, Line{i.Line, i.Line.Name(), value, spec, i.Met, near(i.Edge())})
	}
	r.Service = inService(job.Card.Family, left, f)
	r.AllMet = verdict.Met(items)
	r.Luck, r.Lucks = luck(rep, r.AllMet), luckOf(rep, r.Lines)
	r.TryFamily, r.TrySeed = Another(job, rep.Lesson)
	return r, nil
}

// Another returns family and number of another job than this one that calls for a lesson:
// TryAgain from the order it was made to.
func Another(job scenarios.Job, lesson string) (familyCode string, seed uint64) {
	return TryAgain(job.Order(), job.Card.Seed, lesson)
}

func near(e verdict.Edge) text.Message {
	switch e {
	case verdict.JustInside:
		return text.Say("reveal.just-inside", "inside, close to the limit")
	case verdict.JustOutside:
		return text.Say("reveal.just-outside", "outside, by less than the bench can tell")
	}
	return text.Message{}
}

// luck compares how the signature was judged with how it came out.
func luck(rep grading.Report, allMet bool) []text.Message {
	var out []text.Message
	for _, d := range rep.Decisions {
		if d.Area != grading.Stopping {
			continue
		}
		switch {
		case allMet && d.Score < gambleScore:
			out = append(out, text.Say("reveal.lucky", "The axle came out right, but on what had been read it was a gamble: that was luck, and the score does not count it."))
		case !allMet && d.Score >= soundScore:
			out = append(out, text.Say("reveal.unlucky", "The signature was sound on what could be known. The axle was unlucky, and the score does not hold it against the choice."))
		}
	}
	return out
}
