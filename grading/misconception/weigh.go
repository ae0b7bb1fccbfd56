package misconception

import (
	"math"

	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/history"
)

// scales weigh an attempt.
type scales struct {
	all     []misconception.Misconception
	entered []Account
	acted   []chances // on one job
	wentOn  []float64 // what going on past readings of this pinion assembly has said
	onTimes []int     // how often that said much
}

// chances count chances of one misconception on one job.
type chances struct{ taken, left int }

// Of weighs the steps of an attempt. gains are the family's own.
func Of(card scenarios.Card, gains sim.Gains, steps []history.Step) Evidence {
	w := scales{all: misconception.All()}
	n := len(w.all)
	w.entered, w.acted, w.wentOn, w.onTimes = make([]Account, n), make([]chances, n), make([]float64, n), make([]int, n)
	for i, m := range w.all {
		w.entered[i].ID = m.ID
	}
	for _, s := range misconception.Scenes(card, gains, steps) {
		for i, m := range w.all {
			w.choice(i, m.Signs, s)
			w.sizes(i, m.Signs, s)
			w.torque(i, m.Signs, s)
		}
	}
	return Evidence{w.entered}
}

// add enters what a step says.
func (w *scales) add(i int, s misconception.Scene, log float64) {
	a := &w.entered[i]
	a.Log += log
	const speaks = 1 // e to one
	if log >= speaks && (len(a.Acts) == 0 || a.Acts[len(a.Acts)-1] != s.N) {
		a.Acts = append(a.Acts, s.N)
	}
}

// choice weighs what became of a chance.
func (w *scales) choice(i int, m misconception.Signs, s misconception.Scene) {
	if m.Chose == nil {
		return
	}
	seldom := m.Seldom
	if seldom == 0 {
		seldom = misconception.UsualMistakes
	}
	c := &w.acted[i]
	switch answer := m.Chose(s); {
	case answer == misconception.ActedOn && c.taken < twice:
		c.taken++
		w.add(i, s, math.Log(often/seldom))
	case answer == misconception.NotActedOn && c.left < twice:
		c.left++
		w.add(i, s, math.Log((1-often)/(1-seldom)))
	}
}

// sizes weighs the sizes that a step picks.
func (w *scales) sizes(i int, m misconception.Signs, s misconception.Scene) {
	if m.Aims == nil {
		return
	}
	for _, p := range s.Picks {
		aim, has := m.Aims(s, p)
		if !has {
			continue
		}
		sensible := math.Max(SizeChance(p.PickedMM, p.RightMM, p.SpreadMM, p.StepMM), SizeChance(p.PickedMM, p.OrMM, p.SpreadMM, p.StepMM))
		w.add(i, s, math.Log(SizeChance(p.PickedMM, aim.AtMM, aim.SpreadMM, p.StepMM)/sensible))
	}
}

// torque weighs a pinion torque that was left as it is, or was not.
func (w *scales) torque(i int, m misconception.Signs, s misconception.Scene) {
	if m.Torque == nil {
		return
	}
	if s.NewAssembly() {
		w.wentOn[i] = 0
	}
	switch s.Preload {
	case misconception.LeftAsIs:
		w.add(i, s, math.Log(stops(s, m.Torque(s))/stops(s, s.TorqueSpec())))
	case misconception.GoneOn:
		const tells = 1 // to go on by small steps says the same again and again
		log := math.Log((1 - stops(s, m.Torque(s))) / (1 - stops(s, s.TorqueSpec())))
		if log > tells {
			if w.onTimes[i] >= twice {
				return
			}
			w.onTimes[i]++
		}
		w.wentOn[i] += log
		w.add(i, s, log)
	case misconception.TurnedBack:
		// Who comes back knows that the nut had gone too far.
		w.add(i, s, -w.wentOn[i])
		w.wentOn[i] = 0
	}
}

// stops is the chance that a torque is left as it is by one who aims at a specification: from
// a good way inside it and not past it. Chance enters as the lapse does elsewhere.
func stops(s misconception.Scene, spec family.TorqueSpec) float64 {
	const sharp, past = 0.1, 1.2 // half ranges
	from := -0.5                 // a spacer is crushed by steps until it will do
	if s.ByShims() {
		from = -0.9 // shims are few
	}
	z := (s.TorqueNmm() - spec.Mid()) / spec.Half()
	step := func(x float64) float64 { return 1 / (1 + math.Exp(-x/sharp)) }
	return lapse/2 + (1-lapse)*step(z-from)*step(past-z)
}

// SizeChance is the chance that one who aims at a size picks another, on a shelf in steps;
// sizes, spread and step in one unit. Steps must be above zero.
func SizeChance(picked, aimed, spread, step float64) float64 {
	const shelf = 40 // sizes
	z := (picked - aimed) / spread
	return (1-lapse)*step/spread*math.Exp(-z*z/2)/math.Sqrt(2*math.Pi) + lapse/shelf
}
