package service

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/solve"
)

// warm returns the pinion's setting when everything is hotter by rise: the change
// of end play by [6], and the preload that is left of the pair's own law.
func (p Parts) warm(s Setting, riseDegC float64) Warm {
	w := Warm{ChangeMM: p.pair().EndPlayChangeMM(riseDegC, 0)}
	w.PinionPreloadN, w.PinionEndPlayMM = p.eased(s, w.ChangeMM)
	return w
}

// pair is the geometry of the pinion's bearings.
func (p Parts) pair() bearing.BackToBackPair {
	return bearing.PinionPair(p.Inner, p.Outer, p.SpacerLengthMM, p.HousingPerDegC)
}

// pinionPair is the law of the pinion's bearings with the housing between them.
func (p Parts) pinionPair() bearing.Series {
	return bearing.InSeries(p.Inner, p.Outer).With(p.HouseNPerMM)
}

// eased returns preload and end play of the pinion after the bearings have gained
// room, spacer and stem being stiff beside them.
func (p Parts) eased(s Setting, gainMM float64) (preloadN, endPlayMM float64) {
	law := p.pinionPair()
	left := law.ApproachMM(s.PinionPreloadN) - s.PinionEndPlayMM - gainMM
	return law.ForceN(left), math.Max(0, -left)
}

// Bedding of the faces that the nut pulls together: thread 3 µm, nut face 2.5 µm,
// and 1.5 µm for each of the five faces between flange, cones, spacer, shim and
// pinion [8].
const beddingMM = 0.003 + 0.0025 + 5*0.0015

// clamp returns what is left of the spacer's force in use. Bedding shortens the
// stack, which stem and spacer give back in series [8]. When the thrust reverses,
// the tail cone is pressed harder and drags flange and stem with it: the stem
// stretches and the spacer follows by its own stiffness over both.
func (p Parts) clamp(s Setting, coast Pair) Clamp {
	var c Clamp
	c.BeddingN = math.Min(s.SpacerN, beddingMM*p.NutNPerMM*p.SpacerNPerMM/(p.NutNPerMM+p.SpacerNPerMM))
	more := math.Max(0, coast.Second.AxialN-s.PinionPreloadN)
	c.ReversalN = more * p.SpacerNPerMM / (p.NutNPerMM + p.SpacerNPerMM)
	c.LeftN = math.Max(0, s.SpacerN-c.BeddingN-c.ReversalN)
	return c
}

// heat constants of the friction model [9], with the radial load in.
const (
	rollingAxial, slidingAxial = 10.9, 2
	filmFriction               = 0.002
)

// frictionNmm returns the running torque of a bearing under both loads at speed [9]:
// rolling with inlet heating, and sliding. Oil thrown about is left out.
func frictionNmm(b bearing.Tapered, s Share, rpm, oilCst, boundaryFriction float64) float64 {
	dm := b.MeanDiameterMM()
	rolling := bearing.RollingTorqueNmm(
		bearing.FrictionVariable(b.R1, dm, 2.38, s.RadialN+rollingAxial*b.Y*s.AxialN, 0.31), oilCst, rpm)
	sliding := bearing.FrictionVariable(b.S1, dm, 0.82, s.RadialN+slidingAxial*b.Y*s.AxialN, 1) *
		bearing.SlidingFriction(bearing.BoundaryShare(rpm, oilCst, dm), boundaryFriction, filmFriction)
	return bearing.RunningMomentNmm(bearing.InletShearFactor(rpm, dm, oilCst), 1, rolling, sliding, 0)
}

// pairOf puts a loaded pair with the heat it makes: torque times speed.
func (p Parts) pairOf(l loaded, a, b bearing.Tapered, rpm, oilCst float64) Pair {
	torque := frictionNmm(a, l.a, rpm, oilCst, p.BoundaryFriction) + frictionNmm(b, l.b, rpm, oilCst, p.BoundaryFriction)
	return Pair{First: l.a, Second: l.b, HeatW: torque / 1000 * rpm * 2 * math.Pi / 60}
}

// CupsHome returns the setting after pinion cups that stood off have gone home in
// use: the bearings gain both gaps, stem and spacer find their balance at the nut's
// place, and the pinion comes out by the head cup's gap less what the head bearing no
// longer gives. A spacer at its crush load crushes on; one below it springs first.
func (p Parts) CupsSeated(s Setting, innerGapMM, outerGapMM float64) Setting {
	gap := math.Max(0, innerGapMM) + math.Max(0, outerGapMM)
	if gap == 0 {
		return s
	}
	law := p.pinionPair()
	room := law.ApproachMM(s.PinionPreloadN) - s.PinionEndPlayMM - gap
	spacer := func(y float64) float64 {
		return math.Min(s.SpacerN+p.SpacerNPerMM*y, math.Max(s.SpacerN, p.SpacerCrushN))
	}
	shaft := func(y float64) float64 { return s.StemN - p.NutNPerMM*y }
	// The cones close by y when the bearings let go.
	y := 0.0
	if root, err := solve.Bracketed(func(y float64) float64 {
		return spacer(y) + law.ForceN(room+y) - shaft(y)
	}, 0, gap, offTolMM); err == nil {
		y = root.X
	}
	out := s
	out.PinionPreloadN, out.PinionEndPlayMM = law.ForceN(room+y), math.Max(0, -room-y)
	out.SpacerN, out.StemN = spacer(y), shaft(y)
	out.At.PinionOutMM += math.Max(0, innerGapMM) - (p.Inner.DeflectionMM(s.PinionPreloadN) - p.Inner.DeflectionMM(out.PinionPreloadN))
	return out
}

// ConesHome returns the setting after side bearing cones that stood off the case by so
// much, mm, have gone home: the fit loses both gaps, and the ring gear moves away from
// the pinion for the back one, to it for the one on the tooth side. The fit (mm) is interference, or end play below
// zero. Errors: those of carrier.Solve.
func (p Parts) ConesSeated(s Setting, fitMM, ringGearMM, oppositeMM float64) (Setting, error) {
	if !(ringGearMM > 0 || oppositeMM > 0) {
		return s, nil
	}
	sides := carrier.Params{Back: p.Back, Tooth: p.Tooth, RingGearPedestalNPerMM: p.RingGearPedestalNPerMM,
		OppositePedestalNPerMM: p.OppositePedestalNPerMM, CapsTight: true}
	// Which side the fit is on does not matter to the difference.
	was, err := carrier.Solve(sides, fitMM, 0)
	if err != nil {
		return s, err
	}
	is, err := carrier.Solve(sides, fitMM-ringGearMM, -oppositeMM)
	if err != nil {
		return s, err
	}
	out := s
	out.SidePreloadN, out.SideEndPlayMM = is.ForceN, is.EndPlayMM
	out.At.RingAwayMM += was.ShiftToPinionMM - is.ShiftToPinionMM - (is.EndPlayMM-was.EndPlayMM)/2
	return out, nil
}
