package sim

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/shop"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// A Stand is one axle on the bench.
type Stand struct {
	fam     family.Family
	axle    *assembly.Axle
	seed    uint64
	kit     *gauge.Kit
	gears   *mesh.Set
	contact *mesh.Contact

	build              *pinion.Build
	mode               history.PinionBuild
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
	backedOff          bool
	unseen             bool        // nobody watched the nut being backed off
	nut                history.Nut // what anyone knows of it
	turns              float64     // of the pinion since it went in
	furthestDeg        float64     // nut angle before it was backed off

	caseIn    bool
	caseFits  int
	capsTight bool
	mount     *history.Mount
	compound  act.Option

	goal    history.Goal
	off     []LeftOff
	changes history.Changes
	version int // counts changes to the axle, so that readings of one build share nothing with the next
	reps    map[string]int
	warned  map[act.Caution]bool

	sheet   []history.Entry
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
		kit:     gauge.NewKit(seed, axle.WrenchGain, axle.StringGain),
		gears:   gears,
		contact: gears.NewContact(),
		mode:    history.PinionOut,
		reps:    map[string]int{},
		warned:  map[act.Caution]bool{},
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
// has been written on the build sheet stays. Where nobody watched the work, nothing is known
// of the nut but that it has been tightened and the pinion turned.
func (s *Stand) HandOver(g history.Goal, watched bool) {
	const turned = 10
	s.goal = g
	s.minutes, s.parts, s.acts, s.warned = 0, nil, 0, map[act.Caution]bool{}
	if !watched {
		s.nut, s.turns, s.unseen = history.Nut{Contact: true}, turned, s.backedOff
	}
}

// Status returns what can be seen without measuring.
func (s *Stand) Status() history.Status {
	var parts shop.Minutes
	for _, p := range s.parts {
		parts += shop.PriceOf(p)
	}
	mm := quantity.Millimetres
	st := history.Status{
		Pinion: s.mode, DepthShim: mm(s.depthMarked), PreloadShims: mm(s.preloadShimsMarked),
		RingGearShim: mm(s.ringGearMarked), OppositeShim: mm(s.oppositeMarked),
		RingGearNotches: s.ringGearNotches, OppositeNotches: s.oppositeNotches, AdjustersUp: s.adjustersUp, Spread: mm(s.spreadMM),
		CaseIn: s.caseIn, CapsTight: s.capsTight, Compound: s.compound, Turns: s.turns, Nut: s.nut,
		NutBackedOff: s.backedOff && !s.unseen && s.mode == history.PinionFinal, SpacersUsed: s.spacersUsed, Builds: s.pinionFits, CaseFits: s.caseFits,
		Changes: s.changes, Minutes: s.minutes, PartsMinutes: parts, Parts: slices.Clone(s.parts),
		Sheet: slices.Clone(s.sheet), SignedOff: s.signed, Acts: s.acts,
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

// Do carries out one act. The error is a *history.Refusal when the act cannot be done now.
// It wraps act.ErrNotAnAct or act.ErrIncomplete when the act is not one that a line
// of text can say; any other error means that the model could not solve the state.
// Every error leaves the axle as it was.
func (s *Stand) Do(a act.Act) (history.Step, error) {
	// Saying the act and reading it back checks its choices, amounts and units.
	a, err := act.Parse(a.String(), quantity.Inch)
	if err != nil {
		return history.Step{}, err
	}
	if no := s.refuse(a); no != nil {
		return history.Step{}, no
	}
	d := deeds()[a.Form]
	out := history.Step{Act: a, Before: s.Status()}
	reps := maps.Clone(s.reps)
	if err := d.does(s, a, &out); err != nil {
		s.reps = reps
		if errors.Is(err, mesh.ErrPosition) {
			return history.Step{}, &history.Refusal{Act: a, Bar: history.NotNow, Why: outOfMesh()}
		}
		return history.Step{}, err
	}
	s.besides(a.Form, &out)
	s.mend(a.Form)
	places := 0
	if a.Form == act.MeasureBacklash {
		places = int(a.Amounts[0].Number)
	}
	out.Minutes = shop.TimeOf(s.fam.Design, a.Form, places)
	if c := a.Form.Caution(); c != act.NoCaution && !s.warned[c] {
		s.warned[c] = true
		out.Caution = c
	}
	s.minutes += out.Minutes
	s.parts = append(s.parts, out.Parts...)
	s.acts++
	s.changes.Parts += d.touches.Parts
	s.changes.Depth += d.touches.Depth
	s.changes.Preload += d.touches.Preload
	s.changes.Sides += d.touches.Sides
	out.After = s.Status()
	return out, nil
}

// outOfMesh refuses a reading of gears that stand millimeters from their place.
func outOfMesh() text.Message {
	return text.Say("not.out-of-mesh", "pinion and ring gear stand so far from their place that the teeth hardly reach each other: take up the nut or bring the ring gear nearer first")
}

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

// ShimScatterMM is how far a shim lies from its marking, as a standard deviation, mm (rolled
// strip, common practice estimate).
const ShimScatterMM = 0.003

func (s *Stand) shimScatter(drawer string, markedMM float64) float64 {
	return s.chance(fmt.Sprintf("shim/%s/%d", drawer, int64(math.Round(markedMM*1e6)))).Normal(0, ShimScatterMM)
}

// pinionAs says what a pinion build is made of.
func (s *Stand) pinionAs(mockUp bool) assembly.Pinion {
	return assembly.Pinion{MockUp: mockUp, DepthShimMM: s.actualDepthShim(), PreloadShimMM: s.preloadShimsMarked + s.shimScatter("pack", s.preloadShimsMarked), Spacer: s.spacersUsed}
}

// depthErrorMM returns how far the pinion stands from its place: + = too far out.
func (s *Stand) depthErrorMM() float64 {
	return s.axle.PinionOutMM(s.build, s.pinionAs(s.mode == history.PinionMockUp)) +
		s.chance(fmt.Sprintf("pinion-fit/%d", s.pinionFits)).Normal(0, RefitMM)
}

// RefitMM is how well a part goes back to the same place when it is fitted again, as a
// standard deviation, mm (common practice estimate).
const RefitMM = 0.002

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
	refit := s.chance(fmt.Sprintf("case-fit/%d", s.caseFits)).Normal(0, RefitMM)
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
	if s.axle.PackedInGrease {
		t.MeanNmm += assembly.GreaseDragNmm
	}
	if s.mode == history.PinionFinal {
		t.MeanNmm += s.axle.SealDragNmm
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
	f := truth.Finish{Goal: string(s.goal), SignedOff: s.signed, DepthShimFitted: s.depthMarked > 0, PinionFitted: s.mode == history.PinionFinal, CaseFitted: s.caseIn, CapsTight: s.capsTight,
		RunoutTIRMM: s.axle.RunoutMM(), SealNmm: s.axle.SealDragNmm, Greased: s.axle.PackedInGrease,
		BackedOff: s.backedOff && s.mode == history.PinionFinal, Remaining: s.remaining()}
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
	if s.mode == history.PinionFinal {
		f.PinionTorqueNmm += s.axle.SealDragNmm
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
	if low > 0 {
		flanks := s.fam.Design.Flanks() // drive first
		f.PatternDrive = s.contact.Pattern(flanks[0], ThinFilmMM).CenterT
		f.PatternCoast = s.contact.Pattern(flanks[1], ThinFilmMM).CenterT
	}
	// What drags at the wheels is no part of the axle's setting.
	brakes := s.axle.BrakeNmm
	s.axle.BrakeNmm = 0
	if t, err := s.torque(false); err == nil {
		f.TotalTorqueNmm = t.MeanNmm
	}
	s.axle.BrakeNmm = brakes
	return f
}

// standing is the axle as it stands, for its faults to be asked whether they are still there.
func (s *Stand) standing() fault.Standing {
	out := fault.Standing{Axle: &s.axle.Axle, Sheet: s.fam.Sheet, Final: s.mode == history.PinionFinal,
		InnerCupGapMM: s.axle.InnerCupGapMM, OuterCupGapMM: s.axle.OuterCupGapMM}
	out.Spacer, _ = s.axle.SpacerAt(s.spacersUsed)
	if s.build != nil {
		out.InnerCupGapMM, out.OuterCupGapMM = s.build.InnerGapMM(), s.build.OuterGapMM()
	}
	return out
}

// remaining lists the faults that are still in the axle, in the order of the job.
func (s *Stand) remaining() []truth.FaultID {
	var out []truth.FaultID
	standing := s.standing()
	for f := range fault.Each() {
		if f.Remains != nil && f.Remains(standing) {
			out = append(out, f.ID)
		}
	}
	return out
}

// besides adds what an inspection finds of faults that it has no reading of its own for.
func (s *Stand) besides(form act.Form, out *history.Step) {
	standing := s.standing()
	for f := range fault.Each() {
		if f.Found != gauge.NoFinding && f.Test == form && f.Remains(standing) {
			out.Readings = append(out.Readings, gauge.Reading{Kind: f.Beside, Finding: f.Found})
		}
	}
}

// mend takes out of the axle what an act cures.
func (s *Stand) mend(form act.Form) {
	for f := range fault.Each() {
		if f.Mend != nil && f.CuredBy(form) {
			f.Mend(&s.axle.Axle)
		}
	}
}
