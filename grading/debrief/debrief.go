// Package debrief picks from a grade what a trainee is told of it: which decisions in full,
// what they could try again, which acts were lost time. It says nothing itself; the faces
// put it into words. Everything is codes, numbers of acts, and minutes.
//
// It opens nothing: what the axle really was comes from package reveal, of a job that is
// signed off.
package debrief

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Small is the loss, in minutes, up to which a decision is not worth a word.
const Small = 3.0

// A Debriefing is what there is to tell of an attempt. As JSON it holds everything but the
// contact patterns, which are for pictures.
type Debriefing struct {
	Family string         `json:"family"`
	Kind   scenarios.Kind `json:"kind,omitempty"`
	Seed   uint64         `json:"seed,string"` // text: JSON numbers lose whole numbers above 2^53
	Said   Said           `json:"said"`
	Book   []Entry        `json:"book"`                // what was charged, for a picture; adds up to what is charged in all
	Terms  *Terms         `json:"worked_on,omitempty"` // nil where there is no record
	// Coached is how much a coach had to do with the attempt; nil where there was none.
	Coached *Coached       `json:"coached,omitempty"`
	Report  grading.Report `json:"grade"`
	Reveal  *reveal.Reveal `json:"reveal,omitempty"` // of a signed-off job
	// Losses are the decisions that lost more than Small, in the order they were made; each
	// is an index into Report.Decisions.
	Losses []int     `json:"losses"`
	Told   []Told    `json:"told"`                   // each of them in full, where that was asked for
	Fork   int       `json:"fork,omitempty"`         // act that another could take the place of to see more; 0: none
	Lesson *Again    `json:"lesson,omitempty"`       // of the whole job; nil: none
	Ahead  Ahead     `json:"said_ahead"`             // what the trainee said they would read
	Last   *Patterns `json:"last_pattern,omitempty"` // nil where there is none, or no more than the first was asked for
}

// An Entry is what an act was charged, minutes to a tenth; below zero where it told or saved
// more than it cost. Those of less than Small are one entry together, the last, of act 0.
type Entry struct {
	Act     int     `json:"act,omitempty"`
	Did     string  `json:"did,omitempty"`
	Minutes float64 `json:"minutes"`
	Acts    int     `json:"acts,omitempty"` // how many of them are together
}

// Coached is what a coach did besides answering every decision.
type Coached struct {
	Shown     int `json:"acts_by_coach"`
	TakenBack int `json:"times_taken_back"`
}

// CoachedBy tells how much a coach had to do with an attempt; nil where there was none.
func CoachedBy(r *attempt.Record) *Coached {
	if r.Header.Help != attempt.CoachHelp {
		return nil
	}
	c := &Coached{TakenBack: r.TakenBack()}
	for _, e := range r.Standing() {
		if e.Coach {
			c.Shown++
		}
	}
	return c
}

// Message says it.
func (c Coached) Message() text.Message {
	return text.Say("debrief.coached", "Coached: a coach answered each decision, {n} {n:act was|acts were} done by the coach to show how, and decisions were taken back {back} {back:time|times}.",
		text.Count("n", c.Shown), text.Count("back", c.TakenBack))
}

// Told is a decision to tell in full.
type Told struct {
	Decision int         `json:"decision"`       // index into Report.Decisions
	Luck     reveal.Luck `json:"luck,omitempty"` // of a signed-off job
	Saved    *Saved      `json:"saved,omitempty"`
	Lesson   Again       `json:"lesson"`
}

// Saved sets the cheapest course against the one that was taken.
type Saved struct {
	Cheapest grading.Alternative `json:"cheapest"`
	Chosen   grading.Alternative `json:"chosen"`
}

// Again is a lesson and a job to try it on.
type Again struct {
	Lesson string `json:"lesson"`
	Family string `json:"try_family,omitempty"` // "": the same order, next number
	Seed   uint64 `json:"try_seed"`
}

// Ahead counts the readings that were said ahead: all, those as near as it could be
// known, and those that the readings before let one expect.
type Ahead struct {
	Said     int `json:"said"`
	Hits     int `json:"hits"`
	Believed int `json:"believed"`
}

// Patterns are those of the last time the gears were rolled.
type Patterns struct {
	Act   int                  `json:"act"`
	Teeth []gauge.ToothPattern `json:"-"` // for a picture
}

// ErrOpen is returned for a check or an examination that is not signed off.
var ErrOpen = errors.New("it is graded when it is signed off")

// MayGrade says whether an attempt in a mode may be graded as it stands. Errors: ErrOpen.
func MayGrade(m attempt.Mode, signedOff bool) error {
	if m == attempt.Practice || signedOff {
		return nil
	}
	what := "a check"
	if m == attempt.Exam {
		what = "an examination"
	}
	return fmt.Errorf("this is %s that is still open: %w", what, ErrOpen)
}

// Of grades an attempt at a table of costs and picks what is told of it; full adds each
// decision that cost something, and the last pattern. units is for the texts that the grade
// still holds. Errors: those of grading and, of a signed-off job, of
// reveal.
func Of(costs cost.Table, job scenarios.Job, stand *sim.Stand, outs []history.Step, units quantity.System, full bool) (Debriefing, error) {
	rep, err := grading.GradeAt(costs, job.Card, outs, units)
	if err != nil {
		return Debriefing{}, err
	}
	var rev *reveal.Reveal
	if rep.SignedOff {
		r, err := reveal.Of(job, stand, rep)
		if err != nil {
			return Debriefing{}, err
		}
		rev = &r
	}
	return New(job, rep, rev, outs, full), nil
}

// New picks what is told of a graded attempt; rev is nil while the job is open.
func New(job scenarios.Job, rep grading.Report, rev *reveal.Reveal, outs []history.Step, full bool) Debriefing {
	d := Debriefing{Family: job.Card.Family.Code, Kind: job.Card.Kind, Seed: job.Card.Seed, Report: rep, Reveal: rev, Book: book(rep, outs), Losses: []int{}, Told: []Told{}}
	if rep.Areas == nil { // written as an empty list, for programs that go through it
		d.Report.Areas = []grading.AreaScore{}
	}
	if rep.Decisions == nil {
		d.Report.Decisions = []grading.Decision{}
	}
	if rep.Lines == nil {
		d.Report.Lines = []grading.Line{}
	}
	if rev != nil && rev.Faults == nil {
		r := *rev
		r.Faults, d.Reveal = []reveal.Carried{}, &r
	}
	again := tryAgain(job, rev != nil)
	ds := rep.Decisions
	for i, x := range ds {
		if x.Lost > Small {
			d.Losses = append(d.Losses, i)
		}
	}
	for _, i := range d.Losses {
		if !full {
			break
		}
		t := Told{Decision: i, Saved: Compare(ds[i].Alternatives), Lesson: again(ds[i].Lesson)}
		if rev != nil {
			t.Luck = rev.Lucks[i]
		}
		d.Told = append(d.Told, t)
	}
	if rev != nil && len(d.Losses) > 0 {
		d.Fork = ds[worst(ds, d.Losses)].Act
	}
	if rep.Lesson != "" {
		l := again(rep.Lesson)
		d.Lesson = &l
	}
	d.Ahead = ahead(rep.Expectations)
	if full {
		d.Last = lastPatterns(outs)
	}
	d.Said = said(rep, rev)
	return d
}

// tryAgain finds a job for a lesson, once for each lesson: of a signed-off job one that
// calls for it, of an open one the next.
func tryAgain(job scenarios.Job, signedOff bool) func(lesson string) Again {
	found := map[string]Again{}
	return func(lesson string) Again {
		if a, ok := found[lesson]; ok || lesson == "" {
			return a
		}
		a := Again{Lesson: lesson, Seed: job.Card.Seed + 1}
		if signedOff {
			a.Family, a.Seed = reveal.Another(job, lesson)
		}
		found[lesson] = a
		return a
	}
}

// worst is the costliest of some decisions, the first of several.
func worst(ds []grading.Decision, among []int) int {
	return slices.MaxFunc(among, func(a, b int) int { return cmp.Compare(ds[a].Lost, ds[b].Lost) })
}

// book lists what was charged such that it adds up to what is charged in all, as it is
// printed.
func book(rep grading.Report, outs []history.Step) []Entry {
	tenths := func(x float64) float64 { return math.Round(10*x)/10 + 0 } // no negative zero
	out := []Entry{}
	all := 0.0
	rest := Entry{}
	shown := 0.0
	for _, l := range rep.Lines {
		all += l.Charge
		if math.Abs(l.Charge) <= Small || l.Act > len(outs) {
			rest.Acts++
			continue
		}
		e := Entry{Act: l.Act, Did: outs[l.Act-1].Act.String(), Minutes: tenths(l.Charge)}
		shown += e.Minutes
		out = append(out, e)
	}
	if all > 0 {
		all = rep.Sum.ChargedMin
	}
	if rest.Minutes = tenths(tenths(all) - shown); rest.Minutes != 0 {
		out = append(out, rest)
	}
	return out
}

// Compare sets the cheapest of the ways, which stands first, against the one that was taken;
// nil where they cost the same.
func Compare(ways []grading.Alternative) *Saved {
	const same = 0.05 // minutes
	i := slices.IndexFunc(ways, func(a grading.Alternative) bool { return a.Chosen })
	if i <= 0 || ways[i].Minutes-ways[0].Minutes < same {
		return nil
	}
	return &Saved{ways[0], ways[i]}
}

func ahead(all []grading.Expectation) Ahead {
	a := Ahead{Said: len(all)}
	for _, e := range all {
		if e.Hit() {
			a.Hits++
		}
		if !e.Surprise() {
			a.Believed++
		}
	}
	return a
}

func lastPatterns(outs []history.Step) *Patterns {
	for i, o := range slices.Backward(outs) {
		for _, r := range o.Readings {
			if len(r.Patterns) > 0 {
				return &Patterns{i + 1, r.Patterns}
			}
		}
	}
	return nil
}
