package misconception

import (
	"cmp"
	"math"
	"slices"

	"shimwright/scenarios/misconception"
	"shimwright/sim/text"
)

// The prior and the rule for naming a misconception.
const (
	PriorNone = 0.5  // chance that a person works by no misconception; the rest is shared evenly
	hair      = 1e-9 // by which a limit is passed, so that it is on every machine or none

	SureAbove = 0.6 // posterior from which a misconception is named
	askAbove  = 0.5 // posterior of all candidates together from which is asked
	asMuch    = 3.0 // a candidate is at most so many times less likely than the best
	mostAsked = 3
)

const (
	often = 0.95 // chances in which a misconception is acted on
	twice = 2    // chances of one kind that count on one job
	lapse = 0.05 // acts that follow neither
)

// An Account is what the acts say for one misconception.
type Account struct {
	ID   string
	Log  float64 // natural logarithm of the likelihood ratio against a sensible technician
	Acts []int   // numbers of the acts that speak for it
}

// Evidence holds an account for each misconception, in the order of the job.
type Evidence struct{ accounts []Account }

// Plus joins the evidence of two jobs. The acts are those of the first.
func (e Evidence) Plus(o Evidence) Evidence {
	if len(e.accounts) == 0 {
		return o
	}
	sum := Evidence{slices.Clone(e.accounts)}
	for i := range o.accounts {
		sum.accounts[i].Log += o.accounts[i].Log
	}
	return sum
}

// Log returns the account of a misconception: ln of its likelihood ratio; 0 for one there is not.
func (e Evidence) Log(id string) float64 {
	for _, a := range e.accounts {
		if a.ID == id {
			return a.Log
		}
	}
	return 0
}

// A Candidate is a misconception that the acts speak for.
type Candidate struct {
	ID          string       `json:"id"`
	Believes    text.Message `json:"-"`
	Makes       text.Message `json:"-"`
	Right       text.Message `json:"-"`
	Lesson      string       `json:"lesson"`
	Probability float64      `json:"probability"` // hundredths
	Acts        []int        `json:"acts"`
}

// A Finding is what is made of the evidence: one misconception when it is sure, several
// to ask about when it is not, none when a sensible technician explains the acts as well.
type Finding struct {
	Sure           bool        `json:"sure"`
	Misconceptions []Candidate `json:"candidates"`
	None           float64     `json:"none"` // probability that no misconception is at work, hundredths
}

// Finding weighs the evidence with the prior.
func (e Evidence) Finding() Finding {
	f := Finding{Misconceptions: []Candidate{}, None: 1}
	if len(e.accounts) == 0 {
		return f
	}
	each := (1 - PriorNone) / float64(len(e.accounts))
	top := math.Log(PriorNone)
	for _, a := range e.accounts {
		top = math.Max(top, math.Log(each)+a.Log)
	}
	none := math.Exp(math.Log(PriorNone) - top)
	sum := none
	weight := make([]float64, len(e.accounts))
	for i, a := range e.accounts {
		weight[i] = math.Exp(math.Log(each) + a.Log - top)
		sum += weight[i]
	}
	f.None = hundredths(none / sum)
	order := make([]int, len(weight))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	all, best, together := misconception.All(), order[0], 0.0
	for _, i := range order[:mostAsked] {
		if p := weight[i] / sum; weight[i]*asMuch >= weight[best] && e.accounts[i].Log > 0 {
			m := all[i]
			together += p
			f.Misconceptions = append(f.Misconceptions, Candidate{m.ID, m.Believes, m.Makes, m.Right, m.Lesson, hundredths(p), e.accounts[i].Acts})
		}
	}
	f.Sure = weight[best]/sum > SureAbove+hair && e.accounts[best].Log > math.Log(10)+hair
	switch {
	case f.Sure:
		f.Misconceptions = f.Misconceptions[:min(1, len(f.Misconceptions))]
	case together <= askAbove:
		f.Misconceptions = []Candidate{}
	}
	return f
}

// Label is the misconception that is named, or "" when none is.
func (f Finding) Label() string {
	if f.Sure && len(f.Misconceptions) > 0 {
		return f.Misconceptions[0].ID
	}
	return ""
}

// hundredths rounds to a hundredth; the hair keeps a half of one from falling either way by the
// last bit on different machines.
func hundredths(x float64) float64 { return math.Round(float64(x*100)*(1+1e-12)) / 100 }
