package scenarios

import (
	"errors"
	"strconv"
	"sync"

	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/mesh"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// ModelVersion names the physics and the generator. It changes whenever the same
// seed and acts would no longer give the same readings or the same grade.
const ModelVersion = "5"

// A Rate is the chance, as disclosed on the card, that a fault is in this axle or that the
// previous technician made a mistake.
type Rate struct {
	ID   string       `json:"id"`
	Name text.Message `json:"-"`
	Rate float64      `json:"rate"`
}

// A Card is what the trainee is told.
type Card struct {
	Seed         uint64
	Family       family.Family
	Vehicle      text.Message
	Complaint    text.Message
	UsedBearings bool
	UsedGears    bool             // ring and pinion go back in: the sheet's backlash spec is about what they ran with
	NewBacklash  family.Spec      // what the sheet has, or had, for a new set
	Known        technician.Known // shims and marks of the old build, and the new pinion's mark
	Rates        []Rate
	Kind         Kind
	Before       []history.Step // what was done and read before, where that is known
	Start        history.Status // how the axle stands when the trainee comes to it, as anyone can see
	Mistakes     []Rate         // what the previous technician may have done wrong
	Budget       Budget
	Weights      map[string]Weight // of Points, where they are not the usual ones
}

// RateOf returns the disclosed chance of a fault; 0 for one that the card does not name.
func (c Card) RateOf(id fault.ID) float64 {
	for _, r := range c.Rates {
		if r.ID == string(id) {
			return r.Rate
		}
	}
	return 0
}

// A Job is a card and the sealed axle that belongs to it.
type Job struct {
	Card  Card
	order Order
	axle  truth.Sealed
	gears func() (*mesh.Set, error) // of the family
	prior []act.Act                 // what was done before the trainee comes to it
	draws int
}

// Draws says how many hidden states were drawn before one could be finished by
// the reference technician.
func (j Job) Draws() int { return j.draws }

// Order returns what the job was made to. Its family has the backlash of a new set, where
// the card's has that of the gears that go back in.
func (j Job) Order() Order { return j.order }

// Sealed returns the hidden state the job starts from, in its envelope.
func (j Job) Sealed() truth.Sealed { return j.axle }

// Stand puts the job's axle on a bench, with what was done before it came to the trainee.
func (j Job) Stand() (*sim.Stand, error) {
	gears, err := j.gears()
	if err != nil {
		return nil, err
	}
	s, err := sim.NewWith(gears, j.Card.Family, j.axle, j.Card.Seed)
	if err != nil {
		return nil, err
	}
	for _, a := range j.prior {
		if _, err := s.Do(a); err != nil {
			return nil, text.Fail(err, text.Say("job.before-does-not-repeat", "what was done before does not repeat: {why}", text.Of("why", text.Reason(err))))
		}
	}
	s.HandOver(j.Card.Kind.goal(), j.Card.Kind != PreviousWork)
	s.Without(j.Card.Known.Off)
	return s, nil
}

// ErrNoJob is returned when no finishable axle was found for a seed.
var ErrNoJob error = text.Fail(nil, text.Say("job.none", "an experienced technician could finish no axle of this job number"))

// maxDraws bounds the search for a finishable axle.
const maxDraws = 20

// Generate makes the job of a seed that an order asks for. Errors: those of Maker and of
// Maker.Generate.
func (o Order) Generate(seed uint64) (Job, error) {
	m, err := o.Maker()
	if err != nil {
		return Job{}, err
	}
	return m.Generate(seed)
}

// A Maker makes many jobs of one order. It does not change, and may be shared.
type Maker struct {
	order Order
	gears func() (*mesh.Set, error) // worked out when first asked for
	gains func() (sim.Gains, error) // of the gears
}

// Maker returns what makes the jobs of an order. Errors: those of Validate.
func (o Order) Maker() (*Maker, error) {
	if err := o.Validate(); err != nil {
		return nil, err
	}
	gears := sync.OnceValues(func() (*mesh.Set, error) { return sim.Gears(o.Family) })
	gains := sync.OnceValues(func() (sim.Gains, error) {
		set, err := gears()
		if err != nil {
			return sim.Gains{}, err
		}
		return sim.MeshGains(set, o.Family.Model.Gears.RingDiameterMM)
	})
	return &Maker{o, gears, gains}, nil
}

// Generate makes the job of a seed. Errors: ErrNoJob, and a family that cannot be worked:
// gears that do not mesh, a torque out of reach.
func (m *Maker) Generate(seed uint64) (Job, error) {
	o := m.order
	if _, err := m.gears(); err != nil {
		return Job{}, err
	}
	for d := range maxDraws {
		j, err := m.sketch(seed, d)
		if errors.Is(err, errUnfit) {
			continue
		}
		if err != nil {
			return Job{}, err
		}
		stand, err := j.Stand()
		if err != nil {
			// A set that cannot mesh: draw again.
			continue
		}
		sure := technician.Competent()
		sure.Strips = true // what no reading tells can be put right too
		if technician.Work(stand, j.Card.Known, sure) != nil {
			continue
		}
		if verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, stand.Sealed())) {
			j.draws = d + 1
			return j, nil
		}
	}
	return Job{}, text.Fail(ErrNoJob, text.Say("job.no-axle", "family {family}, job {job}: an experienced technician could finish none of {n} axles that were drawn",
		text.Typed("family", o.Family.Code), text.Typed("job", strconv.FormatUint(seed, 10)), text.Count("n", maxDraws)))
}

// Sketch returns the first draw of a seed without proving that it can be finished:
// quick, for searching through seeds. Generate returns the same job whenever its
// Draws is 1.
func (m *Maker) Sketch(seed uint64) (Job, error) { return m.sketch(seed, 0) }
