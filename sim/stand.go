package sim

import (
	"errors"
	"fmt"
	"maps"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/shop"
	"shimwright/sim/truth"
)

// PinionBuild says how the pinion stands in the housing.
type PinionBuild string

// The ways a pinion can be built in.
const (
	PinionOut   PinionBuild = "out"
	PinionTrial PinionBuild = "trial"
	PinionFinal PinionBuild = "final"
)

// Mount is how the dial indicator stands for a backlash reading.
type Mount struct {
	Where, Stem, Pinion string // heel, middle, toe; square, along, tilted; pinion-held, pinion-free
}

// Status is what anyone at the bench can see without measuring.
type Status struct {
	Pinion       PinionBuild
	DepthShim    quantity.Length // marked size of the shim chosen last, 0 if none
	BackShim     quantity.Length
	ToothShim    quantity.Length
	CaseIn       bool
	CapsTight    bool
	Indicator    *Mount // nil: not mounted
	Painted      bool
	SpacersUsed  int
	NutBackedOff bool // the nut of this final build has been loosened
	Minutes      shop.Minutes
	PartsMinutes shop.Minutes
	Parts        []shop.Part
	Sheet        []Entry // the build sheet as written so far
	SignedOff    bool
	Acts         int
}

// An Entry is one line of the build sheet.
type Entry struct {
	Item  string
	Value quantity.Entered
}

// An Outcome is what an act showed and cost.
type Outcome struct {
	Act      act.Act
	Minutes  shop.Minutes
	Parts    []shop.Part
	Readings []gauge.Reading
	Notes    []string // what anyone doing the act would notice
	Cautions []string // shown the first time it matters
}

// A Refusal is the error of an act that cannot be done now. Nothing has changed
// and nothing is charged.
type Refusal struct {
	Act act.Act
	Why string // what stands in the way, and what to do first
}

// Error says why the act cannot be done.
func (r *Refusal) Error() string { return r.Why }

// A Stand is one axle on the bench.
type Stand struct {
	fam     family.Family
	axle    truth.Axle
	seed    uint64
	kit     *gauge.Kit
	gears   *mesh.Set
	contact *mesh.Contact

	build       *pinion.Build
	mode        PinionBuild
	pinionFits  int
	depthMarked float64 // mm, 0 none
	backMarked  float64
	toothMarked float64
	spacersUsed int // spacers crushed or thrown away
	sealTight   bool
	greased     bool
	backedOff   bool

	caseIn    bool
	caseFits  int
	capsTight bool
	mount     *Mount
	paint     string // "", thin, thick

	version int // counts changes to the axle, so that readings of one build share nothing with the next
	reps    map[string]int
	warned  map[string]bool

	sheet   []Entry
	parts   []shop.Part
	minutes shop.Minutes
	acts    int
	signed  bool
}

// New puts an axle on the bench. The error names what is wrong with the hidden
// state (a set that cannot mesh, a bearing without rollers).
func New(fam family.Family, hidden truth.Sealed, seed uint64) (*Stand, error) {
	axle, _ := truth.Open(hidden)
	gears, err := mesh.NewSet(fam.Model.Gears, axle.Drive, axle.Coast, axle.DesignLashMM)
	if err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	if len(axle.Spacers) == 0 {
		return nil, fmt.Errorf("family %s: the axle has no collapsible spacer to fit", fam.Code)
	}
	s := &Stand{
		fam: fam, axle: axle, seed: seed,
		kit:       gauge.NewKit(seed, axle.WrenchGain),
		gears:     gears,
		contact:   gears.NewContact(),
		mode:      PinionOut,
		sealTight: axle.SealDragNmm > axle.NewSealDragNmm,
		greased:   axle.PackedInGrease,
		reps:      map[string]int{},
		warned:    map[string]bool{},
	}
	// Every spacer that may be fitted must be one the force balance can follow:
	// better to find out here than at the nut.
	for s.spacersUsed = range axle.Spacers {
		if _, err := pinion.New(s.pinionParams(true)); err != nil {
			return nil, fmt.Errorf("family %s, spacer %d: %w", fam.Code, s.spacersUsed+1, err)
		}
	}
	s.spacersUsed = 0
	return s, nil
}

// Status returns what can be seen without measuring.
func (s *Stand) Status() Status {
	var parts shop.Minutes
	for _, p := range s.parts {
		parts += shop.PriceOf(p)
	}
	st := Status{
		Pinion: s.mode, DepthShim: quantity.Millimetres(s.depthMarked),
		BackShim: quantity.Millimetres(s.backMarked), ToothShim: quantity.Millimetres(s.toothMarked),
		CaseIn: s.caseIn, CapsTight: s.capsTight, Painted: s.paint != "",
		SpacersUsed: s.spacersUsed, NutBackedOff: s.backedOff && s.mode == PinionFinal,
		Minutes: s.minutes, PartsMinutes: parts, Parts: append([]shop.Part(nil), s.parts...),
		Sheet: append([]Entry(nil), s.sheet...), SignedOff: s.signed, Acts: s.acts,
	}
	if s.mount != nil {
		m := *s.mount
		st.Indicator = &m
	}
	return st
}

// Family returns the axle's family.
func (s *Stand) Family() family.Family { return s.fam }

// label names a reading for its noise: kind, the state of the axle, and how often
// this kind has been read in that state.
func (s *Stand) label(kind string) string {
	key := fmt.Sprintf("%s/%d", kind, s.version)
	s.reps[key]++
	return fmt.Sprintf("%s/%d", key, s.reps[key])
}

// chance returns a stream for anything that is not an instrument's noise.
func (s *Stand) chance(label string) rng.Source { return rng.Stream(s.seed, "bench/"+label) }

// Do carries out one act. The error is a *Refusal when the act cannot be done now.
// It wraps act.ErrNotAnAct or act.ErrIncomplete when the act is not one that a line
// of text can say; any other error means that the model could not solve the state.
// Every error leaves the axle as it was.
func (s *Stand) Do(a act.Act) (Outcome, error) {
	// Saying the act and reading it back checks its choices, amounts and units.
	a, err := act.Parse(a.String(), quantity.Inch)
	if err != nil {
		return Outcome{}, err
	}
	if why := s.refuse(a); why != "" {
		return Outcome{}, &Refusal{a, why}
	}
	out := Outcome{Act: a}
	reps := maps.Clone(s.reps)
	if err := s.perform(a, &out); err != nil {
		s.reps = reps
		if errors.Is(err, mesh.ErrPosition) {
			return Outcome{}, &Refusal{a, outOfMesh}
		}
		return Outcome{}, err
	}
	places := 0
	if a.Form == act.MeasureBacklash {
		places = int(a.Amounts[0].Number)
	}
	out.Minutes = shop.TimeOf(a.Form, places)
	if c := caution(a.Form); c != "" && !s.warned[c] {
		s.warned[c] = true
		out.Cautions = append(out.Cautions, c)
	}
	s.minutes += out.Minutes
	s.parts = append(s.parts, out.Parts...)
	s.acts++
	return out, nil
}

// outOfMesh refuses a reading of gears that stand millimetres from their place.
const outOfMesh = "pinion and ring gear stand so far from their place that the teeth hardly reach each other: take up the nut or change the side shims first"

// changed marks that the axle is no longer in the state the last readings saw.
func (s *Stand) changed() { s.version++ }

// lengthOf returns an amount that the act's form guarantees to be a length.
func lengthOf(e quantity.Entered) float64 {
	l, _ := e.Length()
	return l.MM()
}

// shimOnShelf finds the stocked size a person means. A size may be given in either
// unit, so a quarter of a step of rounding is allowed.
func shimOnShelf(stock family.Stock, mm float64) (size float64, ok bool) {
	size = stock.Nearest(mm)
	return size, math.Abs(size-mm) <= stock.StepMM/4
}

// actualDepthShim returns what the shim of a marked size really measures, mm.
func (s *Stand) actualDepthShim() float64 {
	return s.depthMarked + s.axle.DepthLotMM + s.shimScatter("depth", s.depthMarked)
}

func (s *Stand) shimScatter(drawer string, markedMM float64) float64 {
	const sdMM = 0.003 // rolled strip, common practice estimate
	return s.chance(fmt.Sprintf("shim/%s/%d", drawer, int64(math.Round(markedMM*1e6)))).Normal(0, sdMM)
}

// depthErrorMM returns how far the pinion stands from its place: + = too far out.
func (s *Stand) depthErrorMM() float64 {
	m := s.fam.Model
	p := s.build.Forces().PreloadN
	out := s.axle.IdealShimMM - s.actualDepthShim() - s.build.HeadGapMM()
	out += m.Head.DeflectionMM(p) - m.Head.DeflectionMM(ReferencePreloadN)
	if s.mode == PinionTrial {
		out -= s.axle.SetUpTallMM
	}
	return out + s.chance(fmt.Sprintf("pinion-fit/%d", s.pinionFits)).Normal(0, fitScatterMM)
}

// ReferencePreloadN is the pinion preload at which a pinion's place is defined,
// newtons. It is near the middle of the family's rotating-torque window.
const ReferencePreloadN = 7000

// fitScatterMM is how well a part goes back to the same place when it is fitted
// again, mm (common practice estimate).
const fitScatterMM = 0.002

func (s *Stand) pinionParams(final bool) pinion.Params {
	m, x := s.fam.Model, s.axle
	p := pinion.Params{
		Head: m.Head, Tail: m.Tail,
		HouseStiffnessNPerMM: x.HouseNPerMM, NutStiffnessNPerMM: x.NutNPerMM,
		Thread:             m.Thread(x.ThreadFriction, x.FaceFriction, x.PrevailingNmm),
		EndPlayAtContactMM: x.EndPlayAtContactMM - x.HeadCupGapMM - x.TailCupGapMM,
		HeadGapMM:          x.HeadCupGapMM, TailGapMM: x.TailCupGapMM,
		HeadCupHoldN: x.HeadCupHoldN, TailCupHoldN: x.TailCupHoldN,
		UnseatedRollersMM: m.UnseatedRollersMM,
	}
	if final {
		sp := x.Spacers[min(s.spacersUsed, len(x.Spacers)-1)]
		p.Spacer = &pinion.Spacer{StiffnessNPerMM: sp.StiffnessNPerMM, YieldN: sp.YieldN, PeakN: sp.PeakN,
			PeakDecayMM: sp.PeakDecayMM, HardeningNPerMM: sp.HardeningNPerMM, UsableCrushMM: sp.UsableCrushMM,
			SetMM: sp.AlreadyCrushedMM}
	}
	return p
}

// sideFitMM returns the interference each side shim contributes, mm.
func (s *Stand) sideFitMM() (back, tooth float64) {
	back = s.backMarked + s.shimScatter("side", s.backMarked) + s.axle.BackConeGapMM - s.axle.BackZeroMM
	// The two shims of one marked size are two shims.
	tooth = s.toothMarked + s.shimScatter("side-other", s.toothMarked) - s.axle.ToothZeroMM
	return back, tooth
}

func (s *Stand) carrierState() (carrier.State, error) {
	m := s.fam.Model
	back, tooth := s.sideFitMM()
	p := carrier.Params{Back: m.Side, Tooth: m.Side, BackPedestalNPerMM: s.axle.BackPedestalNPerMM,
		ToothPedestalNPerMM: s.axle.ToothPedestalNPerMM, CapsTight: s.capsTight}
	return carrier.Solve(p, back, tooth)
}

// wanderMM is how far the case may lie from where it belongs at one reading.
func (s *Stand) wanderMM() float64 {
	switch {
	case s.axle.CapsSwapped:
		return 0.03
	case !s.capsTight:
		return 0.02
	}
	return 0
}

// gearPosition returns where pinion and ring stand for one observation. angle is
// the ring gear's, radians; pushed is in 0..1 and says where within any play the
// parts lie.
func (s *Stand) gearPosition(st carrier.State, angle, pushed float64) mesh.Position {
	away := -st.ShiftToPinionMM - pushed*st.EndPlayMM
	away += s.chance(fmt.Sprintf("case-fit/%d", s.caseFits)).Normal(0, fitScatterMM)
	away += (2*pushed - 1) * s.wanderMM()
	away += s.wobbleMM(angle)
	out := s.depthErrorMM() + (pushed-0.5)*s.build.Forces().EndPlayMM
	return mesh.Position{PinionOutMM: out, RingAwayMM: away, OffsetMM: s.axle.OffsetErrMM, ShaftAngleRad: s.axle.ShaftErrRad}
}

// wobbleMM is the ring gear's axial runout at an angle: dirt, flange and the
// gear's own error each go once round.
func (s *Stand) wobbleMM(angle float64) float64 {
	x := s.axle
	return x.GearDirtTIRMM/2*math.Cos(angle-x.DirtPhaseRad) +
		x.FlangeTIRMM/2*math.Cos(angle-x.FlangePhaseRad) +
		x.GearTIRMM/2*math.Cos(angle-x.GearPhaseRad)
}

// runoutMM is the swing of the back face over a turn.
func (s *Stand) runoutMM() float64 {
	x := s.axle
	var re, im float64
	for _, w := range [][2]float64{{x.GearDirtTIRMM, x.DirtPhaseRad}, {x.FlangeTIRMM, x.FlangePhaseRad}, {x.GearTIRMM, x.GearPhaseRad}} {
		re += w[0] * math.Cos(w[1])
		im += w[0] * math.Sin(w[1])
	}
	return math.Hypot(re, im)
}

// backlashMM returns the free play square to the tooth at the heel, at one ring
// angle. The pinion happens to stand somewhere within its own pitch.
func (s *Stand) backlashMM(st carrier.State, angle, pushed, phase float64) (float64, error) {
	if err := s.contact.Move(s.gearPosition(st, angle, pushed)); err != nil {
		return 0, err
	}
	b := s.contact.Backlash()
	return b.MinMM + phase*(b.MaxMM-b.MinMM), nil
}

// dragNmm returns the true torque to keep the pinion turning.
func (s *Stand) dragNmm(firstPull bool) (total, swing float64, err error) {
	m := s.fam.Model
	film := m.Film
	film.BoundaryFriction = s.axle.BoundaryFriction
	total = s.build.RunningTorqueNmm(film)
	if firstPull {
		// In used bearings most of the running torque is rolling, which the
		// starting formula leaves out; to start is never easier than to keep going.
		total = max(total, s.build.StartingTorqueNmm(film.BoundaryFriction)) * s.axle.BreakawayFactor
	}
	if s.greased {
		total += GreaseDragNmm
	}
	if s.mode == PinionFinal {
		total += s.sealNmm()
	}
	if !s.caseIn {
		return total, 0, nil
	}
	st, err := s.carrierState()
	if err != nil {
		return 0, 0, err
	}
	ratio := s.fam.Sheet.Ratio()
	p := carrier.Params{Back: m.Side, Tooth: m.Side}
	side := film
	side.SpeedRPM /= ratio
	total += carrier.AtPinionNmm(p.TorqueNmm(st.ForceN, side), ratio, m.MeshEfficiency)
	if s.axle.CapsSwapped {
		const pinchNmm = 2500 // at the case, both cups nipped oval
		at := carrier.AtPinionNmm(pinchNmm, ratio, m.MeshEfficiency)
		total += at / 2
		swing = at
	}
	tight := math.Inf(1)
	for k := range 4 {
		b, err := s.backlashMM(st, float64(k)*math.Pi/2, 0.5, 0)
		if err != nil {
			return 0, 0, err
		}
		tight = min(tight, b)
	}
	return total + carrier.MeshDragNmm(tight), swing, nil
}

func (s *Stand) sealNmm() float64 {
	if s.sealTight {
		return s.axle.SealDragNmm
	}
	return s.axle.NewSealDragNmm
}

// Sealed returns the hidden state with how the axle now stands.
func (s *Stand) Sealed() truth.Sealed { return truth.Seal(s.axle, s.finish()) }

func (s *Stand) finish() truth.Finish {
	f := truth.Finish{SignedOff: s.signed, PinionFitted: s.mode == PinionFinal, CaseFitted: s.caseIn, CapsTight: s.capsTight,
		RunoutTIRMM: s.runoutMM(), SealNmm: s.sealNmm(), Greased: s.greased, CapsOwnSide: !s.axle.CapsSwapped,
		BackedOff: s.backedOff && s.mode == PinionFinal, Remaining: s.remaining()}
	if s.build == nil {
		return f
	}
	// The finished axle is judged with its rollers home, as it will be after a
	// few turns of the wheels.
	seated := s.build.Clone()
	seated.RollPinion(30)
	held := s.build
	s.build = seated
	defer func() { s.build = held }()
	forces := seated.Forces()
	f.DepthErrorMM, f.PinionPreloadN, f.PinionEndPlayMM = s.depthErrorMM(), forces.PreloadN, forces.EndPlayMM
	f.ClampN, f.SpacerN = forces.StemN, forces.SpacerN
	film := s.fam.Model.Film
	film.BoundaryFriction = s.axle.BoundaryFriction
	f.PinionDragNmm = seated.RunningTorqueNmm(film)
	if s.mode == PinionFinal {
		f.PinionDragNmm += s.sealNmm()
	}
	if !s.caseIn {
		return f
	}
	st, err := s.carrierState()
	if err != nil {
		return f
	}
	f.SidePreloadN, f.SideFitMM = st.ForceN, -st.EndPlayMM
	if back, tooth := s.sideFitMM(); back+tooth > 0 {
		f.SideFitMM = back + tooth
	}
	f.RingAwayMM = s.gearPosition(st, 0, 0.5).RingAwayMM - s.wobbleMM(0)
	low, high, sum := math.Inf(1), math.Inf(-1), 0.0
	const places = 12
	for k := range places {
		b, err := s.backlashMM(st, 2*math.Pi*float64(k)/places, 0.5, 0.5)
		if err != nil {
			return f
		}
		low, high, sum = min(low, b), max(high, b), sum+b
	}
	f.BacklashMeanMM, f.BacklashMinMM, f.BacklashSpreadMM = sum/places, low, high-low
	f.TotalDragNmm, _, _ = s.dragNmm(false)
	return f
}

// remaining lists the fault states that are still in the axle.
func (s *Stand) remaining() []truth.FaultID {
	var out []truth.FaultID
	add := func(id truth.FaultID, still bool) {
		if still {
			out = append(out, id)
		}
	}
	x := s.axle
	gap := func(standing float64, head bool) bool {
		if s.build != nil {
			if head {
				return s.build.HeadGapMM() > 0
			}
			return s.build.TailGapMM() > 0
		}
		return standing > 0
	}
	add(truth.HeadCupHigh, gap(x.HeadCupGapMM, true))
	add(truth.TailCupHigh, gap(x.TailCupGapMM, false))
	add(truth.DirtBehindGear, x.GearDirtTIRMM > 0)
	add(truth.BentFlange, x.FlangeTIRMM > s.fam.Sheet.FlangeRunoutMM)
	add(truth.SpacerCrushed, s.mode == PinionFinal && x.Spacers[min(s.spacersUsed, len(x.Spacers)-1)].AlreadyCrushedMM > 0)
	add(truth.PackingGrease, s.greased)
	add(truth.SealTight, s.sealTight)
	add(truth.SideConeHigh, x.BackConeGapMM > 0)
	add(truth.CapsSwapped, x.CapsSwapped)
	return out
}
