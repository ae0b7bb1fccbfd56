package service

import (
	"fmt"
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/mesh"
)

// Parts is what an axle is made of. Back is the side bearing behind the ring gear.
// SpacerLengthMM is the spacer between the pinion bearings; where it is zero, half
// the head bearing's width is taken.
type Parts struct {
	Gears                                          *mesh.Set
	Inner, Outer, Back, Tooth                      bearing.Tapered
	HouseNPerMM, NutNPerMM, SpacerNPerMM           float64
	RingGearPedestalNPerMM, OppositePedestalNPerMM float64
	SpacerCrushN                                   float64 // load at which a collapsible spacer crushes on
	SpacerLengthMM                                 float64
	BoundaryFriction                               float64
	HousingPerDegC                                 float64 // expansion of the housing's metal
}

// A Setting is how the axle was put together. Of a preload and its end play one at
// most is above zero; with end play the position is the middle of the play.
type Setting struct {
	At                              mesh.Position
	PinionPreloadN, PinionEndPlayMM float64
	SidePreloadN, SideEndPlayMM     float64
	StemN, SpacerN                  float64
	RunoutTIRMM                     float64 // ring gear back face
}

// A Duty is the work the axle is asked to do. It is stated with the results: none
// of them means anything without it.
type Duty struct {
	PinionNmm     float64 // steady driving torque at the pinion
	CoastShare    float64 // part of it that comes back when the load reverses
	RoadKmPerHour float64
	RollingMM     float64 // tyre's rolling radius
	OilCst        float64 // oil when warm
	RiseDegC      float64 // of the whole axle over the bench
}

// PinionRPM returns the pinion's speed for an axle ratio (ring teeth over pinion
// teeth).
func (d Duty) PinionRPM(ratio float64) float64 { return d.wheelHz() * 60 * ratio }

func (d Duty) wheelHz() float64 {
	return d.RoadKmPerHour / 3.6 * 1000 / (2 * math.Pi * d.RollingMM)
}

// dutyRingMPa sets the stated torque by the ring gear's size, torque over diameter
// cubed: 1 kN·m at the ring gear of a half-ton truck, a long steady climb. An
// assumption, not a rating.
const dutyRingMPa = 0.1

// StatedDuty returns the duty every axle is asked to do here: a steady pull that
// goes with the ring gear's diameter (mm) cubed, a third of it back on coast, at
// 80 km/h on tyres of 350 mm rolling radius, oil at 20 mm²/s, 60 °C warmer than the
// bench. All of it assumed, common practice, no source.
func StatedDuty(ringDiameterMM, ratio float64) Duty {
	return Duty{
		PinionNmm:     dutyRingMPa * math.Pow(ringDiameterMM, 3) / ratio,
		CoastShare:    1.0 / 3,
		RoadKmPerHour: 80, RollingMM: 350, OilCst: 20, RiseDegC: 60,
	}
}

// A Flank is what one side of the teeth does.
type Flank struct {
	Free, Loaded  mesh.Pattern  // print with no load and under it
	MovesMM       float64       // how far the loaded print's middle lies nearer the heel
	LoadedAt      mesh.Position // where pinion and ring then stand
	OppositeN     float64
	Toe, Heel     float64 // load at the ends of the tooth, as a part of its peak
	Root, Top     float64
	ErrorRad      float64 // unloaded transmission error of one tooth, peak to peak, at the ring gear
	ErrorMM       float64 // the same at the teeth
	OncePerTurnMM float64 // what runout adds once a turn of the ring gear
	Pinion, Case  Pair
	Separates     bool // the load would take the teeth out of mesh
}

// A Pair is two opposed bearings under the duty: pinion head and tail, or the side
// bearings behind the ring gear and opposite.
type Pair struct {
	First, Second Share
	HeatW         float64
}

// LifeAgainst returns the rating life of the pair as a multiple of another's.
func (p Pair) LifeAgainst(other Pair) float64 {
	// Only ratios are wanted, so any load serves as the unit.
	of := func(q Pair) float64 {
		return SystemLife(RelativeLife(q.First.EquivalentN, 1), RelativeLife(q.Second.EquivalentN, 1))
	}
	return of(p) / of(other)
}

// NarrowestDeg returns the smaller load zone of the two.
func (p Pair) NarrowestDeg() float64 { return math.Min(p.First.ZoneDeg, p.Second.ZoneDeg) }

// A Warm is the pinion's setting when the axle has warmed through.
type Warm struct {
	ChangeMM                        float64 // end play gained; negative is tighter
	PinionPreloadN, PinionEndPlayMM float64
}

// A Clamp is what becomes of the spacer's force, which holds the pinion stack
// together: what bedding takes, what the reversed thrust takes while it lasts, and
// what is then left.
type Clamp struct {
	BeddingN, ReversalN, LeftN float64
}

// A Result is what would happen to the axle in service, by this model.
type Result struct {
	Duty         Duty
	MeshHz       float64 // tooth-mesh frequency at the stated speed
	RingHz       float64 // turns of the ring gear a second
	PinionRPM    float64
	Drive, Coast Flank
	Warm         Warm
	Clamp        Clamp

	LeastBacklashMM float64 // at the tightest place of the turn, cold
	FreeTurnDeg     float64 // what the pinion turns between drive and coast
}

// Run works out the service of an axle under a duty. Positions must be within
// mesh.Contact.Move's range.
//
// Errors: a duty that is not above zero, bearings that cannot carry it in this
// model, and those of mesh.Contact.Move for the position itself. A position from
// which the load would separate the teeth is no error: Separates says so.
func Run(p Parts, s Setting, d Duty) (Result, error) {
	if !(d.PinionNmm > 0 && d.CoastShare > 0 && d.RoadKmPerHour > 0 && d.RollingMM > 0) {
		return Result{}, fmt.Errorf("duty of %g N·mm at the pinion, %g of it on coast, %g km/h on a rolling radius of %g mm: each must be above zero", d.PinionNmm, d.CoastShare, d.RoadKmPerHour, d.RollingMM)
	}
	data := p.Gears.Blank().Data
	ratio := float64(data.RingTeeth) / float64(data.PinionTeeth)
	r := Result{Duty: d, RingHz: d.wheelHz(), MeshHz: d.wheelHz() * float64(data.RingTeeth), PinionRPM: d.PinionRPM(ratio)}
	c := p.Gears.NewContact()
	for _, side := range []struct {
		f       mesh.Flank
		ringNmm float64
		to      *Flank
	}{
		{mesh.Drive, d.PinionNmm * ratio, &r.Drive},
		{mesh.Coast, d.PinionNmm * ratio * d.CoastShare, &r.Coast},
	} {
		var err error
		if *side.to, err = p.flank(c, s, side.f, side.ringNmm, r); err != nil {
			return Result{}, fmt.Errorf("%s side: %w", side.f, err)
		}
	}
	if err := r.play(c, p.Gears, s, ratio); err != nil {
		return Result{}, err
	}
	r.Warm = p.warm(s, d.RiseDegC)
	r.Clamp = p.clamp(s, r.Coast.Pinion)
	return r, nil
}

// play fills in what the backlash does.
func (r *Result) play(c *mesh.Contact, gears *mesh.Set, s Setting, ratio float64) error {
	if err := c.Move(s.At); err != nil {
		return err
	}
	r.FreeTurnDeg = math.Max(0, c.Backlash().MeanMM) / gears.HeelArmMM() * ratio * 180 / math.Pi
	tight := s.At
	tight.RingAwayMM -= s.RunoutTIRMM / 2
	if err := c.Move(tight); err != nil {
		return err
	}
	r.LeastBacklashMM = c.Backlash().MinMM
	return nil
}
