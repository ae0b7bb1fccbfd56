package fault

import (
	"iter"
	"slices"
	"strconv"
	"sync"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/rng"
	"shimwright/sim/shop"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// ID names a fault.
type ID = truth.FaultID

// A Fault is one fault state. Name and TakenFor are noun phrases; the other texts are
// sentences.
type Fault struct {
	ID    ID
	Area  Area
	Stage Stage

	Name     text.Message
	Cause    text.Message
	Shows    text.Message // what it does to the readings
	TakenFor text.Message
	Told     text.Message // what tells it apart
	Remedy   text.Message
	Missed   text.Message // what happens if the axle goes out with it

	Alikes []Alike // each pair of look-alikes stands with one of the two

	Test act.Form // finds it
	// Found is what Test then finds, as one more reading of the kind Beside. They stand with
	// the faults that the bench has no reading of its own for.
	Found  gauge.Finding
	Beside gauge.Kind
	Cure   act.Form   // the act to cure it by
	Also   []act.Form // other acts that cure it on the way
	Lesson string

	Difficulty int // 1 one odd reading that points at itself, to 5 nothing on the bench cures it
	Strength   Strength
	Source     text.Message // where cause, signs and remedy are written, if they are

	Rate float64 // chance that a job that can bring it carries it
	Late Late
	Size Size

	Has   func(family.Design) bool // designs that can carry it; nil for all
	Needs func(Job) bool           // jobs that can bring it; nil for all
	Not   []ID                     // faults that cannot stand beside it; each names the other

	// Apply puts the fault into the hidden state. Mend is what a cure does to the hidden
	// state where that is this fault's own affair; nil where a cure allows for the fault,
	// or brings a new part.
	Apply func(x *truth.Axle, size float64, s rng.Source)
	Mend  func(x *truth.Axle)
	// Remains tells whether it is still in an axle; nil for what is no part of the axle, or
	// is allowed for instead of cured.
	Remains func(Standing) bool

	Belief Belief
	// Allowed: nothing takes it out; whoever knows of it allows for it.
	Allowed bool
	// Outlasts: still there after a technician who inspected everything. It is in the
	// bench, is allowed for and not cured, or came later.
	Outlasts bool
	// OnALine: its harm is a line of the specification sheet that comes out wrong.
	OnALine bool
	// Unmodeled: the model of an axle's service leaves it out.
	Unmodeled bool

	stream string // what it is drawn from where that is not its ID
}

// An Alike is a fault or a mistake that a fault is easily mistaken for.
type Alike struct {
	With  string       // id
	Agree text.Message // the reading they share
	Apart text.Message // the test that decides
	By    []act.Form   // the acts of that test; nil where acts alone do not decide
}

// Late is what a fault costs when it is found late or by the customer: on average, in shop
// minutes, and the share of such axles assumed to come back from the customer (judgement,
// no source). The rest are found on the bench.
type Late struct {
	Average shop.Minutes
	Back    float64
}

// A Standing is an axle as it stands on a bench, for telling what is still wrong with it.
type Standing struct {
	Axle                         *truth.Axle
	Sheet                        family.Sheet
	Final                        bool         // the pinion is in its final assembly
	Spacer                       truth.Spacer // the one in that assembly, or next in hand
	InnerCupGapMM, OuterCupGapMM float64      // as they stand now
}

// CuredBy tells whether an act takes the fault out.
func (f Fault) CuredBy(a act.Form) bool {
	return !f.Allowed && (f.Cure == a || slices.Contains(f.Also, a))
}

// Stream names the random stream that the fault is drawn from. It is an identity: with
// another name every job would carry other faults.
func (f Fault) Stream() string {
	if f.stream != "" {
		return f.stream
	}
	return string(f.ID)
}

// A Job is what of a job decides which faults it can bring.
type Job struct {
	UsedBearings bool // the pinion bearings go back in
	UsedGears    bool // ring and pinion go back in
	DepthGiven   bool // the depth shim has been chosen, and the pinion bearings not inspected
	CaseIn       bool // it begins with the case in
}

// On tells whether a job on an axle of a design can bring the fault.
func (f Fault) On(d family.Design, j Job) bool {
	return (f.Has == nil || f.Has(d)) && (f.Needs == nil || f.Needs(j))
}

// CureOf returns the act that cures the fault which shows itself by a finding beside the
// readings of an inspection; ok is false for any other finding.
func CureOf(f gauge.Finding) (cure act.Form, ok bool) {
	if f == gauge.NoFinding {
		return 0, false
	}
	all := list()
	for i := range all {
		if all[i].Found == f {
			return all[i].Cure, true
		}
	}
	return 0, false
}

// list holds the faults, worked out once.
var list = sync.OnceValue(func() []Fault {
	var out []Fault
	for _, f := range values() {
		out = append(out, f())
	}
	return out
})

// Each goes through the faults in the order of the job.
func Each() iter.Seq[Fault] { return slices.Values(list()) }

// All lists the faults in the order of the job. The slice is the caller's own.
func All() []Fault { return slices.Clone(list()) }

// For lists the faults that axles of a design can carry, in the order of the job.
func For(d family.Design) []Fault {
	return slices.DeleteFunc(All(), func(f Fault) bool { return f.Has != nil && !f.Has(d) })
}

// Find returns the fault with an id. Errors: an id that there is not, with those there are.
func Find(id ID) (Fault, error) {
	all := list()
	for i := range all {
		if all[i].ID == id {
			return all[i], nil
		}
	}
	var ids []ID
	for _, f := range all {
		ids = append(ids, f.ID)
	}
	return Fault{}, text.Fail(nil, text.Say("fault.unknown", "fault {id} is not in the catalogue: there are {ids}", text.Typed("id", strconv.Quote(string(id))), text.AllTyped("ids", ids...)))
}

// Designs and jobs that more than one fault goes by.

func collapsible(d family.Design) bool { return d.Preload == family.CollapsibleSpacer }

func newGears(j Job) bool { return !j.UsedGears }
