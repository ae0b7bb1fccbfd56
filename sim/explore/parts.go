package explore

import (
	"math"

	"shimwright/sim/assembly"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/pinion"
	"shimwright/sim/text"
)

// ErrNotParts marks text that cannot be read as a list of parts at all.
var ErrNotParts error = text.Fail(nil, text.Say("parts.not-parts", "this cannot be read as a parts list"))

// Parts is the mechanics of an axle alone, as a book gives it: what carries the
// pinion and the case, without the shape of a tooth.
type Parts struct {
	Name, Source string // Source may be empty
	Pinion       pinion.Params
	Sides        carrier.Params // cap bolts torqued
	Film         bearing.Film   // of the pinion bearings, new
	UsedFriction float64        // boundary friction of used bearings; 0: not known
	SealNmm      float64
	Breakaway    float64 // breakaway torque over the greater of starting and rotating torque; 0: 1
	Ratio        float64 // ring gear teeth over pinion teeth
	Efficiency   float64 // share of the torque that comes through the teeth
}

// What stands between the cones of the pinion bearings.
const (
	collapsible = "collapsible-spacer"
	solid       = "solid-spacer"
	nothing     = "nothing"
)

// ReadParts reads the text of a parts file. name is the file's name for messages. It
// names every mistake, in the order of the file; parts that cannot be assembled are
// one. When there are mistakes the parts are not to be used.
func ReadParts(file []byte, name string) (Parts, datasheet.Problems) {
	r, b := datasheet.Read(file, name, datasheet.Kind{Key: "shimwright_parts", Version: 1, Name: text.Say("parts.file", "a parts list file"),
		Groups: []string{"bearings", "stiffness"}, See: startCommand("parts"), Foreign: ErrNotParts})
	if b == nil {
		return Parts{}, r.Problems()
	}
	var p Parts
	p.Name, p.Source = readTitle(b)
	design := p.readAssembly(b)
	p.readBearings(b)
	p.readNut(b)
	p.readStiffness(b)
	p.readSpacer(b, design)
	b.Done()
	if b.Clean() {
		p.check(b)
	}
	found := r.Problems()
	datasheet.Sort(found)
	return p, found
}

func (p *Parts) readAssembly(b *datasheet.Block) (design string) {
	in := b.Sub("assembly", text.Say("parts.want.assembly", "between_cones, end play, seal, teeth, efficiency"))
	design = in.Choice("between_cones", text.Say("parts.want.between-cones", "what is between the cones of the pinion bearings"), collapsible, solid, nothing)
	const play = "end_play_at_contact"
	if design == solid {
		for _, u := range datasheet.Lengths() {
			in.Unwanted(play+u.Suffix, text.Say("parts.solid-end-play", "with a solid spacer the preload shims decide it"), text.Say("parts.want.solid-end-play", "preload_shims and zero_end_play in the group solid_spacer"))
		}
	} else {
		p.Pinion.EndPlayAtContactMM = in.Number(play, text.Say("parts.want.end-play", "end play left when the nut is finger tight"), datasheet.Lengths(), datasheet.Between(0, 5))
	}
	p.SealNmm = in.Spare("seal_drag", text.Say("parts.want.seal-drag", "the seal drag"), datasheet.Torques(), datasheet.Between(0, 50_000))
	ring := in.Whole("ring_teeth", text.Say("parts.want.teeth-of-the-ring-gear", "teeth of the ring gear"), 10, 400)
	small := in.Whole("pinion_teeth", text.Say("parts.want.pinion-teeth", "teeth of the pinion"), 3, 60)
	p.Efficiency = in.Number("efficiency", text.Say("parts.want.efficiency", "share of the torque that passes through the teeth"), datasheet.Plain(), datasheet.Between(0.5, 1))
	in.Done()
	if !in.Clean() {
		return design
	}
	if ring <= small {
		in.Say(in.Entry("ring_teeth"), family.FewRingTeeth(ring, small), family.MoreRingTeeth())
	}
	p.Ratio = float64(ring) / float64(small)
	return design
}

func (p *Parts) readBearings(b *datasheet.Block) {
	in := b.Sub("bearings", text.Say("parts.want.bearings", "inner and outer pinion bearing, side bearings, oil, friction"))
	for _, one := range []struct {
		key  string
		what text.Message
		to   *bearing.Tapered
	}{
		{"inner", text.Say("parts.want.inner", "the inner pinion bearing, by the pinion gear"), &p.Pinion.Inner},
		{"outer", text.Say("parts.want.outer", "the outer pinion bearing, by the yoke"), &p.Pinion.Outer},
		{"side", text.Say("parts.want.side", "both side bearings"), &p.Sides.Back},
	} {
		brg := in.Sub(one.key, one.what)
		*one.to = family.ReadBearing(brg)
		brg.Done()
		if !brg.Clean() {
			continue
		}
		if err := one.to.Validate(); err != nil {
			in.Say(in.Entry(one.key), text.Reason(err), family.OneBearing())
		}
	}
	p.Sides.Tooth = p.Sides.Back
	oil := in.Sub("oil", text.Say("parts.want.oil", "viscosity of the oil and speed of the check"))
	p.Film = family.ReadOil(oil)
	oil.Done()
	friction := datasheet.Between(0.01, 0.5)
	p.Film.BoundaryFriction = in.Number("new_friction", text.Say("parts.want.new-friction", "boundary friction of new bearings"), datasheet.Plain(), friction)
	p.Breakaway = in.Spare("breakaway", text.Say("parts.want.breakaway", "breakaway torque over the greater of starting and rotating torque"), datasheet.Plain(), datasheet.Between(1, 4))
	p.UsedFriction = in.Spare("used_friction", text.Say("parts.want.used-friction", "boundary friction of used bearings"), datasheet.Plain(), friction)
	p.Pinion.InnerCupHoldN = in.Spare("cup_hold", text.Say("parts.want.cup-hold", "force that moves a cup in its bore"), datasheet.Newtons(), datasheet.Between(10, 1e6))
	p.Pinion.OuterCupHoldN = p.Pinion.InnerCupHoldN
	in.Done()
}

func (p *Parts) readNut(b *datasheet.Block) {
	in := b.Sub("nut", text.Say("parts.want.nut", "the pinion nut: thread, friction, prevailing torque"))
	friction := datasheet.Between(0.03, 0.5)
	p.Pinion.Thread = pinion.Thread{
		PitchMM:         family.ReadThreadPitchMM(in),
		PitchDiameterMM: in.Number("pitch_diameter", text.Say("parts.want.pitch-diameter", "pitch diameter of the thread"), datasheet.Lengths(), datasheet.Between(6, 150)),
		FaceDiameterMM:  in.Number("face_diameter", text.Say("parts.want.face-diameter", "mean diameter of the face under the nut"), datasheet.Lengths(), datasheet.Between(8, 250)),
		ThreadFriction:  in.Number("thread_friction", text.Say("parts.want.thread-friction", "friction of the thread"), datasheet.Plain(), friction),
		FaceFriction:    in.Number("face_friction", text.Say("parts.want.face-friction", "friction of the face under the nut"), datasheet.Plain(), friction),
		PrevailingNmm:   in.Number("prevailing", text.Say("parts.want.prevailing", "prevailing torque of the locking nut"), datasheet.Torques(), datasheet.Between(0, 600_000)),
	}
	in.Done()
}

func (p *Parts) readStiffness(b *datasheet.Block) {
	in := b.Sub("stiffness", text.Say("parts.want.stiffness", "stiffness of housing, pinion stem and nut, bearing pedestals"))
	k := datasheet.Stiffness()
	p.Pinion.HouseStiffnessNPerMM = in.Number("housing", text.Say("parts.want.housing-stiffness", "housing between the pinion bearing cups"), k, datasheet.Between(5e4, 1e7))
	p.Pinion.NutStiffnessNPerMM = in.Number("stem_and_nut", text.Say("parts.want.pinion-shaft-and-nut", "pinion stem, threads, yoke and bearing cones in series"), k, datasheet.Between(5e4, 1e7))
	p.Sides.RingGearPedestalNPerMM = in.Number("ring_gear_side_pedestal", text.Say("parts.want.ring-gear-side-pedestal", "side bearing pedestal on the ring-gear side"), k, datasheet.Between(5e3, 5e6))
	p.Sides.OppositePedestalNPerMM = in.Number("opposite_side_pedestal", text.Say("parts.want.opposite-side-pedestal", "side bearing pedestal on the opposite side"), k, datasheet.Between(5e3, 5e6))
	p.Sides.CapsTight = true
	in.Done()
}

// readSpacer reads the group of what stands between the cones, and refuses others.
func (p *Parts) readSpacer(b *datasheet.Block, design string) {
	k, lengths := datasheet.Stiffness(), datasheet.Lengths()
	if design == "" { // it has been complained of
		b.Allow("collapsible_spacer", "solid_spacer")
		return
	}
	if design == collapsible {
		in := b.Sub("collapsible_spacer", text.Say("parts.want.collapsible", "the collapsible spacer: stiffness, crush load and how it crushes"))
		load := datasheet.Newtons()
		p.Pinion.Spacer = &pinion.Spacer{
			StiffnessNPerMM: in.Number("stiffness", text.Say("parts.want.spacer-stiffness", "elastic stiffness of the spacer"), k, datasheet.Between(1e4, 1e7)),
			YieldN:          in.Number("crush_load", text.Say("parts.want.crush-load", "load at which the spacer keeps crushing"), load, datasheet.Between(1e3, 2e6)),
			PeakN:           in.Number("peak_load", text.Say("parts.want.peak-load", "load at which the spacer first gives way"), load, datasheet.Between(1e3, 4e6)),
			PeakDecayMM:     in.Number("peak_fades_over", text.Say("parts.want.peak-fades-over", "crush over which the first peak fades"), lengths, datasheet.Between(0.01, 2)),
			HardeningNPerMM: in.Number("hardening", text.Say("parts.want.hardening", "rise of the load as the spacer crushes"), k, datasheet.Between(0, 1e6)),
			UsableCrushMM:   in.Number("usable_crush", text.Say("parts.want.usable-crush", "crush until the folds of the spacer close"), lengths, datasheet.Between(0.1, 20)),
		}
		in.Done()
	} else {
		b.Unwanted("collapsible_spacer", conesSay(design), text.Say("parts.want.no-collapsible", "between_cones: collapsible-spacer; or no group collapsible_spacer"))
	}
	if design == solid {
		in := b.Sub("solid_spacer", text.Say("parts.want.solid", "the solid spacer: stiffness, preload_shims, zero_end_play"))
		p.Pinion.SolidStiffnessNPerMM = in.Number("stiffness", text.Say("parts.want.solid-stiffness", "stiffness of solid spacer and preload shims"), k, datasheet.Between(1e4, 1e9))
		p.Pinion.PreloadShimMM = in.Number("preload_shims", text.Say("parts.want.preload-shims", "the preload shims that are fitted"), lengths, datasheet.Between(0.02, 90))
		p.Pinion.ZeroPlayPreloadShimMM = in.Number("zero_end_play", text.Say("parts.want.zero-end-play", "preload shims that give zero end play"), lengths, datasheet.Between(0.02, 90))
		in.Done()
	} else {
		b.Unwanted("solid_spacer", conesSay(design), text.Say("parts.want.no-solid", "between_cones: solid-spacer; or no group solid_spacer"))
	}
}

// conesSay is why a group does not belong to what is between the cones.
func conesSay(design string) text.Message {
	return text.Say("parts.between-cones", "between_cones is {design}", text.Typed("design", design))
}

// check asks whether the parts can be assembled.
func (p *Parts) check(b *datasheet.Block) {
	at := b.Entry("assembly")
	for _, group := range []string{"collapsible_spacer", "solid_spacer"} {
		if e := b.Entry(group); e != nil {
			at = e
		}
	}
	if err := p.Pinion.Validate(); err != nil {
		b.Say(at, text.Reason(err), family.PartsThatFit())
	}
	if err := p.Sides.Validate(); err != nil {
		b.Say(b.Entry("stiffness"), text.Reason(err), family.SidesThatFit())
	}
}

// MechanicsOnly shows the mechanics alone: the pinion with its nut turned and the case
// between its side bearings. Of a Settings it takes the nut, the torque it is turned to,
// the preload shims, the side shims, the cap bolts, used bearings and grease, and what can be
// wrong with those parts: gaps under cups and cone, a spacer and a nut used before, rough
// rollers, drag of seal and brakes, a housing that has grown. A torque target turns the
// nut, whatever the spacer; without preload shims in the settings the parts' own are in. There are no
// teeth: the pinion's place is counted from where it stands at a preload of 7000 N, and
// teeth that run free add the drag of carrier.MeshDragNmm.
//
// Errors: ErrSetting for what is out of range, for preload shims or an earlier crush with a
// spacer of the other kind, and for used bearings or a gap under a cup when the parts do
// not say what those need.
func MechanicsOnly(p Parts, s Settings) (PinionState, SideState, error) {
	s.PinionOutMM, s.RingAwayMM, s.OffsetMM, s.ShaftAngleRad, s.FilmMM = 0, 0, 0, 0, 0
	s.RunoutTIRMM, s.BoltsTIRMM, s.WarpTIRMM, s.ShimDirtMM, s.WarmK, s.Reading = 0, 0, 0, 0, 0, Reading{}
	if err := s.Validate(); err != nil {
		return PinionState{}, SideState{}, err
	}
	film := p.Film
	if s.UsedBearings {
		if film.BoundaryFriction = p.UsedFriction; p.UsedFriction == 0 {
			return PinionState{}, SideState{}, refused(text.Say("parts.no-used-friction", "the parts list does not give the friction of used bearings: give used_friction"))
		}
	}
	pin, err := p.pinionState(s, film)
	if err != nil {
		return PinionState{}, SideState{}, err
	}
	side := p.Sides
	side.CapsTight = !s.CapsSnug
	fit := (s.SideFitMM - s.HousingGrowthMM) / 2
	st, err := carrier.Solve(side, fit+s.ShimToRingGearMM+s.RingGearConeGapMM, fit-s.ShimToRingGearMM)
	if err != nil {
		return PinionState{}, SideState{}, refusedFor(err)
	}
	film.SpeedRPM /= p.Ratio
	torque := assembly.Torque{MeanNmm: carrier.AtPinionNmm(side.TorqueNmm(st.ForceN, film)+s.BrakeNmm, p.Ratio, p.Efficiency)}
	return pin, sideState(st, -st.ShiftToPinionMM-st.EndPlayMM/2, torque, math.Inf(1), pin.PinionTorqueNmm), nil
}

// pinionState builds the pinion of the parts in and turns its nut.
func (p Parts) pinionState(s Settings, film bearing.Film) (PinionState, error) {
	if (s.InnerCupGapMM > 0 || s.OuterCupGapMM > 0) && p.Pinion.InnerCupHoldN == 0 {
		return PinionState{}, refused(text.Say("parts.no-cup-hold", "the parts list does not give the force that moves a cup in its bore: give cup_hold_n"))
	}
	q := p.Pinion
	q.EndPlayAtContactMM -= s.InnerCupGapMM + s.OuterCupGapMM
	q.InnerGapMM, q.OuterGapMM = s.InnerCupGapMM, s.OuterCupGapMM
	if s.NutGripGone {
		q.Thread.PrevailingNmm = 0
	}
	if s.PreloadShimMM > 0 {
		if q.PreloadShimMM = s.PreloadShimMM; q.SolidStiffnessNPerMM == 0 {
			return PinionState{}, refused(noPreloadShims())
		}
	}
	if s.SpacerCrushedMM > 0 {
		if q.Spacer == nil {
			return PinionState{}, refused(notCrushed())
		}
		used := *q.Spacer
		used.SetMM = s.SpacerCrushedMM
		q.Spacer = &used
	}
	build, err := buildIn(q, q, s, film)
	if err != nil {
		return PinionState{}, err
	}
	const placeN = 7000
	out := stateOf(build, q.Inner, placeN)
	out.PinionOutMM = out.InnerGiveMM - build.InnerGapMM()
	out.PinionBearingTorqueNmm = build.RunningTorqueNmm(film)
	if out.PreloadN > 0 {
		out.PinionBearingTorqueNmm += s.NotchNmm / 2
		out.PinionSwingNmm = s.NotchNmm
	}
	out.BreakawayTorqueNmm = math.Max(out.PinionBearingTorqueNmm, build.StartingTorqueNmm(film.BoundaryFriction)) * max(p.Breakaway, 1)
	if s.Greased {
		out.PinionBearingTorqueNmm += assembly.GreaseDragNmm
		out.BreakawayTorqueNmm += assembly.GreaseDragNmm
	}
	out.PinionTorqueNmm = out.PinionBearingTorqueNmm + p.SealNmm + s.SealExtraNmm
	return out, nil
}
