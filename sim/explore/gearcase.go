package explore

import (
	"errors"
	"math"

	"shimwright/sim/assembly"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/solve"
	"shimwright/sim/text"
)

// ErrNotGears marks text that cannot be read as a gear set at all.
var ErrNotGears error = text.Fail(nil, text.Say("gears.not-gears", "this cannot be read as a gear set"))

// A GearCase is a gear set alone, as a book or a drawing gives it.
type GearCase struct {
	Name, Source string // Source may be empty
	Set          mesh.SetData
	Drive, Coast mesh.EaseOff
	BacklashMM   float64 // with pinion and ring gear at their places
}

// ReadGearCase reads the text of a gear file: the drawing of a set, the ease-off of
// its flanks and its backlash. name is the file's name for messages. It names every
// mistake, in the order of the file; a set that cannot mesh is one. When there are
// mistakes the case is not to be used.
//
// The spiral is the pinion's or the ring gear's, whichever the source gives.
func ReadGearCase(file []byte, name string) (GearCase, datasheet.Problems) {
	r, b := datasheet.Read(file, name, datasheet.Kind{Key: "shimwright_gears", Version: 1, Name: text.Say("gears.file", "a gear set file"),
		Groups: []string{"ring_teeth", "pinion_teeth"}, See: startCommand("gears"), Foreign: ErrNotGears})
	if b == nil {
		return GearCase{}, r.Problems()
	}
	var c GearCase
	c.Name, c.Source = readTitle(b)
	c.Set = family.ReadGears(b)
	var spiral *datasheet.Entry
	c.Set.SpiralDeg, spiral = readSpiral(b)
	c.Drive, c.Coast = readEaseOffs(b)
	c.BacklashMM = b.Number("backlash", text.Say("gears.want.backlash", "backlash at the heel, plunger square to the tooth, both gears at their design positions"), datasheet.Lengths(), datasheet.Between(0, 2))
	b.Done()
	if b.Clean() {
		c.check(b, spiral)
	}
	found := r.Problems()
	datasheet.Sort(found)
	return c, found
}

// readTitle reads what a case is and where its figures are from.
func readTitle(b *datasheet.Block) (name, source string) {
	name, _ = b.Text("name", text.Say("gears.want.name", "a name for the file's gears or parts"), 60, false)
	source, _ = b.Text("source", text.Say("gears.want.source", "the source of the figures"), 1000, true)
	return name, source
}

// ringSpiral is the key of a spiral that is the ring gear's.
const ringSpiral = "ring_spiral_deg"

// readSpiral reads the mean spiral angle and returns its entry, whose key says
// whose it is.
func readSpiral(b *datasheet.Block) (deg float64, e *datasheet.Entry) {
	what := text.Say("gears.want.spiral", "mean spiral angle: pinion_spiral_deg or ring_spiral_deg")
	if e = b.Find(false, what, "pinion_spiral_deg", ringSpiral); e == nil {
		return 0, nil
	}
	deg, _ = b.Value(e, text.Say("gears.want.spiral-angle", "mean spiral angle"), datasheet.Degrees()[0], datasheet.Between(0, 70))
	return deg, e
}

// readEaseOffs reads one ease-off for both flanks or one for each.
func readEaseOffs(b *datasheet.Block) (driveSide, coastSide mesh.EaseOff) {
	one := func(key string, what text.Message) mesh.EaseOff {
		in := b.Sub(key, what)
		e := family.ReadEaseOff(in)
		e.TwistMM = in.Spare("twist", text.Say("gears.want.twist", "relief that runs diagonally across the flank"), datasheet.Lengths(), datasheet.Between(-1, 1))
		in.Done()
		return e
	}
	const drive, coast = "drive_ease_off", "coast_ease_off"
	if b.Entry(drive) == nil && b.Entry(coast) == nil {
		both := one("ease_off", text.Say("gears.want.ease-off", "drive side and coast side alike: length, profile, center_along, center_up; or drive_ease_off and coast_ease_off, one for each"))
		b.Allow(drive, coast)
		return both, both
	}
	b.Unwanted("ease_off", text.Say("gears.ease-off-each", "drive side and coast side each have their own"), text.Say("gears.want.ease-off-alone", "ease_off alone, or drive_ease_off and coast_ease_off"))
	return one(drive, text.Say("gears.want.drive-ease-off", "the drive side: length, profile, center_along, center_up")),
		one(coast, text.Say("gears.want.coast-ease-off", "the coast side: length, profile, center_along, center_up"))
}

// check asks what follows from several values together, and turns a ring gear's
// spiral into the pinion's.
func (c *GearCase) check(b *datasheet.Block, spiral *datasheet.Entry) {
	if c.Set.RingTeeth <= c.Set.PinionTeeth {
		b.Say(b.Entry("ring_teeth"), family.FewRingTeeth(c.Set.RingTeeth, c.Set.PinionTeeth), family.MoreRingTeeth())
		return
	}
	if spiral.Key == ringSpiral {
		deg, err := pinionSpiralDeg(c.Set, c.Set.SpiralDeg)
		if err != nil {
			b.Say(spiral, text.Reason(err), text.Say("gears.want.other-spiral", "another spiral, offset or cutter radius; or the spiral of the pinion instead"))
			return
		}
		c.Set.SpiralDeg = deg
	}
	_, err := mesh.NewSet(c.Set, c.Drive, c.Coast, c.BacklashMM)
	switch {
	case errors.Is(err, mesh.ErrNoPitchDesign):
		b.Say(spiral, family.NoMesh(err), text.Say("gears.want.pitch-design", "a spiral, offset and cutter radius that go together"))
	case err != nil:
		b.Say(b.Entry("ring_teeth"), family.NoMesh(err), family.TeethThatMesh())
	}
}

// pinionSpiralDeg returns the pinion spiral that gives the ring gear a spiral. Without
// an offset the two are one. With one the pinion's is the larger by the offset angle
// between the two teeth, which depends on it in turn; of several it takes the
// smallest. Degrees, 0 to 70.
func pinionSpiralDeg(set mesh.SetData, ringDeg float64) (float64, error) {
	if set.OffsetMM == 0 {
		return ringDeg, nil
	}
	var failed error
	over := func(deg float64) float64 {
		set.SpiralDeg = deg
		blank, err := mesh.NewBlank(set)
		if err != nil {
			failed = err
			return math.NaN()
		}
		return blank.RingSpiralRad*180/math.Pi - ringDeg
	}
	const stepDeg, mostDeg, closeDeg = 2, 70, 1e-9
	low, below := ringDeg, math.NaN()
	for deg := ringDeg; deg <= mostDeg; deg += stepDeg {
		above := over(deg)
		if below <= 0 && above >= 0 || below >= 0 && above <= 0 {
			root, err := solve.Bracketed(over, low, deg, closeDeg)
			if err == nil {
				return root.X, nil
			}
		}
		low, below = deg, above
	}
	deg := text.Number("spiral", quantity.Significant(ringDeg, 4), -1)
	if failed != nil {
		return 0, text.Fail(failed, text.Say("gears.no-spiral.failed", "no pinion spiral gives the ring gear {spiral} degrees; the last one tried failed: {why}", deg, text.Of("why", text.Reason(failed))))
	}
	return 0, text.Fail(nil, text.Say("gears.no-spiral", "no pinion spiral gives the ring gear {spiral} degrees", deg))
}

// A GearBench is a gear set alone, ready to be set one way after another.
type GearBench struct{ gears gears }

// NewGearBench builds the set of a case. Errors: those of mesh.NewSet.
func NewGearBench(c GearCase) (*GearBench, error) {
	g, err := newGears(c.Set, c.Drive, c.Coast, c.BacklashMM, convexDrives)
	if err != nil {
		return nil, err
	}
	return &GearBench{g}, nil
}

// Exactly makes the bench solve every contact from here on (mesh.ExactContact) instead of
// taking moves as small ones: some 150 times slower. Errors: mesh.ErrTeeth for a set whose
// teeth do not hand over when they are solved so.
func (b *GearBench) Exactly() error { return b.gears.exactly() }

// At returns the gears at the settings, as MeshOnly does: of a Settings it takes the
// places, the film and the runouts. Errors: ErrSetting.
func (b *GearBench) At(s Settings) (GearState, error) {
	if err := s.Validate(); err != nil {
		return GearState{}, err
	}
	var axle assembly.Axle
	swings(&axle, s)
	return b.gears.at(mesh.Position{PinionOutMM: s.PinionOutMM, RingAwayMM: s.RingAwayMM,
		OffsetMM: s.OffsetMM, ShaftAngleRad: s.ShaftAngleRad}, s.FilmMM, &axle)
}

// Patterns returns what the compound shows on the drive and the coast flank. Errors as
// At.
func (b *GearBench) Patterns(s Settings) ([]gauge.ToothPattern, error) {
	g, err := b.At(s)
	if err != nil {
		return nil, err
	}
	return b.gears.toothPatterns(g, s.FilmMM), nil
}
