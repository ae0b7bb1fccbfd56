package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// Spreads of the history a card tells, standard deviations in mm. The grader's
// prior is built from these same figures.
const (
	OldBuildSDMM        = 0.055 // how well the old depth shim suited the old set
	MarkSDMM            = 0.008 // a depth mark against the truth
	UnmarkedSDMM        = 0.040 // one pinion against another where they carry no mark
	BearingHeightSDMM   = 0.030 // new bearing against old
	SetUpBearingSDMM    = 0.004 // set-up bearing against the one that stays
	OldPreloadShimsSDMM = 0.030 // solid spacer: old shims against those that will be right
	OldTotalSDMM        = 0.055 // side-shim total, old side bearings against new
	OldSplitSDMM        = 0.070 // where the new ring gear sits against the old
)

// Bearing adjusters run up by hand: what is left between ring gear and cups, mm, evenly
// spread. The grader's prior is built from these same figures.
var (
	RingPlayMM = family.Range{Low: 0.02, High: 0.12}
	RingAwayMM = family.Range{Low: 0.20, High: 0.50}
)

// What swings the ring gear on any axle, once round, total reading in mm, evenly spread:
// the case flange and the gear itself. The grader's prior is built from these same figures.
var (
	FlangeSwingMM = family.Range{Low: 0.004, High: 0.018}
	GearSwingMM   = family.Range{Low: 0.003, High: 0.014}
)

// TeardownHalfMM is how closely used gears have to come back to the backlash they ran
// with, mm: 0.001 in either way (common practice, no source).
const TeardownHalfMM = 0.0254

const sparesDrawn = 4

// Out of so many jobs one has used bearings, and one has used gears that go back in.
const (
	usedBearingsIn = 4
	usedGearsIn    = 8
)

// MarkSD returns how far a pinion may stand from where its mark, or the lack of one,
// says, as a standard deviation in mm.
func MarkSD(sh family.Sheet) float64 {
	if sh.Marks.Known() {
		return MarkSDMM
	}
	return UnmarkedSDMM
}

// drawing draws one axle. Each quantity has its own stream, so that adding one never
// moves another.
type drawing struct {
	fam     family.Family
	seed    uint64
	attempt int
}

func (d drawing) stream(label string) rng.Source {
	return rng.Stream(d.seed, fmt.Sprintf("job/%d/%s", d.attempt, label))
}

func (d drawing) in(label string, r family.Range) float64 {
	return d.stream(label).Uniform(r.Low, r.High)
}

// pastBuild is what the old build of the axle was.
type pastBuild struct {
	shimMM           float64 // depth shim that is right for the new pinion, old bearings
	oldShimMM        float64
	oldMark, newMark float64 // mm, in the sheet's convention
	markErrorMM      float64
	oldErrorMM       float64
}

// draw makes one card and hidden state.
func (o Order) draw(seed uint64, attempt int) (Job, error) {
	fam := o.Family
	d := drawing{fam, seed, attempt}
	usedBearings := d.stream("used").Whole(usedBearingsIn) == 0
	usedGears := d.stream("gears-used").Whole(usedGearsIn) == 0 && !usedBearings
	newBacklash := fam.Sheet.Backlash
	if usedGears {
		// The set is put back to the backlash it ran with.
		w := fam.Sheet.Backlash
		ran := d.stream("teardown").Uniform(w.Mid(), w.HighMM+w.Half())
		fam.Sheet.Backlash = family.Spec{LowMM: ran - TeardownHalfMM, HighMM: ran + TeardownHalfMM}
		d.fam = fam
	}
	h := d.depthHistory(usedGears)
	x := d.hidden(usedBearings, usedGears, h)
	known := technician.Known{
		Sheet: fam.Sheet, Design: fam.Design, UsedBearings: usedBearings, UsedGears: usedGears,
		RingDiameter: quantity.Millimetres(fam.Model.Gears.RingDiameterMM),
		OldDepthShim: quantity.Millimetres(h.oldShimMM),
		OldMark:      quantity.Millimetres(h.oldMark), NewMark: quantity.Millimetres(h.newMark), NewBacklash: newBacklash,
	}
	if fam.Design.SideAdjust == family.BearingAdjusters {
		x.RingPlayMM, x.RingAwayMM = d.in("ring-play", RingPlayMM), d.in("ring-away", RingAwayMM)
	} else {
		known.OldRingGearShim, known.OldOppositeShim = d.sides(&x)
	}
	if fam.Design.Preload == family.SolidSpacer {
		shims, err := d.shims(&x, usedBearings, h)
		if err != nil {
			return Job{}, err
		}
		known.OldPreloadShims = shims
	}
	card := Card{Seed: seed, Family: fam, UsedBearings: usedBearings, UsedGears: usedGears, NewBacklash: newBacklash, Known: known}
	forced := fault.ID("")
	if n := len(o.Faults.OneOf); n > 0 {
		forced = o.Faults.OneOf[d.stream("fault").Whole(n)]
	}
	about := o.about(usedBearings, usedGears)
	if f, err := fault.Find(forced); err == nil && !f.On(fam.Design, about) {
		return Job{}, errUnfit
	}
	drawn := map[fault.ID]float64{} // with their rates
	for _, id := range o.Faults.OneOf {
		drawn[id] = 1 / float64(len(o.Faults.OneOf))
	}
	for _, f := range fault.For(fam.Design) {
		if !f.On(fam.Design, about) {
			continue
		}
		s := d.stream("fault/" + f.Stream())
		rate, ifAlone := o.Faults.beside(f, drawn)
		card.Rates = append(card.Rates, Rate{string(f.ID), f.Name, rate})
		drawn[f.ID] = rate
		carried := s.Uniform(0, 1) < ifAlone && !slices.ContainsFunc(f.Not, func(id fault.ID) bool { return id == forced || x.Carries(id) })
		if slices.Contains(o.Faults.OneOf, f.ID) {
			carried = f.ID == forced
		}
		if !carried {
			continue
		}
		size := s.Uniform(f.Size.Of(fam.Sheet))
		f.Apply(&x, size, s)
		x.Faults = append(x.Faults, truth.Fault{ID: f.ID, Size: size})
	}
	card.Vehicle, card.Complaint = drawStory(d.stream("story"), fam, usedBearings, usedGears)
	if x.IdealShimMM <= 0 {
		return Job{}, text.Fail(nil, text.Say("job.thin-shim", "family {family}, job {job}: the depth shim that was drawn is not above zero", text.Typed("family", fam.Code), text.Typed("job", strconv.FormatUint(seed, 10))))
	}
	return Job{Card: card, axle: truth.Seal(x, truth.Finish{})}, nil
}

// depthHistory draws the marks and what the old depth shim was.
func (d drawing) depthHistory(usedGears bool) pastBuild {
	sh := d.fam.Sheet
	unit, most := markUnit(sh)
	oldMark, newMark := 0.0, 0.0
	if sh.Marks.Known() {
		o, n := drawMarks(d.stream("marks"), most)
		if usedGears {
			n = o // the same pinion
		}
		oldMark, newMark = float64(o)*unit, float64(n)*unit
	}
	shimFor := func(mark float64) float64 {
		if !sh.Marks.Known() {
			return 0
		}
		return sh.Marks.ShimForMarkMM(mark)
	}
	const houseSDMM = 0.056 // one housing against another
	house := d.stream("house").Normal((sh.DepthShims.LowMM+sh.DepthShims.HighMM)/2, houseSDMM)
	// Keep both sets' shims well inside the drawer.
	room := 3 * sh.DepthShims.StepMM
	least := math.Min(shimFor(oldMark), shimFor(newMark))
	greatest := math.Max(shimFor(oldMark), shimFor(newMark))
	house = math.Max(sh.DepthShims.LowMM+room-least, math.Min(sh.DepthShims.HighMM-room-greatest, house))

	h := pastBuild{oldMark: oldMark, newMark: newMark}
	h.oldErrorMM = d.stream("old-build").Normal(0, OldBuildSDMM)
	h.oldShimMM = sh.DepthShims.Nearest(house + shimFor(oldMark) + h.oldErrorMM)
	h.markErrorMM = d.stream("mark-error").Normal(0, MarkSD(sh))
	if usedGears {
		h.markErrorMM = 0 // what is off in the pinion is in the old build already
	}
	h.shimMM = house + shimFor(newMark)
	return h
}

// markUnit returns what one unit of a pinion mark is, mm, and how many there are either
// way: thousandths of an inch where shims go by them, else hundredths of a millimetre.
func markUnit(sh family.Sheet) (mm float64, most int) {
	thou := quantity.Thou(1).MM()
	const sameMM = 1e-6
	if n := sh.DepthShims.StepMM / thou; math.Abs(n-math.Round(n)) < sameMM {
		return thou, 4
	}
	return 0.01, 10
}

func drawMarks(s rng.Source, most int) (oldMark, newMark int) {
	oldMark = s.Whole(2*most+1) - most
	for newMark = s.Whole(2*most+1) - most; newMark == oldMark; {
		newMark = s.Whole(2*most+1) - most
	}
	return oldMark, newMark
}

// hidden draws the axle itself but for its sides and its preload shims.
func (d drawing) hidden(usedBearings, usedGears bool, h pastBuild) truth.Axle {
	sh, m := d.fam.Sheet, d.fam.Model
	friction := m.NewFriction
	if usedBearings {
		friction = m.UsedFriction
	}
	// What a mark leaves out moves the pinion's right height and its right shim together.
	outError := -h.markErrorMM
	if !d.fam.Design.ThickerIsDeeper() {
		outError = h.markErrorMM
	}
	seal := d.in("seal", m.SealNmm)
	x := truth.Axle{
		Family: d.fam.Code,
		Drive:  drawEaseOff(d.stream("ease-off/drive"), m.EaseOff, usedGears), Coast: drawEaseOff(d.stream("ease-off/coast"), m.EaseOff, usedGears),
		OffsetErrMM: d.stream("offset").Normal(0, 0.015), ShaftErrRad: d.stream("shaft-angle").Normal(0, 0.00015),
		DesignLashMM:       sh.Backlash.Mid(),
		CheckingDistanceMM: sh.CheckingDistanceMM + sh.Marks.OutForMarkMM(h.newMark) + outError,
		IdealShimMM:        h.shimMM + h.markErrorMM + d.stream("bearing-height").Normal(0, BearingHeightSDMM),
		SetUpTallMM:        d.stream("set-up").Normal(0, SetUpBearingSDMM),
		NextTallerMM:       d.stream("next-bearing").Normal(0, BearingHeightSDMM),
		NextDrive:          drawEaseOff(d.stream("next-ease-off/drive"), m.EaseOff, false), NextCoast: drawEaseOff(d.stream("next-ease-off/coast"), m.EaseOff, false),
		NextMarkMM:    d.stream("next-mark").Normal(0, MarkSD(sh)) - h.markErrorMM,
		InnerCupHoldN: d.in("head-hold", m.CupHoldN), OuterCupHoldN: d.in("tail-hold", m.CupHoldN),
		RingGearPedestalNPerMM: d.in("pedestal/back", m.PedestalNPerMM), OppositePedestalNPerMM: d.in("pedestal/tooth", m.PedestalNPerMM),
		HouseNPerMM: d.in("house-stiffness", m.HouseNPerMM), NutNPerMM: d.in("nut-stiffness", m.NutNPerMM),
		ThreadFriction: d.in("thread-friction", m.ThreadFriction), FaceFriction: d.in("face-friction", m.ThreadFriction),
		PrevailingNmm:    quantity.FootPounds(d.in("prevailing", m.PrevailingLbFt)).Nmm(),
		BoundaryFriction: d.in("friction", friction), BreakawayFactor: d.in("breakaway", m.Breakaway),
		SealDragNmm: seal, NewSealDragNmm: seal,
		FlangeTIRMM: d.in("flange", FlangeSwingMM), FlangePhaseRad: d.stream("flange-phase").Uniform(0, 2*math.Pi),
		GearTIRMM: d.in("gear", GearSwingMM), GearPhaseRad: d.stream("gear-phase").Uniform(0, 2*math.Pi),
		UsedBearings: usedBearings, UsedGears: usedGears, OldBuildErrorMM: h.oldErrorMM,
	}
	if d.fam.Design.Preload == family.CollapsibleSpacer {
		x.EndPlayAtContactMM = d.in("end-play", m.EndPlayAtContactMM)
		for k := range sparesDrawn {
			x.Spacers = append(x.Spacers, drawSpacer(d.stream, fmt.Sprintf("spacer/%d", k), m))
		}
	}
	return x
}

// sides draws where the side bearings are line to line and what the old shims were.
func (d drawing) sides(x *truth.Axle) (oldRingGear, oldOpposite quantity.Length) {
	sh := d.fam.Sheet
	const (
		widthSDMM = 0.08 // one housing with its bearings against another
		splitSDMM = 0.06
	)
	total := sh.SideShims.LowMM + sh.SideShims.HighMM + d.stream("housing-width").Normal(0, widthSDMM)
	split := d.stream("split").Normal(0, splitSDMM)
	oldTotal := total + d.stream("old-total").Normal(0, OldTotalSDMM) + sh.SidePreload.Mid()
	oldSplit := split + d.stream("old-split").Normal(0, OldSplitSDMM)
	x.RingGearZeroMM, x.OppositeZeroMM = total/2+split, total/2-split
	return quantity.Millimetres(sh.SideShims.Nearest(oldTotal/2 + oldSplit)), quantity.Millimetres(sh.SideShims.Nearest(oldTotal/2 - oldSplit))
}

// shims draws the preload shims at zero end play of a solid spacer and what the old ones were: right for
// the old bearings, near enough, with the old depth shim.
func (d drawing) shims(x *truth.Axle, usedBearings bool, h pastBuild) (quantity.Length, error) {
	solid := d.fam.Design.Solid
	x.ZeroPlayPreloadShimMM, x.SolidNPerMM = d.in("line-to-line", solid.ZeroEndPlayMM), d.in("solid-stiffness", solid.StiffnessNPerMM)
	reach, err := d.fam.Reach(usedBearings)
	if err != nil {
		return 0, text.Fail(err, text.Say("job.family", "family {family}: {why}", text.Typed("family", d.fam.Code), text.Of("why", text.Reason(err))))
	}
	right := x.ZeroPlayPreloadShimMM + reach.PreloadShimMM.Mid() - solid.ZeroEndPlayMM.Mid()
	right += d.stream("old-pack").Normal(0, OldPreloadShimsSDMM)
	if d.fam.Design.DepthShim == family.BehindInnerCup {
		right += h.oldShimMM - x.IdealShimMM
	}
	return quantity.Millimetres(solid.PreloadShims.Nearest(right)), nil
}

// wornShare is how much of their ease-off gears keep along the part they have run on
// (an engineering choice).
const wornShare = 0.8

func drawEaseOff(s rng.Source, e mesh.EaseOff, worn bool) mesh.EaseOff {
	e.LengthMM *= s.Uniform(0.85, 1.15)
	e.ProfileMM *= s.Uniform(0.85, 1.15)
	e.TwistMM = s.Uniform(-0.008, 0.008)
	e.CenterS += s.Normal(0, 0.015)
	e.CenterT += s.Normal(0, 0.015)
	if worn {
		e.LengthMM *= wornShare
		e.ProfileMM *= wornShare
	}
	return e
}

func drawSpacer(stream func(string) rng.Source, label string, m family.Model) truth.Spacer {
	in := func(what string, r family.Range) float64 { return stream(label+"/"+what).Uniform(r.Low, r.High) }
	yield := in("yield", m.SpacerYieldN)
	return truth.Spacer{StiffnessNPerMM: in("stiffness", m.SpacerNPerMM), YieldN: yield, PeakN: yield * in("peak", m.SpacerPeakPart),
		PeakDecayMM: in("decay", m.SpacerPeakDecayMM), HardeningNPerMM: in("hardening", m.SpacerHardening), UsableCrushMM: m.SpacerUsableMM}
}
