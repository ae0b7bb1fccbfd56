package scenarios

import (
	"errors"
	"fmt"

	"shimwright/scenarios/hand"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/truth"
)

// ModelVersion names the physics and the generator. It changes whenever the same
// seed and acts would no longer give the same readings or the same grade.
const ModelVersion = "2"

// A Rate is a fault's chance of being in this axle, as disclosed on the card.
type Rate struct {
	Name string  `json:"name"`
	Area string  `json:"area"`
	Rate float64 `json:"rate"`
}

// A Card is what the trainee is told.
type Card struct {
	Seed         uint64
	Family       family.Family
	Vehicle      string
	Complaint    string
	UsedBearings bool
	UsedGears    bool          // ring and pinion go back in: the sheet's backlash window is about what they ran with
	NewBacklash  family.Window // what the sheet has, or had, for a new set
	Known        hand.Known    // shims and marks of the old build, and the new pinion's mark
	Rates        []Rate
}

// A Job is a card and the sealed axle that belongs to it.
type Job struct {
	Card  Card
	axle  truth.Sealed
	draws int
}

// Draws says how many hidden states were drawn before one could be finished by
// the competent hand.
func (j Job) Draws() int { return j.draws }

// Sealed returns the hidden state the job starts from, in its envelope.
func (j Job) Sealed() truth.Sealed { return j.axle }

// Stand puts the job's axle on a bench.
func (j Job) Stand() (*sim.Stand, error) { return sim.New(j.Card.Family, j.axle, j.Card.Seed) }

// ErrNoJob is returned when no finishable axle was found for a seed.
var ErrNoJob = errors.New("no axle for this seed could be finished by the competent hand")

// maxDraws bounds the search for a finishable axle.
const maxDraws = 20

// Generate makes the job of a seed for a family. The same number is another axle in
// another family.
func Generate(fam family.Family, seed uint64) (Job, error) {
	for d := range maxDraws {
		j, err := draw(fam, seed, d)
		if err != nil {
			return Job{}, err
		}
		stand, err := j.Stand()
		if err != nil {
			// A set that cannot mesh: draw again.
			continue
		}
		if err := hand.Work(stand, j.Card.Known, hand.Competent()); err != nil {
			continue
		}
		if verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, stand.Sealed())) {
			j.draws = d + 1
			return j, nil
		}
	}
	return Job{}, fmt.Errorf("family %s, job %d: %w after %d draws", fam.Code, seed, ErrNoJob, maxDraws)
}

// Sketch returns the first draw of a seed without proving that it can be finished:
// quick, for searching through seeds. Generate returns the same job whenever its
// Draws is 1.
func Sketch(fam family.Family, seed uint64) (Job, error) { return draw(fam, seed, 0) }
