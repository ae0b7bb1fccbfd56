package scenarios

import (
	"errors"
	"fmt"
	"slices"
	"strings"

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
	PatternJob   Kind = "pattern"       // case in and backlash set, depth by the old shim: print, correction, sign-off
	PreviousWork Kind = "previous-work" // another hand's finished axle: find what is wrong, put it right, or sign as it is
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

// ParseKind reads a kind's name; nothing is the whole job. Errors: a name there is not.
func ParseKind(name string) (Kind, error) {
	var names []string
	for _, k := range Kinds() {
		if name == k.String() || name == string(k) {
			return k, nil
		}
		names = append(names, k.String())
	}
	return "", fmt.Errorf("job kind %q is not known: there are %s", name, strings.Join(names, ", "))
}

// Explain says in a sentence what the trainee finds and is asked for.
func (k Kind) Explain() string {
	switch k {
	case DepthJob:
		return "The housing is bare. Choose the depth shim for the new pinion and sign for it; the rest is done by others."
	case PreloadJob:
		return "The depth shim has been chosen and is in hand. Build the pinion in, set its preload and sign for it."
	case SidesJob:
		return "The pinion is in and its preload set. Place the ring gear, set backlash and side preload, read the print, sign off."
	case PatternJob:
		return "The axle is together and its backlash set, on the old depth shim. Read the print, correct what it asks for, sign off."
	case PreviousWork:
		return "Another hand has finished this axle and filled in the build sheet. Find out whether it is right; sign it, or put it right and sign."
	}
	return "The housing is bare. Build the axle up and sign it off."
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
	Off     []sim.LeftOff // what the bench does without: axles that the hand cannot finish without it are passed over
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
func (o Order) Validate() error {
	if !slices.Contains(Kinds(), o.Kind) {
		if _, err := ParseKind(string(o.Kind)); err != nil {
			return err
		}
		return fmt.Errorf("an order for a %s job leaves its kind empty", o.Kind)
	}
	has := fault.For(o.Family.Design)
	for _, id := range slices.Concat(o.Faults.Only, o.Faults.OneOf) {
		if _, err := fault.Find(id); err != nil {
			return err
		}
	}
	for _, id := range o.Faults.OneOf {
		if !slices.ContainsFunc(has, func(f fault.Fault) bool { return f.ID == id }) {
			return fmt.Errorf("family %s cannot carry the fault %s", o.Family.Code, id)
		}
		if f, err := fault.Find(id); err == nil && !f.On(o.Family.Design, o.about(false, false)) {
			return fmt.Errorf("a job of kind %s cannot bring the fault %s", o.Kind, id)
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
			return fmt.Errorf("a job of kind %s has nothing but the gauge to prove its shim with: measure depth cannot be left off", o.Kind)
		}
	}
	if torques > 1 {
		return errors.New("a drag has to be read with the wrench or the cord: only one of them can be left off")
	}
	if o.Budget.Minutes < 0 || o.Budget.Parts < 0 {
		return errors.New("a budget is below zero")
	}
	return validWeights(o.Weights)
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
var errUnfit = errors.New("no job of its kind")

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
	k.Off = o.Off
	j.Card.Kind, j.Card.Budget, j.Card.Weights = o.Kind, o.Budget, o.Weights
	d := drawing{o.Family, seed, attempt}
	before := func(k technician.Known, mistake string, to technician.Stage) error {
		k.Off = nil // the hand before lacked nothing
		gears, err := m.gears()
		if err != nil {
			return err
		}
		s, err := sim.NewWith(gears, j.Card.Family, j.axle, seed)
		if err != nil {
			return errUnfit
		}
		rec := &sim.Recorder{Stand: s}
		var b technician.Bench = rec
		if mistake != "" {
			chosen, err := technician.FindMistake(mistake)
			if err != nil {
				return err
			}
			b, k = technician.Mistaken(rec, k, chosen)
		}
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
		if right != (mistake == "") {
			return errUnfit
		}
		return nil
	}
	switch o.Kind {
	case PreloadJob:
		return j, before(*k, "", technician.DepthSet)
	case SidesJob:
		return j, before(*k, "", technician.PreloadSet)
	case PatternJob:
		mistake := "mark-forgotten"
		if !k.Sheet.Marks.Known() || k.OldMark == k.NewMark {
			mistake = "nothing-gauged"
		}
		return j, before(*k, mistake, technician.SidesSet)
	case PreviousWork:
		mistake := d.mistake(&j)
		return j, before(*k, mistake, technician.Whole)
	}
	return j, nil
}

// slip draws what the hand before did wrong, and tells the card what it may have been.
// One axle in a few is right.
func (d drawing) mistake(j *Job) string {
	mistakes := technician.MistakesOn(j.Card.Known)
	n := len(mistakes) + rightInTurn(len(mistakes))
	at := d.stream("slip").Whole(n)
	for _, s := range mistakes {
		j.Card.Mistakes = append(j.Card.Mistakes, Rate{s.ID, text.Verbatim(s.Name), 1 / float64(n)})
	}
	if at >= len(mistakes) {
		return ""
	}
	x, f := truth.Open(j.axle)
	x.Mistake = mistakes[at].ID
	j.axle = truth.Seal(x, f)
	return mistakes[at].ID
}

// rightInTurn is how many right axles there are to so many wrong ones: one in six.
func rightInTurn(wrong int) int { return max(1, wrong/5) }
