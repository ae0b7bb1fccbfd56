package sim

import (
	"errors"
	"fmt"
	"math"

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
	BacklashPerRing              float64             // backlash per mm of ring gear travel away from the pinion
	BacklashPerPinion            float64             // backlash per mm the pinion stands further out
	PatternHeightPerPinion       float64             // climb of the print's centre, share of the tooth per mm further out, mean of both flanks
	TorquePerDegreeNmm           float64             // collapsible spacer: rotating torque per degree of nut, crushing
	NutPerTorqueNmm              float64             // collapsible spacer: nut torque per rotating torque there
	DegreesToContact             float64             // collapsible spacer: nut turn from finger tight to no end play
	TorqueAtContactNmm           float64             // collapsible spacer: the drag there, were every degree worth as much as about the target
	TorquePerPreloadShimNmmPerMM float64             // solid spacer: rotating torque lost per mm of pack, nut at its torque
	TorquesByPreloadShim         []PreloadShimTorque // solid spacer: what packs give, thick to thin, nut at its torque
	PreloadShimsAtTargetMM       float64             // solid spacer: pack for the middle of the drag window in the middle axle
	NutAtTargetNmm               float64             // nut torque at the middle of the drag window
	SideRisePerMM                float64             // rotating torque at the pinion per mm of side interference, N·mm/mm
	ReferenceRiseMM              float64             // interference the rise was taken at
	ReferenceRiseNmm             float64
	SpreadPerFit                 float64 // housing spread per side interference there
	SpreadPerFitSD               float64 // and its standard deviation from housing to housing
	BacklashPitchMM              float64 // how much backlash differs with where within its pitch the pinion stands
	PreloadAtTargetN             float64 // pinion preload at the middle of the drag window
	RingMeanShare                float64 // mean radius of the ring gear's teeth, as a share of that at the heel
	TravelShare                  float64 // what a plunger along the ring gear's travel sees of a movement square to the tooth, at the heel
	ReferencePreloadN            float64 // and at which the pinion's place is defined
}

// A PreloadShimTorque is the preload shims of a solid spacer, counted from the one for the middle of the drag
// window, and the drag it gives, bearings alone, in the middle axle of the family.
type PreloadShimTorque struct{ PreloadShimMM, TorqueNmm float64 }

// NominalGains computes the sensitivities of a family with new or used bearings.
// Errors: a family whose gears cannot mesh or whose pinion cannot be built in.
func NominalGains(fam family.Family, used bool) (Gains, error) {
	var g Gains
	m, sh := fam.Model, fam.Sheet
	set, err := Gears(fam)
	if err != nil {
		return g, err
	}
	if err := g.fromMesh(set, m.Gears.RingDiameterMM); err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	film := fam.Film(used)
	pinionGains := g.fromSpacer
	if fam.Design.Preload == family.SolidSpacer {
		pinionGains = g.fromPreloadShims
	}
	if err := pinionGains(fam, film, sh.PinionTorque(used)); err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}

	p := fam.Sides()
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
	if g.SpreadPerFit, g.SpreadPerFitSD, err = spreadPerFit(p, m.PedestalNPerMM, sh.SidePreload.Mid()); err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	g.ReferencePreloadN = fam.ReferencePreloadN()
	if g.PreloadAtTargetN, err = fam.PreloadForTorque(sh.PinionTorque(used).Mid(), fam.Film(used)); err != nil {
		return g, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	g.SideRisePerMM = (high - low) / (2 * step)
	g.ReferenceRiseMM, g.ReferenceRiseNmm = sh.SidePreload.Mid(), at+carrier.MeshDragNmm(sh.Backlash.Mid())
	return g, nil
}

// spreadPerFit returns which part of its side interference (mm) a housing shows as spread,
// mean and standard deviation over pedestals drawn each by itself and evenly from a range,
// by nine of either. A pedestal that is softer by a tenth spreads less than a tenth more,
// for it eases the force too.
func spreadPerFit(p carrier.Params, pedestal family.Range, fitMM float64) (mean, sd float64, err error) {
	const n = 9
	at := func(k int) float64 { return pedestal.Low + (float64(k)+0.5)/n*(pedestal.High-pedestal.Low) }
	var square float64
	for i := range n {
		for j := range n {
			p.RingGearPedestalNPerMM, p.OppositePedestalNPerMM = at(i), at(j)
			st, err := carrier.Solve(p, fitMM/2, fitMM/2)
			if err != nil {
				return 0, 0, err
			}
			share := st.SpreadMM / fitMM
			mean, square = mean+share/(n*n), square+share*share/(n*n)
		}
	}
	return mean, math.Sqrt(math.Max(square-mean*mean, 0)), nil
}

// MeshGains computes the sensitivities of a gear set alone: those of backlash and contact
// pattern. Errors: gears that cannot mesh.
func MeshGains(set *mesh.Set, ringDiameterMM float64) (Gains, error) {
	var g Gains
	err := g.fromMesh(set, ringDiameterMM)
	return g, err
}

func (g *Gains) fromMesh(set *mesh.Set, ringDiameterMM float64) error {
	c := set.NewContact()
	at := func(p mesh.Position) (lash, height float64, err error) {
		if err := c.Move(p); err != nil {
			return 0, 0, err
		}
		height = (c.Pattern(mesh.Drive, ThinFilmMM).CenterT + c.Pattern(mesh.Coast, ThinFilmMM).CenterT) / 2
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
	if _, _, err := at(mesh.Position{}); err != nil {
		return err
	}
	b := c.Backlash()
	g.BacklashPitchMM = b.MaxMM - b.MinMM
	heel := ringDiameterMM / 2
	g.RingMeanShare, g.TravelShare = set.Blank().RingMeanRadiusMM/heel, heel/set.HeelArmMM()
	g.BacklashPerRing = (b2 - b1) / (2 * step)
	g.BacklashPerPinion = (p2 - p1) / (2 * step)
	g.PatternHeightPerPinion = (h2 - h1) / (2 * step)
	return nil
}

// fromSpacer turns the nut on a degree at a time until the drag is at its target.
func (g *Gains) fromSpacer(fam family.Family, film bearing.Film, spec family.TorqueSpec) error {
	b, err := pinion.New(fam.Params())
	if err != nil {
		return err
	}
	b.RollPinion(30)
	const limitDeg = 1500
	var lastRotating, lastTorque, lastPlay float64
	for deg := 1; deg <= limitDeg; deg++ {
		pull := b.TurnNut(1)
		if f := b.Forces(); f.PreloadN > 0 && g.DegreesToContact == 0 {
			g.DegreesToContact = float64(deg-1) + math.Min(1, lastPlay/(fam.Model.ThreadPitchMM/360))
		} else {
			lastPlay = f.EndPlayMM
		}
		torque := b.RunningTorqueNmm(film)
		if torque >= spec.Mid() {
			g.TorquePerDegreeNmm = torque - lastRotating
			g.TorqueAtContactNmm = torque - g.TorquePerDegreeNmm*(float64(deg)-g.DegreesToContact)
			g.NutAtTargetNmm = pull.TorqueNmm
			g.NutPerTorqueNmm = (pull.TorqueNmm - lastTorque) / (torque - lastRotating)
			return nil
		}
		lastRotating, lastTorque = torque, pull.TorqueNmm
	}
	return fmt.Errorf("%d degrees of nut do not bring the rotating torque into its specification", limitDeg)
}

// fromPack takes the packs that bring the drag about its target.
func (g *Gains) fromPreloadShims(fam family.Family, film bearing.Film, spec family.TorqueSpec) error {
	p := fam.Params()
	g.NutAtTargetNmm = fam.Sheet.NutMid().Nmm()
	var err error
	if g.PreloadShimsAtTargetMM, err = fam.PreloadShimsForTorque(p, g.NutAtTargetNmm, spec.Mid(), film); err != nil {
		return err
	}
	const aboutNmm = 100
	thin, err1 := fam.PreloadShimsForTorque(p, g.NutAtTargetNmm, spec.Mid()+aboutNmm, film)
	thick, err2 := fam.PreloadShimsForTorque(p, g.NutAtTargetNmm, spec.Mid()-aboutNmm, film)
	g.TorquePerPreloadShimNmmPerMM = 2 * aboutNmm / (thick - thin)
	for _, part := range []float64{0.05, 0.2, 0.4, 0.7, 1, 1.4, 2} {
		shims, err := fam.PreloadShimsForTorque(p, g.NutAtTargetNmm, part*spec.Mid(), film)
		if err != nil {
			return err
		}
		g.TorquesByPreloadShim = append(g.TorquesByPreloadShim, PreloadShimTorque{shims - g.PreloadShimsAtTargetMM, part * spec.Mid()})
	}
	return errors.Join(err1, err2)
}
