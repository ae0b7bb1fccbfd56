package scenarios

import (
	"errors"
	"fmt"
	"slices"

	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/shop"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// A Kind is what a trainee is asked to do.
type Kind string

// The kinds of job. The zero value is the whole job from a bare housing.
const (
	WholeJob     Kind = ""              // bare housing to sign-off
	DepthJob     Kind = "depth"         // bare housing to the right depth shim
	PreloadJob   Kind = "preload"       // depth shim chosen, to the pinion's preload
	SidesJob     Kind = "sides"         // pinion in, to sign-off
	PatternJob   Kind = "pattern"       // case in and backlash set, depth by the old shim: pattern, correction, sign-off
	PreviousWork Kind = "previous-work" // a previous technician's finished axle: find what is wrong, put it right, or sign as it is
	WholeInName       = "whole"         // how the zero value is written
)

// Kinds lists the kinds of job in the order of the work.
func Kinds() []Kind {
	return []Kind{WholeJob, DepthJob, PreloadJob, SidesJob, PatternJob, PreviousWork}
}

// String returns the kind's name.
func (k Kind) String() string {
	if k == WholeJob {
		return WholeInName
	}
	return string(k)
}

// ParseKind reads a kind's name; nothing is the whole job. Errors: OrderError.
func ParseKind(name string) (Kind, error) {
	for _, k := range Kinds() {
		if name == k.String() || name == string(k) {
			return k, nil
		}
	}
	return "", OrderError{Wrong: UnknownKind, Kind: Kind(name)}
}

// Name is what the kind is called in a sentence.
func (k Kind) Name() text.Message {
	switch k {
	case DepthJob:
		return text.Say("job.kind.depth", "pinion depth")
	case PreloadJob:
		return text.Say("job.kind.preload", "pinion bearing preload")
	case SidesJob:
		return text.Say("job.kind.sides", "backlash and side bearing preload")
	case PatternJob:
		return text.Say("job.kind.pattern", "contact pattern")
	case PreviousWork:
		return text.Say("job.kind.previous-work", "previous technician's work")
	}
	return text.Say("job.kind.whole", "whole axle")
}

// Explain says what the trainee finds and is asked for.
func (k Kind) Explain() text.Message {
	switch k {
	case DepthJob:
		return text.Say("job.asks.depth", "The carrier housing is bare. Choose the depth shim for the new pinion and sign for it. Others do the rest.")
	case PreloadJob:
		return text.Say("job.asks.preload", "The depth shim is chosen and at hand. Install the pinion, set the pinion bearing preload and sign for it.")
	case SidesJob:
		return text.Say("job.asks.sides", "The pinion is in and its preload is set. Position the ring gear, set backlash and side bearing preload, read the contact pattern, and sign off.")
	case PatternJob:
		return text.Say("job.asks.pattern", "The axle is together and its backlash is set, with the old depth shim. Read the contact pattern, make the correction that it asks for, and sign off.")
	case PreviousWork:
		return text.Say("job.asks.previous-work", "A previous technician has finished this axle and filled in the build sheet. Find out whether it is right. Sign it off as it is, or put it right and sign off.")
	}
	return text.Say("job.asks.whole", "The carrier housing is bare. Build the axle and sign it off.")
}

func (k Kind) goal() history.Goal {
	switch k {
	case DepthJob:
		return history.DepthChosen
	case PreloadJob:
		return history.PinionSet
	}
	return history.WholeAxle
}

// WholeAxle tells whether a job of the kind ends with a whole axle, its contact pattern read.
func (k Kind) WholeAxle() bool { return k != DepthJob && k != PreloadJob }

// stages returns where a job of this kind begins and ends.
func (k Kind) stages() (from, to technician.Stage) {
	switch k {
	case DepthJob:
		return technician.Bare, technician.DepthSet
	case PreloadJob:
		return technician.DepthSet, technician.PreloadSet
	case SidesJob:
		return technician.PreloadSet, technician.Whole
	case PatternJob, PreviousWork:
		return technician.SidesSet, technician.Whole
	}
	return technician.Bare, technician.Whole
}

// An Order says what job is wanted.
type Order struct {
	Family  family.Family
	Kind    Kind
	Faults  FaultRule
	Off     []sim.LeftOff // what the bench does without: axles that the technician cannot finish without it are passed over
	Budget  Budget
	Weights map[string]Weight // of Points, where they are not the usual ones
}

// A Budget is what the work may cost, in shop minutes; zero sets no limit.
type Budget struct{ Minutes, Parts shop.Minutes }

// A FaultRule says which fault states an axle may carry. The zero value allows all of the
// catalogue at their own rates.
type FaultRule struct {
	Only  []fault.ID // at most these, at their own rates; nil allows all
	None  bool       // none at all
	OneOf []fault.ID // one of these, evenly; others as Only and None say
}

// Validate says what is wrong with an order: a kind or fault there is not, a fault that
// axles of the family cannot carry, or a bench that cannot do without what is left off.
// Errors: OrderError, and that of sim.ParseLeftOff.
func (o Order) Validate() error {
	if !slices.Contains(Kinds(), o.Kind) {
		return OrderError{Wrong: UnknownKind, Kind: o.Kind}
	}
	has := fault.For(o.Family.Design)
	for _, id := range slices.Concat(o.Faults.Only, o.Faults.OneOf) {
		if _, err := fault.Find(id); err != nil {
			return err
		}
	}
	for _, id := range o.Faults.OneOf {
		if !slices.ContainsFunc(has, func(f fault.Fault) bool { return f.ID == id }) {
			return OrderError{Wrong: NotOnFamily, Family: o.Family.Code, Fault: id}
		}
		if f, err := fault.Find(id); err == nil && !f.On(o.Family.Design, o.about(false, false)) {
			return OrderError{Wrong: NotInKind, Kind: o.Kind, Fault: id}
		}
	}
	torques := 0
	for _, l := range o.Off {
		if _, err := sim.ParseLeftOff(l.String()); err != nil {
			return err
		}
		if l.Form == act.MeasureTorque {
			torques++
		}
		if l.Form == act.MeasureDepth && o.Kind == DepthJob {
			return OrderError{Wrong: NoDepthGauge, Kind: o.Kind}
		}
	}
	if torques > 1 {
		return OrderError{Wrong: NoTorque}
	}
	if o.Budget.Minutes < 0 || o.Budget.Parts < 0 {
		return OrderError{Wrong: NegativeBudget}
	}
	return validWeights(o.Weights)
}

// A Wrong is what can be wrong with an order.
type Wrong int

// What can be wrong.
const (
	UnknownKind  Wrong = iota + 1
	NotOnFamily        // a fault that axles of the family cannot carry
	NotInKind          // a fault that jobs of the kind cannot bring
	NoDepthGauge       // a depth job without the depth gauge
	NoTorque           // neither wrench nor string to read torque with
	NegativeBudget
	UnknownPoint
	UnknownWeight
)

// An OrderError is what is wrong with an order, with what it concerns.
type OrderError struct {
	Wrong  Wrong
	Kind   Kind
	Family string
	Fault  fault.ID
	Point  string
	Weight Weight
}

func (e OrderError) Error() string { return fmt.Sprintf("%#v", e) }

// Tell says what is wrong and what would be right.
func (e OrderError) Tell() text.Message {
	kind, id := text.Typed("kind", e.Kind.String()), text.Typed("fault", string(e.Fault))
	switch e.Wrong {
	case UnknownKind:
		names := make([]string, len(Kinds()))
		for i, k := range Kinds() {
			names[i] = k.String()
		}
		return text.Say("order.unknown-kind", "there is no kind of job {kind}: the kinds are {kinds}", text.Quoted("kind", string(e.Kind)), text.AllTyped("kinds", names...))
	case NotOnFamily:
		return text.Say("order.not-on-family", "axles of the family {family} cannot have the fault {fault}", text.Typed("family", e.Family), id)
	case NotInKind:
		return text.Say("order.not-in-kind", "a {kind} job cannot have the fault {fault}", kind, id)
	case NoDepthGauge:
		return text.Say("order.no-depth-gauge", "a {kind} job cannot do without measure depth: nothing else proves the shim", kind)
	case NoTorque:
		return text.Say("order.no-torque", "rotating torque has to be measured with the wrench or the string: only one of them can be left off")
	case NegativeBudget:
		return text.Say("order.negative-budget", "a budget cannot be below zero")
	case UnknownPoint:
		return text.Say("order.unknown-point", "there is no point {point}: the points are {points}", text.Quoted("point", e.Point), text.AllTyped("points", Points()...))
	}
	return text.Say("order.unknown-weight", "the point {point} has the weight {weight}: it can be {weights}", text.Typed("point", e.Point), text.Quoted("weight", string(e.Weight)), text.AnyTyped("weights", Weights()...))
}

// about says what of a job decides which faults it can bring.
func (o Order) about(usedBearings, usedGears bool) fault.Job {
	return fault.Job{UsedBearings: usedBearings, UsedGears: usedGears, DepthGiven: o.Kind == PreloadJob, CaseIn: o.Kind == PatternJob || o.Kind == PreviousWork}
}

// rate is the chance that a job of the order carries a fault.
func (r FaultRule) rate(f fault.Fault) float64 {
	switch {
	case slices.Contains(r.OneOf, f.ID):
		return 1 / float64(len(r.OneOf))
	case r.None, r.Only != nil && !slices.Contains(r.Only, f.ID):
		return 0
	}
	return f.Rate
}

// beside is rate for a fault some of whose rivals (Not) have been drawn, each with a rate:
// the chance that a job carries it, and the chance with which it is drawn where no rival
// is there, which makes up for the jobs where one is. Rivals never stand beside each other.
func (r FaultRule) beside(f fault.Fault, drawn map[fault.ID]float64) (rate, ifAlone float64) {
	rate = r.rate(f)
	free := 1.0
	for _, id := range f.Not {
		free -= drawn[id]
	}
	switch {
	case slices.Contains(r.OneOf, f.ID):
		return rate, rate
	case rate > free:
		return max(free, 0), 1
	}
	return rate, rate / free
}

// errUnfit is a draw that is no job of its kind: draw again.
var errUnfit = errors.New("unfit")

// sketch draws a job and has done on it what comes before the trainee.
func (m *Maker) sketch(seed uint64, attempt int) (Job, error) {
	o := m.order
	j, err := o.draw(seed, attempt)
	if err != nil {
		return Job{}, err
	}
	j.order, j.gears = o, m.gears
	k := &j.Card.Known
	k.From, k.To = o.Kind.stages()
	k.Off, k.SignedBefore = o.Off, o.Kind == PreviousWork
	gains, err := m.gains()
	if err != nil {
		return Job{}, err
	}
	k.BacklashPerTravel, k.BacklashPerPinion, k.PatternPerMM = gains.BacklashPerRing, gains.BacklashPerPinion, gains.PatternHeightPerPinion
	j.Card.Kind, j.Card.Budget, j.Card.Weights = o.Kind, o.Budget, o.Weights
	d := drawing{o.Family, seed, attempt}
	before := func(k technician.Known, to technician.Stage, wrong ...technician.Policy) error {
		k.Off, k.SignedBefore = nil, false // the previous technician lacked nothing
		gears, err := m.gears()
		if err != nil {
			return err
		}
		s, err := sim.NewWith(gears, j.Card.Family, j.axle, seed)
		if err != nil {
			return errUnfit
		}
		rec := &sim.Recorder{Stand: s}
		b, k := technician.With(rec, k, wrong...)
		if technician.Prepare(b, k, technician.Competent(), to) != nil {
			return errUnfit
		}
		for _, out := range rec.Steps {
			j.prior = append(j.prior, out.Act)
		}
		s.HandOver(o.Kind.goal(), o.Kind != PreviousWork)
		j.Card.Start = s.Status()
		if o.Kind != PreviousWork {
			j.Card.Before = rec.Steps
			return nil
		}
		x, f := truth.Open(s.Sealed())
		right := verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, truth.Seal(x, f)))
		if right != (len(wrong) == 0) {
			return errUnfit
		}
		return nil
	}
	switch o.Kind {
	case PreloadJob:
		return j, before(*k, technician.DepthSet)
	case SidesJob:
		return j, before(*k, technician.PreloadSet)
	case PatternJob:
		if !k.Sheet.Marks.Known() || k.OldMark == k.NewMark {
			return j, before(*k, technician.SidesSet, mistake.StarterKept())
		}
		return j, before(*k, technician.SidesSet, mistake.MarkForgotten().Policy)
	case PreviousWork:
		return j, before(*k, technician.Whole, d.mistake(&j)...)
	}
	return j, nil
}

// mistake draws what the previous technician did wrong, and tells the card what it may have
// been. One axle in a few is right.
func (d drawing) mistake(j *Job) []technician.Policy {
	mistakes := mistake.On(j.Card.Known)
	n := len(mistakes) + rightInTurn(len(mistakes))
	at := d.stream("slip").Whole(n)
	for _, m := range mistakes {
		j.Card.Mistakes = append(j.Card.Mistakes, Rate{m.ID, m.Name, 1 / float64(n)})
	}
	if at >= len(mistakes) {
		return nil
	}
	x, f := truth.Open(j.axle)
	x.Mistake = mistakes[at].ID
	j.axle = truth.Seal(x, f)
	return []technician.Policy{mistakes[at].Policy}
}

// rightInTurn is how many right axles there are to so many wrong ones: one in six.
func rightInTurn(wrong int) int { return max(1, wrong/5) }
