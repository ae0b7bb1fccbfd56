package explore

import (
	"errors"
	"math"
	"slices"

	"shimwright/sim/assembly"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Places is how many places round the ring gear backlash is read at, and their
// number.
const Places = 4

// angles are the ring gear's at those places, radians.
var angles = [Places]float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}

// exactly changes to the exact method.
func (g *gears) exactly() error {
	c, err := g.set.NewExactContact()
	if err != nil {
		return err
	}
	g.contact = c
	return nil
}

// swings puts the runouts of the settings into an axle.
func swings(a *assembly.Axle, s Settings) {
	a.GearTIRMM, a.BoltsTIRMM, a.WarpTIRMM, a.WarpWaves = s.RunoutTIRMM, s.BoltsTIRMM, s.WarpTIRMM, 2
}

// addedMM returns what an axle's runout adds to the ring gear's distance at each place.
func addedMM(a *assembly.Axle) (addMM [Places]float64) {
	for k, rad := range angles {
		addMM[k] = math.Round(a.WobbleMM(rad)*1e9) / 1e9 // a cosine of a right angle is nought
	}
	return addMM
}

// A GearState is what the teeth do at one place of pinion and ring gear.
type GearState struct {
	BacklashMeanMM float64
	BacklashMinMM  float64 // tightest place and pinion position
	BacklashMaxMM  float64
	BacklashAtMM   [Places]float64 // at 0, 90, 180 and 270 degrees of the ring gear
	RunoutTIRMM    float64
	Binds          bool         // mean backlash of zero or less: the gears will not roll through
	Drive, Coast   mesh.Pattern // by use, not by shape
	Leads          [2]mesh.Lead // of the drive and the coast side
}

// A contact answers for a set that is moved, by the fast method or the exact one.
type contact interface {
	Move(mesh.Position) error
	Backlash() mesh.Backlash
	Lead(f mesh.Flank) mesh.Lead
	Pattern(f mesh.Flank, filmMM float64) mesh.Pattern
	Separation(f mesh.Flank, cols, rows int, dst []float64) []float64
}

// gears is a set with the scratch space to move it.
type gears struct {
	set     *mesh.Set
	contact contact
	flanks  [2]mesh.Flank // the one that drives first
}

// convexDrives is the usual way round.
var convexDrives = [2]mesh.Flank{mesh.Drive, mesh.Coast}

func newGears(set mesh.SetData, drive, coast mesh.EaseOff, designBacklashMM float64, flanks [2]mesh.Flank) (gears, error) {
	s, err := mesh.NewSet(set, drive, coast, designBacklashMM)
	if err != nil {
		return gears{}, err
	}
	return gears{s, s.NewContact(), flanks}, nil
}

// at moves the set to a position and reads it, with the runout of an axle; it leaves the
// set at the position itself.
func (g gears) at(p mesh.Position, filmMM float64, a *assembly.Axle) (GearState, error) {
	out := GearState{RunoutTIRMM: a.RunoutMM(), BacklashMinMM: math.Inf(1), BacklashMaxMM: math.Inf(-1)}
	addMM := addedMM(a)
	move := func(addMM float64) error {
		q := p
		q.RingAwayMM += addMM
		err := g.contact.Move(q)
		if errors.Is(err, mesh.ErrPosition) {
			return refused(text.Say("explore.gears-apart", "pinion and ring gear are so far from their design positions that the teeth lose contact (pinion out {out}, ring gear away {away}): bring them nearer",
				text.BothLength("out", quantity.Millimetres(q.PinionOutMM)), text.BothLength("away", quantity.Millimetres(q.RingAwayMM))))
		}
		return err
	}
	var byPlace [Places]mesh.Backlash
	for k, add := range addMM {
		if i := slices.Index(addMM[:k], add); i >= 0 {
			byPlace[k] = byPlace[i]
			continue
		}
		if err := move(add); err != nil {
			return GearState{}, err
		}
		byPlace[k] = g.contact.Backlash()
	}
	if addMM != ([Places]float64{}) {
		if err := move(0); err != nil {
			return GearState{}, err
		}
	}
	for k, b := range byPlace {
		out.BacklashAtMM[k] = b.MeanMM
		out.BacklashMeanMM += b.MeanMM / Places
		out.BacklashMinMM = math.Min(out.BacklashMinMM, b.MinMM)
		out.BacklashMaxMM = math.Max(out.BacklashMaxMM, b.MaxMM)
	}
	out.Binds = out.BacklashMeanMM <= 0
	for i, f := range g.flanks {
		out.Leads[i] = g.contact.Lead(f)
	}
	return g.patterns(out, filmMM), nil
}

// patterns returns the state with the patterns that a film shows where the set now stands.
func (g gears) patterns(s GearState, filmMM float64) GearState {
	s.Drive, s.Coast = mesh.Pattern{Empty: true}, mesh.Pattern{Empty: true}
	if !s.Binds {
		s.Drive, s.Coast = g.contact.Pattern(g.flanks[0], filmMM), g.contact.Pattern(g.flanks[1], filmMM)
	}
	return s
}

// under returns the state with the patterns that the coat of the settings shows, where
// the set now stands.
func (g gears) under(s GearState, set Settings) GearState {
	if set.filmMM() == set.FilmMM {
		return s
	}
	return g.patterns(s, set.filmMM())
}

// The grid of a drawn pattern.
const patternCols, patternRows = 48, 16

// patterns draws both flanks where the set now stands.
func (g gears) toothPatterns(s GearState, filmMM float64) []gauge.ToothPattern {
	var out []gauge.ToothPattern
	var sep []float64
	for i, f := range g.flanks {
		pat, name := s.Drive, mesh.Drive
		if i == 1 {
			pat, name = s.Coast, mesh.Coast
		}
		p := gauge.ToothPattern{
			Flank: name.String(), Crossed: f != name, Cols: patternCols, Rows: patternRows, Ink: make([]float64, patternCols*patternRows),
			CenterS: pat.CenterS, CenterT: pat.CenterT, LengthPart: pat.MaxS - pat.MinS, HeightPart: pat.MaxT - pat.MinT, AreaPart: pat.AreaShare,
		}
		if !pat.Empty {
			sep = g.contact.Separation(f, patternCols, patternRows, sep)
			for i, d := range sep {
				p.Ink[i] = math.Max(0, math.Min(1, gauge.Ink(d, filmMM)))
			}
		}
		out = append(out, p)
	}
	return out
}
