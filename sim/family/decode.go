package family

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"shimwright/sim/bearing"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// formatVersion is the version of the file format that this program reads.
const formatVersion = 1

// spots are the places that checks after decoding point at: of groups and values that
// were read without a complaint.
type spots map[string][2]int

func (s spots) note(name string, e *entry) {
	if e != nil {
		line, column := e.at()
		s[name] = [2]int{line, column}
	}
}

// decode reads the text of a file: writing, kinds of values and their limits. What
// follows from several values together is left to the checks.
func decode(text []byte, name string) (Family, spots, []Problem) {
	r := &reader{file: name}
	top, ok := r.document(text)
	if !ok || !r.known(top) {
		return Family{}, nil, r.problems
	}
	at := spots{}
	var f Family
	f.Code = top.code()
	f.Name, _ = top.text("name", "the family's name", 60, false)
	f.Use, _ = top.text("use", "what the axle is for and how it is built", 300, false)
	f.Notes, _ = top.text("notes", "what a person should know of this description", 1000, true)
	f.Invented = top.invented()

	design := top.sub("design", "how the axle is built: pinion_preload, depth_shim, side_adjust, marks, drive_flank, housing, case_entry")
	f.Design, f.Sheet.Marks = design.design(at)
	design.done()

	gears := top.sub("gears", "the ring and pinion: teeth, sizes, spiral, cutter, ease-off")
	before := len(r.problems)
	gears.gears(&f, at)
	gears.done()
	if !gears.lame && len(r.problems) == before {
		at["gears"] = [2]int{gears.line, gears.column}
	}

	sheet := top.sub("sheet", "what the axle sheet says")
	sheet.sheet(&f, at)
	sheet.done()

	brg := top.sub("bearings", "head, tail and side bearing, their friction and oil")
	brg.bearings(&f.Model, at)
	brg.done()

	nut := top.sub("nut", "the pinion nut: thread, friction, prevailing torque")
	nut.nut(&f.Model)
	nut.done()

	stiff := top.sub("stiffness", "housing, stem and nut, bearing pedestals")
	f.Model.HouseNPerMM = stiff.spread("housing", "housing between the pinion cup seats", only("_n_per_mm", "N/mm"), span{5e4, 1e7})
	f.Model.NutNPerMM = stiff.spread("stem_and_nut", "stem, threads, flange and cones in series", only("_n_per_mm", "N/mm"), span{5e4, 1e7})
	f.Model.PedestalNPerMM = stiff.spread("pedestal", "one side bearing pedestal", only("_n_per_mm", "N/mm"), span{5e3, 5e6})
	stiff.done()

	top.preload(&f, at)
	top.rings(&f)
	top.done()
	return f, at, r.problems
}

// known looks at what a file is before its parts: the version, or at least a group
// that only a family has.
func (r *reader) known(top *block) bool {
	e := top.entry("shimwright_family")
	if e == nil {
		if top.entry("gears") == nil && top.entry("sheet") == nil {
			r.giveUp(1, 1, "this is no axle family: it has none of a family's groups", "a family, beginning with shimwright_family: 1")
			return false
		}
		top.find(false, "the version of the format, at the top of the file: shimwright_family: 1", "shimwright_family")
		return true
	}
	top.find(false, "", "shimwright_family")
	line, column := e.at()
	x, ok := plainNumber(e.value)
	switch {
	case !ok:
		r.say(line, column, fmt.Sprintf("shimwright_family holds %s", kind(e.value)), "the version of the format: 1")
	case x != formatVersion:
		r.giveUp(line, column, fmt.Sprintf("the file is written in version %s of the format", short(x)), fmt.Sprintf("version %d, the one this program reads", formatVersion))
		return false
	}
	return true
}

func (b *block) code() string {
	const what = "a short name of capital letters and digits, such as BEECH"
	code, e := b.text("code", what, 20, false)
	if e == nil {
		return ""
	}
	for i, c := range code {
		if !(c >= 'A' && c <= 'Z' || i > 0 && (c >= '0' && c <= '9' || c == '-')) {
			line, column := e.at()
			b.r.say(line, column, fmt.Sprintf("code is %q", code), what)
			return ""
		}
	}
	return code
}

func (b *block) invented() string {
	const what = "a notice in a sentence that this axle is invented and no figure may be used on a real one"
	notice, e := b.text("invented", what, 400, false)
	if e != nil && (!strings.Contains(strings.ToLower(notice), "invented") || !strings.ContainsFunc(notice, unicode.IsSpace)) {
		line, column := e.at()
		b.r.say(line, column, "invented does not say that the axle is invented", what)
	}
	return notice
}

func (b *block) design(at spots) (Design, setup.MarkConvention) {
	d := Design{
		Preload:    PreloadDesign(b.choice("pinion_preload", "what stands between the pinion bearings", string(CollapsibleSpacer), string(SolidSpacer))),
		DepthShim:  DepthShimPlace(b.choice("depth_shim", "where the depth shim lies", string(UnderHeadCone), string(BehindHeadCup), string(UnderCageFlange))),
		SideAdjust: SideAdjust(b.choice("side_adjust", "how the ring gear is placed", string(OutsideShims), string(InsideShims), string(ThreadedRings))),
	}
	marks := map[string]setup.MarkConvention{
		"p-inside": setup.PinionPlusOutHeadShim, "p-cage": setup.PinionPlusOutCageShim, "q-shim": setup.ShimCorrection, "none": 0,
	}[b.choice("marks", "what a mark on the pinion means", "p-inside", "p-cage", "q-shim", "none")]
	d.DriveFlank = DriveFlank(b.choice("drive_flank", "the ring gear flank that drives the vehicle forward", string(Convex), string(Concave)))
	d.Housing = Material(b.choice("housing", "what the housing is cast of", string(Iron), string(Aluminium)))
	d.Entry = CaseEntry(b.choice("case_entry", "how the case is taken in and out", string(ByHand), string(Spreader)))
	if !b.lame {
		at.note("marks", b.entry("marks"))
		at.note("drive_flank", b.entry("drive_flank"))
	}
	return d, marks
}

func (b *block) gears(f *Family, at spots) {
	f.Design.ToothForm = ToothForm(b.choice("tooth_form", "how the teeth are cut", string(FaceMilled), string(FaceHobbed)))
	f.Model.Gears = mesh.SetData{
		RingTeeth:         b.whole("ring_teeth", "teeth of the ring gear", 10, 400),
		PinionTeeth:       b.whole("pinion_teeth", "teeth of the pinion", 3, 60),
		OffsetMM:          b.number("offset", "distance of pinion and ring gear axis", lengths(), span{0, 200}),
		RingDiameterMM:    b.number("ring_diameter", "outside diameter of the ring gear", lengths(), span{80, 800}),
		FaceWidthMM:       b.number("face_width", "width of the ring gear's teeth", lengths(), span{5, 200}),
		SpiralDeg:         b.number("pinion_spiral", "mean spiral angle of the pinion", only("_deg", "degrees"), span{0, 70}),
		CutterRadiusMM:    b.number("cutter_radius", "radius of the cutter", lengths(), span{20, 600}),
		PressureAngleDeg:  b.number("pressure_angle", "mean pressure angle", only("_deg", "degrees"), span{10, 30}),
		DepthFactor:       b.spare("depth_factor", "working depth in normal modules", plain(), span{0.5, 3}),
		RingAddendumShare: b.spare("ring_addendum_share", "the ring gear's part of the working depth", plain(), span{0.02, 0.9}),
		SlotFactor:        b.spare("slot_factor", "how much the ring gear's tooth space is wider than half the pitch, in pitches", plain(), span{-0.3, 0.3}),
	}
	f.Sheet.RingTeeth, f.Sheet.PinionTeeth = f.Model.Gears.RingTeeth, f.Model.Gears.PinionTeeth
	ease := b.sub("ease_off", "length, profile, centre_along, centre_up")
	f.Model.EaseOff = mesh.EaseOff{
		LengthMM:  ease.number("length", "relief toward toe and heel", lengths(), span{0.001, 1}),
		ProfileMM: ease.number("profile", "relief toward root and top", lengths(), span{0.001, 1}),
		CentreS:   ease.number("centre_along", "where the relief is nil, toe 0 to heel 1", plain(), span{0, 1}),
		CentreT:   ease.number("centre_up", "where the relief is nil, root 0 to top 1", plain(), span{0, 1}),
	}
	ease.done()
	f.Model.MeshEfficiency = b.number("efficiency", "share of the torque that comes through the teeth", plain(), span{0.5, 1})
	if b.lame {
		return
	}
	at.note("ring_teeth", b.entry("ring_teeth"))
	at.note("pinion_spiral", b.entry("pinion_spiral_deg"))
}

// window reads a window of lengths with room in it.
func (b *block) window(base, what string, units []unit, s span, at spots) Window {
	low, high, _, e := b.row(base, what, units, s, nil, true)
	at.note(base, e)
	return Window{low, high}
}

// drag reads a window of torques with room in it.
func (b *block) drag(base, what string, s span, at spots) TorqueWindow {
	low, high, _, e := b.row(base, what, torques(), s, nil, true)
	at.note(base, e)
	return TorqueWindow{low, high}
}

// spread reads the low and high a parameter is drawn between.
func (b *block) spread(base, what string, units []unit, s span) Range {
	low, high, _, _ := b.row(base, what, units, s, nil, false)
	return Range{low, high}
}

// stock reads a row of shims and checks that its steps end where it does.
func (b *block) stock(base, what string, s span, at spots) Stock {
	low, high, step, e := b.row(base, what, lengths(), s, &span{0.002, 2}, true)
	at.note(base, e)
	st := Stock{low, high, step}
	if e == nil {
		return st
	}
	n := math.Round((high - low) / step)
	in := e.key[len(base):]
	scale := 1.0
	if in == "_in" {
		scale = 25.4
	}
	word := strings.TrimPrefix(in, "_")
	say := func(what, right string) {
		line, column := e.at()
		b.r.say(line, column, b.path(e.key)+" "+what, right)
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
		say("does not end on a step: "+fmt.Sprintf("high is %s, and the steps come to %s and %s", short(high/scale), short(down/scale), short((down+step)/scale)),
			fmt.Sprintf("high: %s or %s %s, or another step", short(down/scale), short((down+step)/scale), word))
	}
	return st
}

func (b *block) sheet(f *Family, at spots) {
	s := &f.Sheet
	s.HeadHeightMM = b.number("head_height", "pinion head to ring gear axis with a zero mark", lengths(), span{15, 400})
	s.DepthToleranceMM = b.number("depth_tolerance", "how far the pinion may stand from its place", lengths(), span{0.01, 0.5})
	if !b.lame {
		at.note("depth_tolerance", b.entry("depth_tolerance_mm"))
		at.note("depth_tolerance", b.entry("depth_tolerance_in"))
	}
	s.PrintHeight = b.window("print_height", "where the print's centre may lie, root 0 to top 1", plain(), span{0, 1}, at)
	s.DepthShims = b.stock("depth_shims", "depth shims on the shelf", span{0.02, 20}, at)
	if f.Design.SideAdjust == ThreadedRings {
		for _, u := range lengths() {
			b.unwanted("side_shims"+u.suffix, "the design says threaded-rings", "side_adjust: outside-shims or inside-shims, or no side shims")
		}
	} else if f.Design.SideAdjust != "" {
		s.SideShims = b.stock("side_shims", "side shims on the shelf", span{0.02, 20}, at)
	} else {
		b.find(true, "", "side_shims_mm", "side_shims_in")
	}
	s.Backlash = b.window("backlash", "at the heel, square to the tooth", lengths(), span{0.02, 2}, at)
	s.BacklashSpreadMM = b.number("backlash_spread", "most between places", lengths(), span{0.005, 1})
	s.RunoutMM = b.number("runout", "ring gear back face, total reading", lengths(), span{0.005, 1})
	s.FlangeRunoutMM = b.number("flange_runout", "bare case flange, total reading", lengths(), span{0.005, 1})
	turning := span{50, 50_000}
	s.PinionDragNew = b.drag("pinion_drag_new", "to keep the pinion turning, new bearings, no seal", turning, at)
	s.PinionDragUsed = b.drag("pinion_drag_used", "the same with used bearings", turning, at)
	s.SealDrag = b.drag("seal_drag", "what the seal adds", turning, at)
	s.SideRiseNew = b.drag("side_rise_new", "what side bearings and teeth add at the pinion, new bearings", turning, at)
	s.SideRiseUsed = b.drag("side_rise_used", "the same with used bearings", turning, at)
	s.SidePreload = b.window("side_preload", "side interference in all over zero end play", lengths(), span{0.01, 2}, at)
	s.SpreadLimitMM = b.number("spread_limit", "most the housing may ever be spread", lengths(), span{0.02, 3})
	tight := span{5_000, 5_000_000}
	nut := b.drag("nut", "torque of the pinion nut", tight, at)
	s.NutLow, s.NutHigh = quantity.Torque(nut.LowNmm), quantity.Torque(nut.HighNmm)
	s.CapTorque = quantity.Torque(b.number("cap_bolts", "torque of the side bearing cap bolts", torques(), tight))
	f.Model.SealNmm = Range{s.SealDrag.LowNmm, s.SealDrag.HighNmm}
}

func (b *block) bearings(m *Model, at spots) {
	for _, one := range []struct {
		key, what string
		to        *bearing.Tapered
	}{{"head", "the bearing at the pinion head", &m.Head}, {"tail", "the bearing at the pinion's tail", &m.Tail}, {"side", "both side bearings", &m.Side}} {
		in := b.sub(one.key, one.what)
		before := len(b.r.problems)
		*one.to = bearing.Tapered{
			BoreMM:              in.number("bore", "bore", lengths(), span{10, 400}),
			OutsideMM:           in.number("outside", "outside diameter", lengths(), span{20, 600}),
			WidthMM:             in.number("width", "width", lengths(), span{5, 200}),
			ContactAngleDeg:     in.number("contact_angle", "contact angle", only("_deg", "degrees"), span{5, 45}),
			Y:                   in.number("axial_factor", "axial factor, near 0.4 over the tangent of the contact angle", plain(), span{0.1, 10}),
			Rollers:             in.whole("rollers", "number of rollers", 5, 200),
			RollerLengthMM:      in.number("roller_length", "working length of a roller", lengths(), span{2, 200}),
			R1:                  in.number("rolling_constant", "rolling friction constant", plain(), span{1e-8, 1e-4}),
			S1:                  in.number("sliding_constant", "sliding friction constant", plain(), span{1e-4, 0.5}),
			RingStiffnessNPerMM: in.number("ring_stiffness", "rings and seats", only("_n_per_mm", "N/mm"), span{1e4, 1e8}),
		}
		in.done()
		if !in.lame && len(b.r.problems) == before {
			at[one.key] = [2]int{in.line, in.column}
		}
	}
	oil := b.sub("oil", "viscosity and speed of the check")
	m.Film = bearing.Film{
		ViscosityCst: oil.number("viscosity", "oil at the temperature of the bench", only("_cst", "mm²/s"), span{1, 5000}),
		SpeedRPM:     oil.number("speed", "pinion speed of a hand-turned check", only("_rpm", "rev/min"), span{0.5, 120}),
	}
	oil.done()
	m.NewFriction = b.spread("new_friction", "boundary friction of new bearings", plain(), span{0.01, 0.5})
	m.UsedFriction = b.spread("used_friction", "boundary friction of used bearings", plain(), span{0.01, 0.5})
	m.Breakaway = b.spread("breakaway", "first pull over turning torque", plain(), span{1, 4})
	m.CupHoldN = b.spread("cup_hold", "force that moves a cup in its bore", only("_n", "N"), span{10, 1e6})
	m.UnseatedRollersMM = b.number("unseated_rollers", "how much too tall the pair stands before it is turned", lengths(), span{0, 0.5})
}

func (b *block) nut(m *Model) {
	e := b.find(false, "pitch of the thread: threads_per_inch, or thread_pitch_mm", "threads_per_inch", "thread_pitch_mm")
	if e != nil {
		u, s, what := unit{"", "", same, 1}, span{4, 80}, "threads per inch"
		if e.key == "thread_pitch_mm" {
			u, s, what = lengths()[0], span{0.3, 6}, "pitch of the thread"
		}
		x, ok := b.value(e, what, u, s)
		if ok && e.key == "threads_per_inch" {
			x = 25.4 / x
		}
		m.ThreadPitchMM = x
	}
	m.ThreadDiameterMM = b.number("pitch_diameter", "pitch diameter of the thread", lengths(), span{6, 150})
	m.FaceDiameterMM = b.number("face_diameter", "mean diameter of the face the nut turns on", lengths(), span{8, 250})
	m.ThreadFriction = b.spread("friction", "friction of thread and face", plain(), span{0.03, 0.5})
	m.PrevailingLbFt = b.spread("prevailing", "torque to turn the locking nut free", footPounds(), span{0, 400})
}

// preload reads the group of the preload design, and refuses the other design's.
func (b *block) preload(f *Family, at spots) {
	m := &f.Model
	const spacerWhat, solidWhat = "the collapsible spacer: stiffness, crush load and what follows it", "the solid spacer: stiffness, pack, line_to_line"
	switch f.Design.Preload {
	case CollapsibleSpacer:
		b.unwanted("solid", "the design says collapsible-spacer", "pinion_preload: solid-spacer, or no group solid")
		in := b.sub("spacer", spacerWhat)
		f.Sheet.SpacerLengthMM = in.number("length", "free length", lengths(), span{2, 200})
		m.SpacerNPerMM = in.spread("stiffness", "elastic stiffness", only("_n_per_mm", "N/mm"), span{1e4, 1e7})
		m.SpacerYieldN = in.spread("crush_load", "load it settles to", only("_n", "N"), span{1e3, 2e6})
		m.SpacerPeakPart = in.spread("peak_part", "first peak over that load", plain(), span{1, 2})
		m.SpacerPeakDecayMM = in.spread("peak_fades_over", "crush over which the peak fades", lengths(), span{0.01, 2})
		m.SpacerHardening = in.spread("hardening", "rise of the load with the crush", only("_n_per_mm", "N/mm"), span{0, 1e6})
		m.SpacerUsableMM = in.number("usable_crush", "crush until its folds close", lengths(), span{0.1, 20})
		m.EndPlayAtContactMM = in.spread("end_play_at_contact", "end play when the nut has come to the spacer", lengths(), span{0, 5})
		in.done()
		at["spacer"] = [2]int{in.line, in.column}
	case SolidSpacer:
		b.unwanted("spacer", "the design says solid-spacer", "pinion_preload: collapsible-spacer, or no group spacer")
		in := b.sub("solid", solidWhat)
		f.Design.Solid.StiffnessNPerMM = in.spread("stiffness", "spacer and pack", only("_n_per_mm", "N/mm"), span{1e4, 1e8})
		f.Design.Solid.Pack = in.stock("pack", "lengths on the shelf: shim packs, or spacers in steps", span{0.02, 90}, at)
		f.Design.Solid.LineToLineMM = in.spread("line_to_line", "the length that leaves neither preload nor end play", lengths(), span{0.02, 90})
		in.done()
		at["solid"] = [2]int{in.line, in.column}
	default:
		b.find(true, "", "spacer")
		b.find(true, "", "solid")
	}
}

func (b *block) rings(f *Family) {
	switch f.Design.SideAdjust {
	case ThreadedRings:
		in := b.sub("rings", "the adjuster rings: slots, pitch")
		f.Design.Rings = Rings{
			Slots:   in.whole("slots", "lock slots round a ring", 4, 200),
			PitchMM: in.number("pitch", "thread pitch", lengths(), span{0.3, 6}),
		}
		in.done()
	case "":
		b.find(true, "", "rings")
	default:
		b.unwanted("rings", "the design says "+string(f.Design.SideAdjust), "side_adjust: threaded-rings, or no group rings")
	}
}
