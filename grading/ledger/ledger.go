package ledger

import (
	"slices"

	"shimwright/grading/cost"
	"shimwright/grading/inference"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// A Ledger keeps the book of one job, for one user at a time.
type Ledger struct {
	card    scenarios.Card
	design  family.Design
	sheet   family.Sheet
	gains   sim.Gains
	costs   cost.Table
	items   []Item
	list    []*fault.Fault
	asked   []bool // by act.Form: the procedure asks for it on this axle, and this bench can
	options []option
	times   []float64 // by act.Form, minutes
	kept    map[reckoned]float64
}

// New opens the book of a job.
func New(costs cost.Table, card scenarios.Card, gains sim.Gains) *Ledger {
	l := &Ledger{card: card, design: card.Family.Design, sheet: card.Family.Sheet, gains: gains, costs: costs,
		items: items(), options: options(), kept: map[reckoned]float64{}}
	for _, u := range act.Usages() {
		for len(l.times) <= int(u.Form) {
			l.times = append(l.times, l.costs.TimeOf(l.design, act.Form(len(l.times)), usualPlaces))
		}
	}
	l.asked = make([]bool, len(l.times))
	for _, it := range l.items {
		l.asked[it.Form] = !it.option && (it.on == nil || it.on(card)) && l.has(it.Form)
	}
	list := fault.For(card.Family.Design)
	for i := range list {
		l.list = append(l.list, &list[i])
	}
	return l
}

// Begin is the job as it was handed out.
func (l *Ledger) Begin() *State {
	s := &State{Tracker: inference.New(l.card, l.gains), Progress: newProgress()}
	for _, o := range l.card.Before {
		s.note(o, l.design)
	}
	for f := range s.at {
		s.handed[f] = true
	}
	return s
}

// Clone returns an independent copy.
func (s *State) Clone() *State { return &State{s.Tracker.Clone(), s.Progress.clone()} }

// Take moves the state on by a step.
func (l *Ledger) Take(s *State, o history.Step) {
	s.Learn(o)
	s.note(o, l.design)
}

func (l *Ledger) solid() bool { return l.design.Preload == family.SolidSpacer }
func (l *Ledger) rings() bool { return l.design.SideAdjust == family.BearingAdjusters }

// has tells whether this bench has what an act needs, and the axle a place for it.
func (l *Ledger) has(f act.Form) bool {
	return !slices.Contains(l.card.Known.Off, sim.LeftOff{Form: f}) && sim.NotOnThisAxle(l.design, f).IsZero()
}

func (l *Ledger) minutes(forms ...act.Form) float64 {
	sum := 0.0
	for _, f := range forms {
		sum += l.times[f]
	}
	return sum
}

// A Line is one act in the book, in minutes. Before is the value before it, Expected the mean
// of the values after it on what was known, After the value after what it really showed.
// Allowed is what of its time is not charged; see options.
type Line struct {
	Act                     int // counted from 1
	Spent, Allowed          float64
	Before, Expected, After Worth
}

// Charge is what the act cost beyond the reference way of working and what is allowed beside
// it.
func (x Line) Charge() float64 { return x.Spent - x.Allowed + x.Expected.Min() - x.Before.Min() }

// Luck is how much dearer the job became by what the act showed than could be expected.
func (x Line) Luck() float64 { return x.After.Min() - x.Expected.Min() }

// Enter prices a step from a state, and moves the state on. before is the value there.
func (l *Ledger) Enter(s *State, n int, o history.Step, before Worth) Line {
	x := Line{Act: n, Spent: l.Spent(o), Before: before}
	if f := o.Act.Form; f == act.RecordValue || f == act.ExpectValue {
		l.Take(s, o)
		x.Expected, x.After = before, before // nothing is done to the axle, and nothing told of it
		return x
	}
	outcomes := s.Outcomes(o)
	if len(outcomes) > 1 {
		for _, may := range outcomes {
			c := s.Clone()
			l.Take(c, may.Step)
			x.Expected = x.Expected.add(l.Value(c).times(may.Chance))
		}
	}
	was := s.Progress.clone()
	l.Take(s, o)
	x.After = l.Value(s)
	if len(outcomes) == 1 {
		x.Expected = x.After
	}
	x.Allowed = l.allowed(&was, o, x.Charge())
	s.used = was.used
	return x
}

// Spent is what a step took: work, parts, and what it damaged.
func (l *Ledger) Spent(o history.Step) float64 {
	work, parts := l.costs.Spent(l.design, o)
	return work + parts + l.damage(o)
}

// damage is what an act broke for good, minutes.
func (l *Ledger) damage(o history.Step) float64 {
	if o.Felt(history.SpreadTooFar) {
		return l.costs.SpreadTooFarMin
	}
	nut, ok := o.Reading(gauge.NutTorque)
	if !ok || !l.solid() {
		return 0
	}
	class, _ := gauge.ClassOf(gauge.NutWrench)
	high := l.sheet.NutHigh.Nmm()
	most := high + 2*class.StandardUncertainty(high, 1)
	if nut.Torques[0].Nmm() > most && o.Before.Nut.Torque.Nmm() <= most {
		return l.costs.StrippedNutMin
	}
	return 0
}

// Book prices all steps of a job, and returns the value of the job as it was handed out.
func (l *Ledger) Book(steps []history.Step) (start Worth, lines []Line) {
	s := l.Begin()
	start = l.Value(s)
	v := start
	for i, o := range steps {
		x := l.Enter(s, i+1, o, v)
		v = x.After
		lines = append(lines, x)
	}
	return start, lines
}

// Sign is what the axle is going to cost if it is signed for as it stands, on what is
// believed, by parts.
func (l *Ledger) Sign(s *State) Worth { return l.signed(s) }

// Worthwhile lists the inspections that are possible as the axle stands and find faults worth
// more than their minutes; then, of an axle that could be signed for, the readings still to be
// taken where going on is worth more than signing.
func (l *Ledger) Worthwhile(s *State) []act.Form {
	p, at := l.plan(s), s.place()
	signable := at.pinion == history.PinionFinal && (at.caseIn || !p.whole())
	reads := signable && l.Sign(s).Min()-l.Value(s).Min() > leastGainedMin
	var out []act.Form
	for _, it := range l.items {
		if !p.reachable(it, at) || !p.pending(it, at) {
			continue
		}
		if it.reach >= atHand {
			if reads {
				out = append(out, it.Form)
			}
			continue
		}
		gained := -p.minutes(it.Form)
		for _, f := range l.list {
			if f.Test == it.Form && p.leaves(f) {
				gained += s.Risk(f.ID) * (p.late(f) - p.cure(f))
			}
		}
		if gained > 0 {
			out = append(out, it.Form)
		}
	}
	return out
}

// leastGainedMin is by how much going on must be worth more than signing, minutes.
const leastGainedMin = 0.5
