package sim

import (
	"errors"
	"fmt"
	"maps"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/assembly"
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
	PinionOut    PinionBuild = "out"
	PinionMockUp PinionBuild = "mock-up"
	PinionFinal  PinionBuild = "final"
)

// A Goal is how far an axle has to be before it can be signed off.
type Goal string

// The goals. The zero value is the whole axle.
const (
	WholeAxle   Goal = ""
	DepthChosen Goal = "depth"   // the depth shim is in hand
	PinionSet   Goal = "preload" // the pinion is in its final build
)

// Mount is how the dial indicator stands for a backlash reading.
type Mount struct {
	Where, Plunger, Pinion string // heel, middle, toe; square, along, tilted; pinion-held, pinion-free
}

// Status is what anyone at the bench can see without measuring.
type Status struct {
	Pinion          PinionBuild
	DepthShim       quantity.Length // marked size of the shim chosen last, 0 if none
	PreloadShims    quantity.Length // solid spacer: marked size of the preload pack, 0 if none
	RingGearShim    quantity.Length
	OppositeShim    quantity.Length
	RingGearNotches float64 // threaded rings: slots in since they were first run up by hand
	OppositeNotches float64
	Spread          quantity.Length // the spreader stands open by this, 0 if it is off
	CaseIn          bool
	CapsTight       bool
	Indicator       *Mount // nil: not mounted
	Painted         bool
	SpacersUsed     int
	NutBackedOff    bool // the nut of this final build has been loosened
	Minutes         shop.Minutes
	PartsMinutes    shop.Minutes
	Parts           []shop.Part
	Sheet           []Entry // the build sheet as written so far
	SignedOff       bool
	Acts            int
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
	axle    *assembly.Axle
	seed    uint64
	kit     *gauge.Kit
	gears   *mesh.Set
	contact *mesh.Contact

	build              *pinion.Build
	mode               PinionBuild
	pinionFits         int
	depthMarked        float64 // mm, 0 none
	preloadShimsMarked float64
	ringGearMarked     float64
	oppositeMarked     float64
	adjustersUp        bool    // the threaded rings have been run up once
	ringGearNotches    float64 // since then, in
	oppositeNotches    float64
	spreadMM           float64 // the spreader stands open by this
	spacersUsed        int     // spacers crushed or thrown away
	sealTight          bool
	greased            bool
	backedOff          bool
	furthestDeg        float64 // nut angle before it was backed off

	caseIn    bool
	caseFits  int
	capsTight bool
	mount     *Mount
	paint     string // "", thin, thick

	goal    Goal
	off     []LeftOff
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
	gears, err := Gears(fam)
	if err != nil {
		return nil, err
	}
	return NewWith(gears, fam, hidden, seed)
}

// Gears works out the gear set of a family, with its nominal ease-off: most of the work of
// New, and the same for every axle of the family.
func Gears(fam family.Family) (*mesh.Set, error) {
	m := fam.Model
	set, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, fam.Sheet.Backlash.Mid())
	if err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	return set, nil
}

// NewWith is New for one who has the family's gears already.
func NewWith(ofFamily *mesh.Set, fam family.Family, hidden truth.Sealed, seed uint64) (*Stand, error) {
	opened, _ := truth.Open(hidden)
	axle := assembly.New(fam, opened)
	gears, err := ofFamily.With(axle.Drive, axle.Coast, axle.DesignLashMM)
	if err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	if fam.Design.Preload == family.CollapsibleSpacer && len(axle.Spacers) == 0 {
		return nil, fmt.Errorf("family %s: the axle has no collapsible spacer to fit", fam.Code)
	}
	s := &Stand{
		fam: fam, axle: axle, seed: seed,
		kit:       gauge.NewKit(seed, axle.WrenchGain, axle.StringGain),
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
	for n := range max(1, len(axle.Spacers)) {
		right := assembly.Pinion{DepthShimMM: axle.IdealShimMM, PreloadShimMM: axle.ZeroPlayPreloadShimMM, Spacer: n}
		if err := axle.Params(right).Validate(); err != nil {
			return nil, fmt.Errorf("family %s, spacer %d: %w", fam.Code, n+1, err)
		}
	}
	return s, nil
}

// HandOver makes what has been done so far somebody else's work: nothing of it is charged,
// and no caution counts as given. From here the axle can be signed off at the goal. What
// has been written on the build sheet stays.
func (s *Stand) HandOver(g Goal) {
	s.goal = g
	s.minutes, s.parts, s.acts, s.warned = 0, nil, 0, map[string]bool{}
}

// Status returns what can be seen without measuring.
func (s *Stand) Status() Status {
	var parts shop.Minutes
	for _, p := range s.parts {
		parts += shop.PriceOf(p)
	}
	st := Status{
		Pinion: s.mode, DepthShim: quantity.Millimetres(s.depthMarked),
		PreloadShims: quantity.Millimetres(s.preloadShimsMarked),
		RingGearShim: quantity.Millimetres(s.ringGearMarked), OppositeShim: quantity.Millimetres(s.oppositeMarked),
		RingGearNotches: s.ringGearNotches, OppositeNotches: s.oppositeNotches, Spread: quantity.Millimetres(s.spreadMM),
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
	out.Minutes = shop.TimeOf(s.fam.Design, a.Form, places)
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
const outOfMesh = "pinion and ring gear stand so far from their place that the teeth hardly reach each other: take up the nut or bring the ring gear nearer first"

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

// pinionAs says what a pinion build is made of.
func (s *Stand) pinionAs(mockUp bool) assembly.Pinion {
	return assembly.Pinion{MockUp: mockUp, DepthShimMM: s.actualDepthShim(), PreloadShimMM: s.preloadShimsMarked + s.shimScatter("pack", s.preloadShimsMarked), Spacer: s.spacersUsed}
}

// depthErrorMM returns how far the pinion stands from its place: + = too far out.
func (s *Stand) depthErrorMM() float64 {
	return s.axle.PinionOutMM(s.build, s.pinionAs(s.mode == PinionMockUp)) +
		s.chance(fmt.Sprintf("pinion-fit/%d", s.pinionFits)).Normal(0, fitScatterMM)
}

// fitScatterMM is how well a part goes back to the same place when it is fitted
// again, mm (common practice estimate).
const fitScatterMM = 0.002

// sides says what holds the case: shims as they measure, or rings as they are screwed in.
func (s *Stand) sides() assembly.Sides {
	if s.fam.Design.SideAdjust == family.BearingAdjusters {
		travel := s.fam.Design.Rings.NotchTravelMM()
		return assembly.Sides{RingGearMM: s.ringGearNotches * travel, OppositeMM: s.oppositeNotches * travel, CapsTight: s.capsTight}
	}
	return assembly.Sides{
		RingGearMM: s.ringGearMarked + s.shimScatter("side", s.ringGearMarked),
		// The two shims of one marked size are two shims.
		OppositeMM: s.oppositeMarked + s.shimScatter("side-other", s.oppositeMarked),
		CapsTight:  s.capsTight,
	}
}

func (s *Stand) carrierState() (carrier.State, error) { return s.axle.Case(s.sides()) }

// gearPosition returns where pinion and ring stand for one observation. angle is
// the ring gear's, radians; pushed is in 0..1 and says where within any play the
// parts lie.
func (s *Stand) gearPosition(st carrier.State, angle, pushed float64) mesh.Position {
	refit := s.chance(fmt.Sprintf("case-fit/%d", s.caseFits)).Normal(0, fitScatterMM)
	return s.axle.Place(s.depthErrorMM(), s.build.Forces().EndPlayMM, st, s.capsTight, angle, pushed, refit)
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

// drag returns the true torque to keep the pinion turning, or to break it loose.
func (s *Stand) torque(atBreakaway bool) (assembly.Torque, error) {
	t := s.axle.BearingTorque(s.build)
	if atBreakaway {
		t = s.axle.BreakawayTorque(s.build)
	}
	if s.greased {
		t.MeanNmm += assembly.GreaseDragNmm
	}
	if s.mode == PinionFinal {
		t.MeanNmm += s.axle.SealNmm(!s.sealTight)
	}
	if !s.caseIn {
		return t, nil
	}
	st, err := s.carrierState()
	if err != nil {
		return t, err
	}
	tight := math.Inf(1)
	for k := range 4 {
		b, err := s.backlashMM(st, float64(k)*math.Pi/2, 0.5, 0)
		if err != nil {
			return t, err
		}
		tight = min(tight, b)
	}
	side := s.axle.SideTorque(st.ForceN)
	t.MeanNmm += side.MeanNmm + carrier.MeshDragNmm(tight)
	t.SwingNmm += side.SwingNmm
	return t, nil
}

// Sealed returns the hidden state with how the axle now stands.
func (s *Stand) Sealed() truth.Sealed { return truth.Seal(s.axle.Axle, s.finish()) }

func (s *Stand) finish() truth.Finish {
	f := truth.Finish{Goal: string(s.goal), SignedOff: s.signed, DepthShimFitted: s.depthMarked > 0, PinionFitted: s.mode == PinionFinal, CaseFitted: s.caseIn, CapsTight: s.capsTight,
		RunoutTIRMM: s.axle.RunoutMM(), SealNmm: s.axle.SealNmm(!s.sealTight), Greased: s.greased, CapsOwnSide: !s.axle.CapsSwapped && !s.axle.CapRotated,
		BackedOff: s.backedOff && s.mode == PinionFinal, Remaining: s.remaining()}
	if s.build == nil {
		f.DepthErrorMM = s.axle.ShimErrorMM(s.actualDepthShim())
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
	f.NutNmm = seated.ForwardTorqueNmm()
	f.PinionTorqueNmm = s.axle.BearingTorque(seated).MeanNmm
	if s.mode == PinionFinal {
		f.PinionTorqueNmm += s.axle.SealNmm(!s.sealTight)
	}
	if !s.caseIn {
		return f
	}
	st, err := s.carrierState()
	if err != nil {
		return f
	}
	f.SidePreloadN, f.SideFitMM = st.ForceN, -st.EndPlayMM
	if back, tooth := s.axle.FitMM(s.sides()); back+tooth > 0 {
		f.SideFitMM = back + tooth
	}
	swing, _, _ := s.axle.SwingMM(0)
	f.RingAwayMM = s.gearPosition(st, 0, 0.5).RingAwayMM - swing
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
	// What drags at the wheels is no part of the axle's setting.
	brakes := s.axle.BrakeNmm
	s.axle.BrakeNmm = 0
	if t, err := s.torque(false); err == nil {
		f.TotalTorqueNmm = t.MeanNmm
	}
	s.axle.BrakeNmm = brakes
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
				return s.build.InnerGapMM() > 0
			}
			return s.build.OuterGapMM() > 0
		}
		return standing > 0
	}
	add(truth.InnerCupHigh, gap(x.InnerCupGapMM, true))
	add(truth.OuterCupHigh, gap(x.OuterCupGapMM, false))
	add(truth.DirtBehindGear, x.GearDirtTIRMM > 0)
	add(truth.BentFlange, x.FlangeTIRMM > s.fam.Sheet.CaseFlangeRunoutMM)
	sp, _ := x.SpacerAt(s.spacersUsed)
	add(truth.SpacerCrushed, s.mode == PinionFinal && sp.AlreadyCrushedMM > 0)
	add(truth.PackingGrease, s.greased)
	add(truth.SealTight, s.sealTight)
	add(truth.SideConeHigh, x.RingGearConeGapMM > 0)
	add(truth.CapsSwapped, x.CapsSwapped)
	add(truth.DirtUnderShim, x.ShimDirtMM > 0)
	add(truth.NutUsed, s.mode == PinionFinal && x.NutGripGone)
	add(truth.BearingNotched, x.NotchNmm > 0)
	add(truth.OppositeConeHigh, x.OppositeConeGapMM > 0)
	add(truth.CapTurned, x.CapRotated)
	add(truth.BoltsUneven, x.BoltsTIRMM > 0)
	add(truth.BoltsLong, x.GearLooseMM > 0)
	add(truth.SetMixed, x.MixedShare > 0)
	add(truth.GearForOther, x.GearShortMM > 0)
	add(truth.GearWarped, x.WarpTIRMM > 0)
	add(truth.GearOffCenter, x.RadialTIRMM > 0)
	add(truth.PinionBent, x.PinionTIRMM > 0)
	add(truth.SlingerOut, x.SlingerOutMM > 0)
	add(truth.SpacerShort, s.mode == PinionFinal && sp.ShorterMM > 0)
	add(truth.BearingGritty, x.GritNmm > 0)
	return out
}
