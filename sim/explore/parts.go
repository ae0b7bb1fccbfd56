package explore

import (
	"errors"
	"fmt"
	"math"

	"shimwright/sim/assembly"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/pinion"
)

// ErrNotParts marks text that cannot be read as a list of parts at all.
var ErrNotParts = errors.New("this cannot be read as a list of parts")

// Parts is the mechanics of an axle alone, as a book gives it: what carries the
// pinion and the case, without the shape of a tooth.
type Parts struct {
	Name, Source string // Source may be empty
	Pinion       pinion.Params
	Sides        carrier.Params // cap bolts torqued
	Film         bearing.Film   // of the pinion bearings, new
	UsedFriction float64        // boundary friction of used bearings; 0: not known
	SealNmm      float64
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
// names every mistake, in the order of the file; parts that cannot be built in are
// one. When there are mistakes the parts are not to be used.
func ReadParts(text []byte, name string) (Parts, datasheet.Problems) {
	r, b := datasheet.Read(text, name, datasheet.Kind{Key: "shimwright_parts", Version: 1, Name: "parts list", Full: "parts list",
		Groups: []string{"bearings", "stiffness"}, See: startWords("parts"), Foreign: ErrNotParts})
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
	in := b.Sub("assembly", "between_cones, end play, seal, teeth, efficiency")
	design = in.Choice("between_cones", "what stands between the pinion bearing cones", collapsible, solid, nothing)
	const play = "end_play_at_contact"
	if design == solid {
		for _, u := range datasheet.Lengths() {
			in.Unwanted(play+u.Suffix, "with a solid spacer the pack decides it", "pack and zero_end_play in the group solid")
		}
	} else {
		p.Pinion.EndPlayAtContactMM = in.Number(play, "end play left when the nut is finger tight", datasheet.Lengths(), datasheet.Between(0, 5))
	}
	p.SealNmm = in.Spare("seal_drag", "what the seal adds", datasheet.Torques(), datasheet.Between(0, 50_000))
	ring := in.Whole("ring_teeth", "teeth of the ring gear", 10, 400)
	small := in.Whole("pinion_teeth", "teeth of the pinion", 3, 60)
	p.Efficiency = in.Number("efficiency", "share of the torque that comes through the teeth", datasheet.Plain(), datasheet.Between(0.5, 1))
	in.Done()
	if !in.Clean() {
		return design
	}
	if ring <= small {
		in.Say(in.Entry("ring_teeth"), fmt.Sprintf("the ring gear has %d teeth and the pinion %d", ring, small), "a ring gear with more teeth than its pinion")
	}
	p.Ratio = float64(ring) / float64(small)
	return design
}

func (p *Parts) readBearings(b *datasheet.Block) {
	in := b.Sub("bearings", "head, tail and side bearing, oil, friction")
	for _, one := range []struct {
		key, what string
		to        *bearing.Tapered
	}{{"inner", "the bearing at the pinion head", &p.Pinion.Inner}, {"outer", "the bearing at the pinion's tail", &p.Pinion.Outer}, {"side", "both side bearings", &p.Sides.Back}} {
		brg := in.Sub(one.key, one.what)
		*one.to = family.ReadBearing(brg)
		brg.Done()
		if !brg.Clean() {
			continue
		}
		if err := one.to.Validate(); err != nil {
			in.Say(in.Entry(one.key), err.Error(), "figures of one bearing")
		}
	}
	p.Sides.Tooth = p.Sides.Back
	oil := in.Sub("oil", "viscosity and speed of the check")
	p.Film = family.ReadOil(oil)
	oil.Done()
	friction := datasheet.Between(0.01, 0.5)
	p.Film.BoundaryFriction = in.Number("new_friction", "boundary friction of new bearings", datasheet.Plain(), friction)
	p.UsedFriction = in.Spare("used_friction", "boundary friction of used bearings", datasheet.Plain(), friction)
	p.Pinion.InnerCupHoldN = in.Spare("cup_hold", "force that moves a cup in its bore", datasheet.Only("_n", "N"), datasheet.Between(10, 1e6))
	p.Pinion.OuterCupHoldN = p.Pinion.InnerCupHoldN
	in.Done()
}

func (p *Parts) readNut(b *datasheet.Block) {
	in := b.Sub("nut", "the pinion nut: thread, friction, prevailing torque")
	friction := datasheet.Between(0.03, 0.5)
	p.Pinion.Thread = pinion.Thread{
		PitchMM:         family.ReadThreadPitchMM(in),
		PitchDiameterMM: in.Number("pitch_diameter", "pitch diameter of the thread", datasheet.Lengths(), datasheet.Between(6, 150)),
		FaceDiameterMM:  in.Number("face_diameter", "mean diameter of the face the nut turns on", datasheet.Lengths(), datasheet.Between(8, 250)),
		ThreadFriction:  in.Number("thread_friction", "friction of the thread", datasheet.Plain(), friction),
		FaceFriction:    in.Number("face_friction", "friction of the nut's face", datasheet.Plain(), friction),
		PrevailingNmm:   in.Number("prevailing", "torque to turn the locking nut free", datasheet.Torques(), datasheet.Between(0, 600_000)),
	}
	in.Done()
}

func (p *Parts) readStiffness(b *datasheet.Block) {
	in := b.Sub("stiffness", "housing, stem and nut, bearing pedestals")
	k := datasheet.Only("_n_per_mm", "N/mm")
	p.Pinion.HouseStiffnessNPerMM = in.Number("housing", "housing between the pinion cup seats", k, datasheet.Between(5e4, 1e7))
	p.Pinion.NutStiffnessNPerMM = in.Number("stem_and_nut", "stem, threads, flange and cones in series", k, datasheet.Between(5e4, 1e7))
	p.Sides.RingGearPedestalNPerMM = in.Number("ring_gear_side_pedestal", "side bearing pedestal behind the ring gear", k, datasheet.Between(5e3, 5e6))
	p.Sides.OppositePedestalNPerMM = in.Number("opposite_side_pedestal", "side bearing pedestal on the other side", k, datasheet.Between(5e3, 5e6))
	p.Sides.CapsTight = true
	in.Done()
}

// readSpacer reads the group of what stands between the cones, and refuses others.
func (p *Parts) readSpacer(b *datasheet.Block, design string) {
	k, lengths := datasheet.Only("_n_per_mm", "N/mm"), datasheet.Lengths()
	if design == "" { // it has been complained of
		b.Find(true, "", "spacer")
		b.Find(true, "", "solid")
		return
	}
	if design == collapsible {
		in := b.Sub("spacer", "the collapsible spacer: stiffness, crush load and what follows it")
		load := datasheet.Only("_n", "N")
		p.Pinion.Spacer = &pinion.Spacer{
			StiffnessNPerMM: in.Number("stiffness", "elastic stiffness", k, datasheet.Between(1e4, 1e7)),
			YieldN:          in.Number("crush_load", "load it settles to", load, datasheet.Between(1e3, 2e6)),
			PeakN:           in.Number("peak_load", "load at which it first gives", load, datasheet.Between(1e3, 4e6)),
			PeakDecayMM:     in.Number("peak_fades_over", "crush over which the peak fades", lengths, datasheet.Between(0.01, 2)),
			HardeningNPerMM: in.Number("hardening", "rise of the load with the crush", k, datasheet.Between(0, 1e6)),
			UsableCrushMM:   in.Number("usable_crush", "crush until its folds close", lengths, datasheet.Between(0.1, 20)),
		}
		in.Done()
	} else {
		b.Unwanted("spacer", "between_cones says "+design, "between_cones: "+collapsible+", or no group spacer")
	}
	if design == solid {
		in := b.Sub("solid", "the solid spacer: stiffness, pack, zero_end_play")
		p.Pinion.SolidStiffnessNPerMM = in.Number("stiffness", "spacer and pack", k, datasheet.Between(1e4, 1e9))
		p.Pinion.PreloadShimMM = in.Number("preload_shims", "the pack that is fitted", lengths, datasheet.Between(0.02, 90))
		p.Pinion.ZeroPlayPreloadShimMM = in.Number("zero_end_play", "the pack that leaves neither preload nor end play", lengths, datasheet.Between(0.02, 90))
		in.Done()
	} else {
		b.Unwanted("solid", "between_cones says "+design, "between_cones: "+solid+", or no group solid")
	}
}

// check asks whether the parts can be built in.
func (p *Parts) check(b *datasheet.Block) {
	at := b.Entry("assembly")
	for _, group := range []string{"spacer", "solid"} {
		if e := b.Entry(group); e != nil {
			at = e
		}
	}
	if err := p.Pinion.Validate(); err != nil {
		b.Say(at, err.Error(), "parts that can be built in")
	}
	if err := p.Sides.Validate(); err != nil {
		b.Say(b.Entry("stiffness"), err.Error(), "side bearings and pedestals that can be built in")
	}
}

// MechanicsOnly shows the mechanics alone: the pinion with its nut turned and the case
// between its side bearings. Of a Settings it takes the nut, the drag it is turned to and
// the pack, the side shims, the cap bolts, used bearings and grease, and what can be
// wrong with those parts: gaps under cups and cone, a spacer and a nut used before, rough
// rollers, drag of seal and brakes, a housing that has grown. A drag turns the nut,
// whatever the spacer; without a pack in the settings the parts' own is in. There are no
// teeth: the pinion's place is counted from where it stands at a preload of 7000 N, and
// teeth that run free add the drag of carrier.MeshDragNmm.
//
// Errors: ErrSetting for what is out of range, for a pack or an earlier crush with a
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
			return PinionState{}, SideState{}, fmt.Errorf("%w: the parts do not say how used bearings rub: give used_friction", ErrSetting)
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
		return PinionState{}, SideState{}, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	film.SpeedRPM /= p.Ratio
	torque := assembly.Torque{MeanNmm: carrier.AtPinionNmm(side.TorqueNmm(st.ForceN, film)+s.BrakeNmm, p.Ratio, p.Efficiency)}
	return pin, sideState(st, -st.ShiftToPinionMM-st.EndPlayMM/2, torque, math.Inf(1), pin.PinionTorqueNmm), nil
}

// pinionState builds the pinion of the parts in and turns its nut.
func (p Parts) pinionState(s Settings, film bearing.Film) (PinionState, error) {
	if (s.InnerCupGapMM > 0 || s.OuterCupGapMM > 0) && p.Pinion.InnerCupHoldN == 0 {
		return PinionState{}, fmt.Errorf("%w: the parts do not say what holds a cup off its shoulder: give cup_hold_n", ErrSetting)
	}
	q := p.Pinion
	q.EndPlayAtContactMM -= s.InnerCupGapMM + s.OuterCupGapMM
	q.InnerGapMM, q.OuterGapMM = s.InnerCupGapMM, s.OuterCupGapMM
	if s.NutGripGone {
		q.Thread.PrevailingNmm = 0
	}
	if s.PreloadShimMM > 0 {
		if q.PreloadShimMM = s.PreloadShimMM; q.SolidStiffnessNPerMM == 0 {
			return PinionState{}, fmt.Errorf("%w: %s", ErrSetting, noPreloadShims)
		}
	}
	if s.SpacerCrushedMM > 0 {
		if q.Spacer == nil {
			return PinionState{}, fmt.Errorf("%w: %s", ErrSetting, notCrushed)
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
	if s.Greased {
		out.PinionBearingTorqueNmm += assembly.GreaseDragNmm
	}
	if out.PreloadN > 0 {
		out.PinionBearingTorqueNmm += s.NotchNmm / 2
		out.PinionSwingNmm = s.NotchNmm
	}
	out.PinionTorqueNmm = out.PinionBearingTorqueNmm + p.SealNmm + s.SealExtraNmm
	return out, nil
}
