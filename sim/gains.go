package sim

import (
	"fmt"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
)

// Gains are the family's nominal sensitivities: what one change does to a reading.
// They come from the same model as the readings, at the middle of every spread, and
// hold for small changes about the finished state.
type Gains struct {
	BacklashPerRing       float64 // backlash per mm of ring gear travel away from the pinion
	BacklashPerPinion     float64 // backlash per mm the pinion stands further out
	PrintHeightPerPinion  float64 // climb of the print's centre, share of the tooth per mm further out, mean of both flanks
	DragPerDegreeNmm      float64 // rotating torque per degree of nut, spacer crushing
	NutAtTargetNmm        float64 // nut torque at the middle of the drag window
	NutPerDragNmm         float64 // nut torque per rotating torque there
	DegreesToContact      float64 // nut turn from finger tight to no end play
	SideRisePerMM         float64 // rotating torque at the pinion per mm of side-shim interference, N·mm/mm
	ReferenceRiseMM       float64 // interference the rise was taken at
	ReferenceRiseNmm      float64
	HeadPreloadMoveMM     float64 // how far the head bearing gives at the reference preload
	DragPerPreloadNmmPerN float64
}

func mid(r family.Range) float64 { return (r.Low + r.High) / 2 }

// NominalGains computes the sensitivities of a family with new or used bearings.
// Errors: a family whose gears cannot mesh or whose pinion cannot be built in.
func NominalGains(fam family.Family, used bool) (Gains, error) {
	var g Gains
	m, sh := fam.Model, fam.Sheet
	set, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, sh.Backlash.Mid())
	if err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	if err := g.fromMesh(set); err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	film := NominalFilm(fam, used)
	if err := g.fromPinion(fam, film, sh.PinionDrag(used).Mid()); err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	g.HeadPreloadMoveMM = m.Head.DeflectionMM(ReferencePreloadN)

	p := NominalSides(fam)
	film.SpeedRPM /= sh.Ratio()
	rise := func(fit float64) (float64, error) {
		st, err := carrier.Solve(p, fit/2, fit/2)
		return carrier.AtPinionNmm(p.TorqueNmm(st.ForceN, film), sh.Ratio(), m.MeshEfficiency), err
	}
	const step = 0.05
	low, err1 := rise(sh.SidePreload.Mid() - step)
	high, err2 := rise(sh.SidePreload.Mid() + step)
	at, err3 := rise(sh.SidePreload.Mid())
	for _, err := range []error{err1, err2, err3} {
		if err != nil {
			return g, fmt.Errorf("family %s: %w", fam.Code, err)
		}
	}
	g.SideRisePerMM = (high - low) / (2 * step)
	g.ReferenceRiseMM, g.ReferenceRiseNmm = sh.SidePreload.Mid(), at+carrier.MeshDragNmm(sh.Backlash.Mid())
	return g, nil
}

func (g *Gains) fromMesh(set *mesh.Set) error {
	c := set.NewContact()
	at := func(p mesh.Position) (lash, height float64, err error) {
		if err := c.Move(p); err != nil {
			return 0, 0, err
		}
		height = (c.Pattern(mesh.Drive, thinFilmMM).CentreT + c.Pattern(mesh.Coast, thinFilmMM).CentreT) / 2
		return c.Backlash().MeanMM, height, nil
	}
	const step = 0.05
	b1, _, err1 := at(mesh.Position{RingAwayMM: -step})
	b2, _, err2 := at(mesh.Position{RingAwayMM: step})
	p1, h1, err3 := at(mesh.Position{PinionOutMM: -step})
	p2, h2, err4 := at(mesh.Position{PinionOutMM: step})
	for _, err := range []error{err1, err2, err3, err4} {
		if err != nil {
			return err
		}
	}
	g.BacklashPerRing = (b2 - b1) / (2 * step)
	g.BacklashPerPinion = (p2 - p1) / (2 * step)
	g.PrintHeightPerPinion = (h2 - h1) / (2 * step)
	return nil
}

func (g *Gains) fromPinion(fam family.Family, film bearing.Film, targetNmm float64) error {
	b, err := pinion.New(NominalPinion(fam))
	if err != nil {
		return err
	}
	b.RollPinion(30)
	// The nut goes on a degree at a time until the drag is at its target.
	const limitDeg = 1500
	var lastDrag, lastTorque float64
	for deg := 1; deg <= limitDeg; deg++ {
		pull := b.TurnNut(1)
		if f := b.Forces(); f.PreloadN > 0 && g.DegreesToContact == 0 {
			g.DegreesToContact = float64(deg)
		}
		drag := b.RunningTorqueNmm(film)
		if drag >= targetNmm {
			g.DragPerDegreeNmm = drag - lastDrag
			g.NutAtTargetNmm = pull.TorqueNmm
			g.NutPerDragNmm = (pull.TorqueNmm - lastTorque) / (drag - lastDrag)
			g.DragPerPreloadNmmPerN = drag / b.Forces().PreloadN
			return nil
		}
		lastDrag, lastTorque = drag, pull.TorqueNmm
	}
	return fmt.Errorf("%d degrees of nut do not bring the drag to its window", limitDeg)
}

// nmmPerFootPound is 1 lb-ft in N·mm.
const nmmPerFootPound = 1355.8179483314004
