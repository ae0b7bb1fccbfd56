package scenarios

import (
	"errors"
	"fmt"
	"math"

	"shimwright/scenarios/fault"
	"shimwright/scenarios/hand"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/truth"
)

// ModelVersion names the physics and the generator. It changes whenever the same
// seed and acts would no longer give the same readings or the same grade.
const ModelVersion = "1"

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
	Known        hand.Known // shims and marks of the old build, and the new pinion's mark
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

// Generate makes the job of a seed.
func Generate(seed uint64) (Job, error) {
	fam := family.Beech()
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
		if verdict.Met(verdict.Check(fam, j.Card.UsedBearings, stand.Sealed())) {
			j.draws = d + 1
			return j, nil
		}
	}
	return Job{}, fmt.Errorf("seed %d: %w after %d draws", seed, ErrNoJob, maxDraws)
}

// draw makes one card and hidden state. Each quantity has its own stream, so that
// adding one never moves another.
func draw(fam family.Family, seed uint64, attempt int) (Job, error) {
	stream := func(label string) rng.Source { return rng.Stream(seed, fmt.Sprintf("job/%d/%s", attempt, label)) }
	in := func(label string, r family.Range) float64 { return stream(label).Uniform(r.Low, r.High) }
	sh, m := fam.Sheet, fam.Model
	thou := func(n int) float64 { return quantity.Thou(float64(n)).MM() }

	used := stream("used").Whole(4) == 0
	oldMark, newMark := drawMarks(stream("marks"))
	house := quantity.Inches(stream("house").Normal(0.030, 0.0022)).MM()
	// Keep both sets' shims well inside the drawer.
	room := 3 * sh.DepthShims.StepMM
	lowest, highest := sh.DepthShims.LowMM+room, sh.DepthShims.HighMM-room
	least := math.Min(float64(oldMark), float64(newMark))
	most := math.Max(float64(oldMark), float64(newMark))
	house = math.Max(lowest-quantity.Thou(least).MM(), math.Min(highest-quantity.Thou(most).MM(), house))

	oldError := stream("old-build").Normal(0, OldBuildSDMM)
	oldShim := sh.DepthShims.Nearest(house + thou(oldMark) + oldError)
	markError := stream("mark-error").Normal(0, MarkSDMM)
	heightChange := stream("bearing-height").Normal(0, BearingHeightSDMM)

	total := 2*1.77 + stream("housing-width").Normal(0, 0.08)
	split := stream("split").Normal(0, 0.06)
	oldTotal := total + stream("old-total").Normal(0, OldTotalSDMM)
	oldSplit := split + stream("old-split").Normal(0, OldSplitSDMM)
	oldFit := sh.SidePreload.Mid()

	friction := m.NewFriction
	if used {
		friction = m.UsedFriction
	}
	seal := in("seal", m.SealNmm)
	x := truth.Axle{
		Family: fam.Code,
		Drive:  drawEaseOff(stream("ease-off/drive"), m.EaseOff), Coast: drawEaseOff(stream("ease-off/coast"), m.EaseOff),
		OffsetErrMM: stream("offset").Normal(0, 0.015), ShaftErrRad: stream("shaft-angle").Normal(0, 0.00015),
		DesignLashMM: sh.Backlash.Mid(),
		HeadHeightMM: sh.HeadHeightMM - thou(newMark) - markError,
		IdealShimMM:  house + thou(newMark) + markError + heightChange,
		SetUpTallMM:  stream("set-up").Normal(0, 0.004),
		HeadCupHoldN: in("head-hold", m.CupHoldN), TailCupHoldN: in("tail-hold", m.CupHoldN),
		BackZeroMM: total/2 + split, ToothZeroMM: total/2 - split,
		BackPedestalNPerMM: in("pedestal/back", m.PedestalNPerMM), ToothPedestalNPerMM: in("pedestal/tooth", m.PedestalNPerMM),
		HouseNPerMM: in("house-stiffness", m.HouseNPerMM), NutNPerMM: in("nut-stiffness", m.NutNPerMM),
		EndPlayAtContactMM: in("end-play", m.EndPlayAtContactMM),
		ThreadFriction:     in("thread-friction", m.ThreadFriction), FaceFriction: in("face-friction", m.ThreadFriction),
		PrevailingNmm:    quantity.FootPounds(in("prevailing", m.PrevailingLbFt)).Nmm(),
		BoundaryFriction: in("friction", friction), BreakawayFactor: in("breakaway", m.Breakaway),
		SealDragNmm: seal, NewSealDragNmm: seal,
		FlangeTIRMM: stream("flange").Uniform(0.004, 0.018), FlangePhaseRad: stream("flange-phase").Uniform(0, 2*math.Pi),
		GearTIRMM: stream("gear").Uniform(0.003, 0.014), GearPhaseRad: stream("gear-phase").Uniform(0, 2*math.Pi),
		UsedBearings: used, OldBuildErrorMM: oldError,
	}
	for k := range sparesDrawn {
		x.Spacers = append(x.Spacers, drawSpacer(stream, fmt.Sprintf("spacer/%d", k), m))
	}
	for _, f := range fault.All() {
		s := stream("fault/" + string(f.ID))
		if s.Uniform(0, 1) >= f.BaseRate {
			continue
		}
		size := s.Uniform(f.Low, f.High)
		f.Apply(&x, size, s)
		x.Faults = append(x.Faults, truth.Fault{ID: f.ID, Size: size})
	}

	card := Card{Seed: seed, Family: fam, UsedBearings: used, Known: hand.Known{
		Sheet: sh, UsedBearings: used,
		OldDepthShim: quantity.Millimetres(oldShim),
		OldMark:      quantity.Millimetres(thou(oldMark)), NewMark: quantity.Millimetres(thou(newMark)),
		OldBackShim:  quantity.Millimetres(sh.SideShims.Nearest((oldTotal+oldFit)/2 + oldSplit)),
		OldToothShim: quantity.Millimetres(sh.SideShims.Nearest((oldTotal+oldFit)/2 - oldSplit)),
	}}
	card.Vehicle, card.Complaint = drawStory(stream("story"), used)
	for _, f := range fault.All() {
		card.Rates = append(card.Rates, Rate{f.Name, string(f.Area), f.BaseRate})
	}
	if x.IdealShimMM <= 0 {
		return Job{}, fmt.Errorf("seed %d: the drawn depth shim is not positive", seed)
	}
	return Job{Card: card, axle: truth.Seal(x, truth.Finish{})}, nil
}

// Spreads of the history a card tells, standard deviations in mm. The grader's
// prior is built from these same figures.
const (
	OldBuildSDMM      = 0.055 // how well the old depth shim suited the old set
	MarkSDMM          = 0.008 // a depth mark against the truth
	BearingHeightSDMM = 0.030 // new bearing against old
	OldTotalSDMM      = 0.055 // side-shim total, old side bearings against new
	OldSplitSDMM      = 0.070 // where the new ring gear sits against the old
)

const sparesDrawn = 4

func drawMarks(s rng.Source) (oldMark, newMark int) {
	oldMark = s.Whole(9) - 4
	for newMark = s.Whole(9) - 4; newMark == oldMark; {
		newMark = s.Whole(9) - 4
	}
	return oldMark, newMark
}

func drawEaseOff(s rng.Source, e mesh.EaseOff) mesh.EaseOff {
	e.LengthMM *= s.Uniform(0.85, 1.15)
	e.ProfileMM *= s.Uniform(0.85, 1.15)
	e.TwistMM = s.Uniform(-0.008, 0.008)
	e.CentreS += s.Normal(0, 0.015)
	e.CentreT += s.Normal(0, 0.015)
	return e
}

func drawSpacer(stream func(string) rng.Source, label string, m family.Model) truth.Spacer {
	in := func(what string, r family.Range) float64 { return stream(label+"/"+what).Uniform(r.Low, r.High) }
	yield := in("yield", m.SpacerYieldN)
	return truth.Spacer{StiffnessNPerMM: in("stiffness", m.SpacerNPerMM), YieldN: yield, PeakN: yield * in("peak", m.SpacerPeakPart),
		PeakDecayMM: in("decay", m.SpacerPeakDecayMM), HardeningNPerMM: in("hardening", m.SpacerHardening), UsableCrushMM: m.SpacerUsableMM}
}

func drawStory(s rng.Source, used bool) (vehicle, complaint string) {
	vehicles := []string{"farm pickup, mostly lanes and a stock trailer", "builder's pickup, short trips with a full bed",
		"family saloon used for towing in summer", "delivery pickup, motorway miles", "estate pickup, seldom loaded"}
	news := []string{"whines under power above a walking pace", "howls when the foot comes off", "growled for a month, then left metal in the oil",
		"ran low on oil after a leaking pinion seal", "clunks between drive and overrun and now whines both ways"}
	olds := []string{"gear teeth chipped by a dropped bolt; the bearings are nearly new and go back in", "new ring and pinion for another ratio; the bearings are sound and go back in"}
	vehicle = vehicles[s.Whole(len(vehicles))]
	if used {
		return vehicle, olds[s.Whole(len(olds))]
	}
	return vehicle, news[s.Whole(len(news))]
}

// Sketch returns the first draw of a seed without proving that it can be finished:
// quick, for searching through seeds. Generate returns the same job whenever its
// Draws is 1.
func Sketch(seed uint64) (Job, error) { return draw(family.Beech(), seed, 0) }
