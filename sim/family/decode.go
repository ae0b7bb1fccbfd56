package family

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// formatVersion is the version of the file format that this program reads.
const formatVersion = 1

// kind is what a family file is.
func kind() datasheet.Kind {
	return datasheet.Kind{Key: "shimwright_family", Version: formatVersion, Name: "family", Full: "axle family",
		Groups: []string{"gears", "sheet"}, See: "a family that comes with the program", Foreign: ErrNotFamily}
}

// A block is one group of keys of a family file.
type block struct{ *datasheet.Block }

func (b block) sub(key, what string) block { return block{b.Sub(key, what)} }

// decode reads the text of a file: writing, kinds of values and their limits. What
// follows from several values together is left to the checks.
func decode(text []byte, name string) (Family, datasheet.Spots, []Problem) {
	r, file := datasheet.Read(text, name, kind())
	if file == nil {
		return Family{}, nil, r.Problems()
	}
	top := block{file}
	at := datasheet.Spots{}
	var f Family
	f.Code = top.code()
	f.Name, _ = top.Text("name", "the family's name", 60, false)
	f.Use, _ = top.Text("use", "what the axle is for and how it is built", 300, false)
	f.Notes, _ = top.Text("notes", "what a person should know of this description", 1000, true)
	f.Invented = top.invented()

	design := top.sub("design", "how the axle is built: pinion_preload, depth_shim, side_adjust, marks, drive_flank, housing, case_entry")
	f.Design, f.Sheet.Marks = design.design(at)
	design.Done()

	gears := top.sub("gears", "the ring and pinion: teeth, sizes, spiral, cutter, ease-off")
	gears.gears(&f, at)
	gears.Done()
	if gears.Clean() {
		at.Place("gears", gears.Block)
	}

	sheet := top.sub("sheet", "what the axle sheet says")
	sheet.sheet(&f, at)
	sheet.Done()

	brg := top.sub("bearings", "head, tail and side bearing, their friction and oil")
	brg.bearings(&f.Model, at)
	brg.Done()

	nut := top.sub("nut", "the pinion nut: thread, friction, prevailing torque")
	nut.nut(&f.Model)
	nut.Done()

	stiff := top.sub("stiffness", "housing, stem and nut, bearing pedestals")
	f.Model.HouseNPerMM = stiff.spread("housing", "housing between the pinion cup seats", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(5e4, 1e7))
	f.Model.NutNPerMM = stiff.spread("stem_and_nut", "stem, threads, flange and cones in series", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(5e4, 1e7))
	f.Model.PedestalNPerMM = stiff.spread("pedestal", "one side bearing pedestal", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(5e3, 5e6))
	stiff.Done()

	top.preload(&f, at)
	top.rings(&f)
	top.Done()
	return f, at, r.Problems()
}

func (b block) code() string {
	const what = "a short name of capital letters and digits, such as BEECH"
	code, e := b.Text("code", what, 20, false)
	if e == nil {
		return ""
	}
	for i, c := range code {
		if !(c >= 'A' && c <= 'Z' || i > 0 && (c >= '0' && c <= '9' || c == '-')) {
			b.Say(e, fmt.Sprintf("code is %q", code), what)
			return ""
		}
	}
	return code
}

func (b block) invented() string {
	const what = "a notice in a sentence that this axle is invented and no figure may be used on a real one"
	notice, e := b.Text("invented", what, 400, false)
	if e != nil && (!strings.Contains(strings.ToLower(notice), "invented") || !strings.ContainsFunc(notice, unicode.IsSpace)) {
		b.Say(e, "invented does not say that the axle is invented", what)
	}
	return notice
}

func (b block) design(at datasheet.Spots) (Design, setup.MarkConvention) {
	d := Design{
		Preload:    PreloadDesign(b.Choice("pinion_preload", "what stands between the pinion bearings", string(CollapsibleSpacer), string(SolidSpacer))),
		DepthShim:  DepthShimPlace(b.Choice("depth_shim", "where the depth shim lies", string(UnderInnerCone), string(BehindInnerCup), string(UnderCageFlange))),
		SideAdjust: SideAdjust(b.Choice("side_adjust", "how the ring gear is placed", string(OutsideShims), string(InsideShims), string(BearingAdjusters))),
	}
	marks := map[string]setup.MarkConvention{
		"plus-takes-shim": setup.PlusTakesShimAway, "plus-thickens-cage-shim": setup.PlusThickensCageShim, "plus-adds-shim": setup.PlusAddsShim, "none": 0,
	}[b.Choice("marks", "what a mark on the pinion means", "plus-takes-shim", "plus-thickens-cage-shim", "plus-adds-shim", "none")]
	d.DriveFlank = DriveFlank(b.Choice("drive_flank", "the ring gear flank that drives the vehicle forward", string(Convex), string(Concave)))
	d.Housing = Material(b.Choice("housing", "what the housing is cast of", string(Iron), string(Aluminium)))
	d.Entry = CaseEntry(b.Choice("case_entry", "how the case is taken in and out", string(ByHand), string(Spreader)))
	at.Note("marks", b.Entry("marks"))
	at.Note("drive_flank", b.Entry("drive_flank"))
	return d, marks
}

func (b block) gears(f *Family, at datasheet.Spots) {
	f.Design.ToothForm = ToothForm(b.Choice("tooth_form", "how the teeth are cut", string(FaceMilled), string(FaceHobbed)))
	f.Model.Gears = ReadGears(b.Block)
	f.Model.Gears.SpiralDeg = b.Number("pinion_spiral", "mean spiral angle of the pinion", datasheet.Only("_deg", "degrees"), datasheet.Between(0, 70))
	f.Sheet.RingTeeth, f.Sheet.PinionTeeth = f.Model.Gears.RingTeeth, f.Model.Gears.PinionTeeth
	ease := b.sub("ease_off", "length, profile, center_along, center_up")
	f.Model.EaseOff = ReadEaseOff(ease.Block)
	ease.Done()
	f.Model.MeshEfficiency = b.Number("efficiency", "share of the torque that comes through the teeth", datasheet.Plain(), datasheet.Between(0.5, 1))
	at.Note("ring_teeth", b.Entry("ring_teeth"))
	at.Note("pinion_spiral", b.Entry("pinion_spiral_deg"))
}

// window reads a window of lengths with room in it.
func (b block) spec(base, what string, units []datasheet.Unit, s datasheet.Span, at datasheet.Spots) Spec {
	low, high, _, e := b.Row(base, what, units, s, nil, true)
	at.Note(base, e)
	return Spec{low, high}
}

// drag reads a window of torques with room in it.
func (b block) torque(base, what string, s datasheet.Span, at datasheet.Spots) TorqueSpec {
	low, high, _, e := b.Row(base, what, datasheet.Torques(), s, nil, true)
	at.Note(base, e)
	return TorqueSpec{low, high}
}

// spread reads the low and high a parameter is drawn between.
func (b block) spread(base, what string, units []datasheet.Unit, s datasheet.Span) Range {
	low, high, _, _ := b.Row(base, what, units, s, nil, false)
	return Range{low, high}
}

// stock reads a row of shims and checks that its steps end where it does.
func (b block) stock(base, what string, s datasheet.Span, at datasheet.Spots) Stock {
	steps := datasheet.Between(0.002, 2)
	low, high, step, e := b.Row(base, what, datasheet.Lengths(), s, &steps, true)
	at.Note(base, e)
	st := Stock{low, high, step}
	if e == nil {
		return st
	}
	n := math.Round((high - low) / step)
	in := e.Key[len(base):]
	scale := 1.0
	if in == "_in" {
		scale = 25.4
	}
	word := strings.TrimPrefix(in, "_")
	say := func(what, right string) {
		b.Say(e, b.Path(e.Key)+" "+what, right)
		delete(at, base)
	}
	const mostSizes = 400
	switch {
	case n < 1:
		say("has a step that is wider than the row", "a step that is smaller than high less low")
	case n > mostSizes:
		say(fmt.Sprintf("has %.0f sizes", n+1), fmt.Sprintf("at most %d sizes: a wider step or a shorter row", mostSizes))
	case math.Abs(low+n*step-high) > step/100:
		down := low + math.Floor((high-low)/step)*step
		say("does not end on a step: "+fmt.Sprintf("high is %s, and the steps come to %s and %s", datasheet.Short(high/scale), datasheet.Short(down/scale), datasheet.Short((down+step)/scale)),
			fmt.Sprintf("high: %s or %s %s, or another step", datasheet.Short(down/scale), datasheet.Short((down+step)/scale), word))
	}
	return st
}

func (b block) sheet(f *Family, at datasheet.Spots) {
	s := &f.Sheet
	s.CheckingDistanceMM = b.Number("checking_distance", "pinion head to ring gear axis with a zero mark", datasheet.Lengths(), datasheet.Between(15, 400))
	s.DepthToleranceMM = b.Number("depth_tolerance", "how far the pinion may stand from its place", datasheet.Lengths(), datasheet.Between(0.01, 0.5))
	at.Note("depth_tolerance", b.Entry("depth_tolerance_mm"))
	at.Note("depth_tolerance", b.Entry("depth_tolerance_in"))
	s.PatternHeight = b.spec("pattern_height", "where the print's centre may lie, root 0 to top 1", datasheet.Plain(), datasheet.Between(0, 1), at)
	s.DepthShims = b.stock("depth_shims", "depth shims on the shelf", datasheet.Between(0.02, 20), at)
	if f.Design.SideAdjust == BearingAdjusters {
		for _, u := range datasheet.Lengths() {
			b.Unwanted("side_shims"+u.Suffix, "the design says bearing-adjusters", "side_adjust: outside-shims or inside-shims, or no side shims")
		}
	} else if f.Design.SideAdjust != "" {
		s.SideShims = b.stock("side_shims", "side shims on the shelf", datasheet.Between(0.02, 20), at)
	} else {
		b.Find(true, "", "side_shims_mm", "side_shims_in")
	}
	s.Backlash = b.spec("backlash", "at the heel, square to the tooth", datasheet.Lengths(), datasheet.Between(0.02, 2), at)
	s.BacklashSpreadMM = b.Number("backlash_spread", "most between places", datasheet.Lengths(), datasheet.Between(0.005, 1))
	s.RunoutMM = b.Number("runout", "ring gear back face, total reading", datasheet.Lengths(), datasheet.Between(0.005, 1))
	s.CaseFlangeRunoutMM = b.Number("case_flange_runout", "bare case flange, total reading", datasheet.Lengths(), datasheet.Between(0.005, 1))
	turning := datasheet.Between(50, 50_000)
	s.PinionTorqueNew = b.torque("pinion_torque_new", "to keep the pinion turning, new bearings, no seal", turning, at)
	s.PinionTorqueUsed = b.torque("pinion_torque_used", "the same with used bearings", turning, at)
	s.SealDrag = b.torque("seal_drag", "what the seal adds", turning, at)
	s.SideRiseNew = b.torque("side_rise_new", "what side bearings and teeth add at the pinion, new bearings", turning, at)
	s.SideRiseUsed = b.torque("side_rise_used", "the same with used bearings", turning, at)
	s.SidePreload = b.spec("side_preload", "side interference in all over zero end play", datasheet.Lengths(), datasheet.Between(0.01, 2), at)
	s.SpreadLimitMM = b.Number("spread_limit", "most the housing may ever be spread", datasheet.Lengths(), datasheet.Between(0.02, 3))
	tight := datasheet.Between(5_000, 5_000_000)
	nut := b.torque("nut", "torque of the pinion nut", tight, at)
	s.NutLow, s.NutHigh = quantity.Torque(nut.LowNmm), quantity.Torque(nut.HighNmm)
	s.CapTorque = quantity.Torque(b.Number("cap_bolts", "torque of the side bearing cap bolts", datasheet.Torques(), tight))
	f.Model.SealNmm = Range{s.SealDrag.LowNmm, s.SealDrag.HighNmm}
}

func (b block) bearings(m *Model, at datasheet.Spots) {
	for _, one := range []struct {
		key, what string
		to        *bearing.Tapered
	}{{"inner", "the bearing at the pinion head", &m.Inner}, {"outer", "the bearing at the pinion's tail", &m.Outer}, {"side", "both side bearings", &m.Side}} {
		in := b.sub(one.key, one.what)
		*one.to = ReadBearing(in.Block)
		in.Done()
		if in.Clean() {
			at.Place(one.key, in.Block)
		}
	}
	oil := b.sub("oil", "viscosity and speed of the check")
	m.Film = ReadOil(oil.Block)
	oil.Done()
	m.NewFriction = b.spread("new_friction", "boundary friction of new bearings", datasheet.Plain(), datasheet.Between(0.01, 0.5))
	m.UsedFriction = b.spread("used_friction", "boundary friction of used bearings", datasheet.Plain(), datasheet.Between(0.01, 0.5))
	m.Breakaway = b.spread("breakaway", "first pull over turning torque", datasheet.Plain(), datasheet.Between(1, 4))
	m.CupHoldN = b.spread("cup_hold", "force that moves a cup in its bore", datasheet.Only("_n", "N"), datasheet.Between(10, 1e6))
	m.UnseatedRollersMM = b.Number("unseated_rollers", "how much too tall the pair stands before it is turned", datasheet.Lengths(), datasheet.Between(0, 0.5))
}

func (b block) nut(m *Model) {
	m.ThreadPitchMM = ReadThreadPitchMM(b.Block)
	m.ThreadDiameterMM = b.Number("pitch_diameter", "pitch diameter of the thread", datasheet.Lengths(), datasheet.Between(6, 150))
	m.FaceDiameterMM = b.Number("face_diameter", "mean diameter of the face the nut turns on", datasheet.Lengths(), datasheet.Between(8, 250))
	m.ThreadFriction = b.spread("friction", "friction of thread and face", datasheet.Plain(), datasheet.Between(0.03, 0.5))
	m.PrevailingLbFt = b.spread("prevailing", "torque to turn the locking nut free", datasheet.FootPounds(), datasheet.Between(0, 400))
}

// preload reads the group of the preload design, and refuses the other design's.
func (b block) preload(f *Family, at datasheet.Spots) {
	m := &f.Model
	const spacerWhat, solidWhat = "the collapsible spacer: stiffness, crush load and what follows it", "the solid spacer: stiffness, pack, zero_end_play"
	switch f.Design.Preload {
	case CollapsibleSpacer:
		b.Unwanted("solid", "the design says collapsible-spacer", "pinion_preload: solid-spacer, or no group solid")
		in := b.sub("spacer", spacerWhat)
		f.Sheet.SpacerLengthMM = in.Number("length", "free length", datasheet.Lengths(), datasheet.Between(2, 200))
		m.SpacerNPerMM = in.spread("stiffness", "elastic stiffness", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(1e4, 1e7))
		m.SpacerYieldN = in.spread("crush_load", "load it settles to", datasheet.Only("_n", "N"), datasheet.Between(1e3, 2e6))
		m.SpacerPeakPart = in.spread("peak_part", "first peak over that load", datasheet.Plain(), datasheet.Between(1, 2))
		m.SpacerPeakDecayMM = in.spread("peak_fades_over", "crush over which the peak fades", datasheet.Lengths(), datasheet.Between(0.01, 2))
		m.SpacerHardening = in.spread("hardening", "rise of the load with the crush", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(0, 1e6))
		m.SpacerUsableMM = in.Number("usable_crush", "crush until its folds close", datasheet.Lengths(), datasheet.Between(0.1, 20))
		m.EndPlayAtContactMM = in.spread("end_play_at_contact", "end play when the nut has come to the spacer", datasheet.Lengths(), datasheet.Between(0, 5))
		in.Done()
		at.Place("spacer", in.Block)
	case SolidSpacer:
		b.Unwanted("spacer", "the design says solid-spacer", "pinion_preload: collapsible-spacer, or no group spacer")
		in := b.sub("solid", solidWhat)
		f.Design.Solid.StiffnessNPerMM = in.spread("stiffness", "spacer and pack", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(1e4, 1e8))
		f.Design.Solid.PreloadShims = in.stock("preload_shims", "lengths on the shelf: shim packs, or spacers in steps", datasheet.Between(0.02, 90), at)
		f.Design.Solid.ZeroEndPlayMM = in.spread("zero_end_play", "the length that leaves neither preload nor end play", datasheet.Lengths(), datasheet.Between(0.02, 90))
		in.Done()
		at.Place("solid", in.Block)
	default:
		b.Find(true, "", "spacer")
		b.Find(true, "", "solid")
	}
}

func (b block) rings(f *Family) {
	switch f.Design.SideAdjust {
	case BearingAdjusters:
		in := b.sub("adjusters", "the adjuster rings: slots, pitch")
		f.Design.Rings = Rings{
			Notches: in.Whole("notches", "lock slots round a ring", 4, 200),
			PitchMM: in.Number("pitch", "thread pitch", datasheet.Lengths(), datasheet.Between(0.3, 6)),
		}
		in.Done()
	case "":
		b.Find(true, "", "adjusters")
	default:
		b.Unwanted("adjusters", "the design says "+string(f.Design.SideAdjust), "side_adjust: bearing-adjusters, or no group rings")
	}
}
