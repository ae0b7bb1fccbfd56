package family

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// formatVersion is the version of the file format that this program reads.
const formatVersion = 1

// kind is what a family file is.
func kind() datasheet.Kind {
	return datasheet.Kind{Key: "shimwright_family", Version: formatVersion, Name: text.Say("family.file", "an axle family file"),
		Groups: []string{"gears", "specification"}, See: "shimwright family show CODE", Foreign: ErrNotFamily}
}

// A block is one group of keys of a family file.
type block struct{ *datasheet.Block }

func (b block) sub(key string, what text.Message) block { return block{b.Sub(key, what)} }

// decode reads the text of a file: writing, kinds of values and their limits. What
// follows from several values together is left to the checks.
func decode(file []byte, name string) (Family, datasheet.Spots, []Problem) {
	r, all := datasheet.Read(file, name, kind())
	if all == nil {
		return Family{}, nil, r.Problems()
	}
	top := block{all}
	at := datasheet.Spots{}
	var f Family
	f.Code = top.code()
	at.Note("code", top.Block, top.Entry("code"))
	f.Name, _ = top.Text("name", text.Say("family.want.name", "the name of the family"), 60, false)
	f.Use, _ = top.Text("use", text.Say("family.want.use", "what the axle is used for and how it is built"), 300, false)
	f.Notes, _ = top.Text("notes", text.Say("family.want.notes", "what a person should know about this description"), 1000, true)
	f.Invented = top.invented()

	design := top.sub("design", text.Say("family.want.design", "how the axle is built: pinion_preload, depth_shim, side_adjustment, marks, drive_flank, housing, case_entry"))
	f.Design, f.Sheet.Marks = design.design(at)
	design.Done()

	gears := top.sub("gears", text.Say("family.want.gears", "the ring and pinion: teeth, sizes, spiral, cutter, ease-off"))
	gears.gears(&f, at)
	gears.Done()
	if gears.Clean() {
		at.Place("gears", gears.Block)
	}

	sheet := top.sub("specification", text.Say("family.want.specification", "the specification sheet of the axle"))
	sheet.sheet(&f, at)
	sheet.Done()

	brg := top.sub("bearings", text.Say("family.want.bearings", "inner and outer pinion bearing, side bearings, their friction and oil"))
	brg.bearings(&f.Model, at)
	brg.Done()

	nut := top.sub("nut", text.Say("family.want.nut", "the pinion nut: thread, friction, prevailing torque"))
	nut.nut(&f.Model)
	nut.Done()

	stiff := top.sub("stiffness", text.Say("family.want.stiffness", "stiffness of housing, pinion stem and nut, bearing pedestals"))
	f.Model.HouseNPerMM = stiff.spread("housing", text.Say("family.want.housing-stiffness", "housing between the pinion bearing cups"), datasheet.Stiffness(), datasheet.Between(5e4, 1e7))
	f.Model.NutNPerMM = stiff.spread("stem_and_nut", text.Say("family.want.shaft-and-nut", "pinion stem, threads, yoke and bearing cones in series"), datasheet.Stiffness(), datasheet.Between(5e4, 1e7))
	f.Model.PedestalNPerMM = stiff.spread("pedestal", text.Say("family.want.pedestal", "one side bearing pedestal"), datasheet.Stiffness(), datasheet.Between(5e3, 5e6))
	stiff.Done()

	top.preload(&f, at)
	top.adjusters(&f)
	top.Done()
	return f, at, r.Problems()
}

func (b block) code() string {
	what := text.Say("family.want.code", "a short name in capital letters and digits, such as BEECH")
	code, e := b.Text("code", what, 20, false)
	if e == nil {
		return ""
	}
	for i, c := range code {
		if !(c >= 'A' && c <= 'Z' || i > 0 && (c >= '0' && c <= '9' || c == '-')) {
			b.Say(e, text.Say("family.code.letters", "code is {code}", text.Quoted("code", code)), what)
			return ""
		}
	}
	return code
}

func (b block) invented() string {
	what := text.Say("family.want.invented", "a sentence which says that the axle is invented and that no figure may be used on a real one")
	notice, e := b.Text("invented", what, 400, false)
	if e != nil && (!strings.Contains(strings.ToLower(notice), "invented") || !strings.ContainsFunc(notice, unicode.IsSpace)) {
		b.Say(e, text.Say("family.invented.silent", "invented does not say that the axle is invented"), what)
	}
	return notice
}

func (b block) design(at datasheet.Spots) (Design, setup.MarkConvention) {
	d := Design{
		Preload:    PreloadDesign(b.Choice("pinion_preload", text.Say("family.want.pinion-preload", "what is between the pinion bearings"), string(CollapsibleSpacer), string(SolidSpacer))),
		DepthShim:  DepthShimPlace(b.Choice("depth_shim", text.Say("family.want.depth-shim", "where the depth shim is"), string(UnderInnerCone), string(BehindInnerCup), string(UnderCageFlange))),
		SideAdjust: SideAdjust(b.Choice("side_adjustment", text.Say("family.want.side-adjustment", "how the ring gear is positioned"), string(OutsideShims), string(InsideShims), string(BearingAdjusters))),
	}
	word := b.Choice("marks", text.Say("family.want.marks", "what a mark on the pinion means"), markWords()...)
	marks := setup.MarkConvention(max(0, slices.Index(markWords(), word)))
	d.DriveFlank = DriveFlank(b.Choice("drive_flank", text.Say("family.want.drive-flank", "the side of the ring gear teeth that drives the vehicle forward"), string(Convex), string(Concave)))
	d.Housing = Material(b.Choice("housing", text.Say("family.want.housing", "the material of the housing"), string(Iron), string(Aluminum)))
	d.Entry = CaseEntry(b.Choice("case_entry", text.Say("family.want.case-entry", "how the differential case goes in and out"), string(ByHand), string(Spreader)))
	at.Note("marks", b.Block, b.Entry("marks"))
	at.Note("drive_flank", b.Block, b.Entry("drive_flank"))
	return d, marks
}

// markWords are the codes of the conventions of marks in their order, that of none first.
func markWords() []string {
	var out []string
	for c := setup.MarkConvention(0); c == 0 || c.Known(); c++ {
		out = append(out, c.String())
	}
	return out
}

func (b block) gears(f *Family, at datasheet.Spots) {
	f.Design.ToothForm = ToothForm(b.Choice("tooth_form", text.Say("family.want.tooth-form", "how the teeth are cut"), string(FaceMilled), string(FaceHobbed)))
	f.Model.Gears = ReadGears(b.Block)
	f.Model.Gears.SpiralDeg = b.Number("pinion_spiral", text.Say("family.want.pinion-spiral", "mean spiral angle of the pinion"), datasheet.Degrees(), datasheet.Between(0, 70))
	f.Sheet.RingTeeth, f.Sheet.PinionTeeth = f.Model.Gears.RingTeeth, f.Model.Gears.PinionTeeth
	ease := b.sub("ease_off", text.Say("family.want.ease-off", "length, profile, center_along, center_up"))
	f.Model.EaseOff = ReadEaseOff(ease.Block)
	ease.Done()
	f.Model.MeshEfficiency = b.Number("efficiency", text.Say("family.want.efficiency", "share of the torque that passes through the teeth"), datasheet.Plain(), datasheet.Between(0.5, 1))
	at.Note("ring_teeth", b.Block, b.Entry("ring_teeth"))
	at.Note("pinion_spiral", b.Block, b.Entry("pinion_spiral_deg"))
}

// spec reads a specification in lengths, with room in it.
func (b block) spec(base string, what text.Message, units []datasheet.Unit, s datasheet.Span, at datasheet.Spots) Spec {
	low, high, _, e := b.Row(base, what, units, s, nil, true)
	at.Note(base, b.Block, e)
	return Spec{low, high}
}

// torque reads a specification in torques, with room in it.
func (b block) torque(base string, what text.Message, s datasheet.Span, at datasheet.Spots) TorqueSpec {
	low, high, _, e := b.Row(base, what, datasheet.Torques(), s, nil, true)
	at.Note(base, b.Block, e)
	return TorqueSpec{low, high}
}

// spread reads the low and high a parameter is drawn between.
func (b block) spread(base string, what text.Message, units []datasheet.Unit, s datasheet.Span) Range {
	low, high, _, _ := b.Row(base, what, units, s, nil, false)
	return Range{low, high}
}

// stock reads shims in stock and checks that its steps end where it does.
func (b block) stock(base string, what text.Message, s datasheet.Span, at datasheet.Spots) Stock {
	steps := datasheet.Between(0.002, 2)
	low, high, step, e := b.Row(base, what, datasheet.Lengths(), s, &steps, true)
	at.Note(base, b.Block, e)
	st := Stock{low, high, step}
	if e == nil {
		return st
	}
	n := math.Round((high - low) / step)
	scale, unit := 1.0, "mm"
	if e.Key == base+"_in" {
		scale, unit = 25.4, "in"
	}
	figure := func(name string, mm float64) text.Arg { return text.Rounded(name, mm/scale) }
	say := func(what, want text.Message) {
		b.Say(e, what, want)
		delete(at, base)
	}
	const mostSizes = 400
	switch {
	case n < 1:
		say(text.Say("family.stock.wide-step", "{key} has a step that is larger than high minus low", b.Key(e)), text.Say("family.want.small-step", "a step that is smaller than high minus low"))
	case n > mostSizes:
		say(text.Say("family.stock.many", "{key} has {n} sizes", b.Key(e), text.Count("n", int(min(n, 1e9))+1)),
			text.Say("family.want.fewer-sizes", "at most {most} sizes: a larger step, or low and high closer together", text.Count("most", mostSizes)))
	case math.Abs(low+n*step-high) > step/100:
		down := low + math.Floor((high-low)/step)*step
		say(text.Say("family.stock.off-step", "{key} does not end on a step: high is {high}, and the steps reach {down} and {up}", b.Key(e), figure("high", high), figure("down", down), figure("up", down+step)),
			text.Say("family.want.on-step", "high: {down} or {up} {unit}, or another step", figure("down", down), figure("up", down+step), text.Typed("unit", unit)))
	}
	return st
}

// designSays is why a key does not belong to a design.
func designSays(d string) text.Message {
	return text.Say("family.design-says", "the design says {design}", text.Typed("design", d))
}

func (b block) sheet(f *Family, at datasheet.Spots) {
	s := &f.Sheet
	s.CheckingDistanceMM = b.Number("checking_distance", text.Say("family.want.checking-distance", "checking distance, pinion face to ring gear centerline, for a pinion marked 0"), datasheet.Lengths(), datasheet.Between(15, 400))
	s.DepthToleranceMM = b.Number("depth_tolerance", text.Say("family.want.depth-tolerance", "how far the pinion depth may be off, either way"), datasheet.Lengths(), datasheet.Between(0.01, 0.5))
	at.Note("depth_tolerance", b.Block, b.Entry("depth_tolerance_mm"))
	at.Note("depth_tolerance", b.Block, b.Entry("depth_tolerance_in"))
	s.PatternHeight = b.spec("pattern_up_profile", text.Say("family.want.pattern-up-profile", "where the center of the contact pattern may be up the profile, from root 0 to tip 1"), datasheet.Plain(), datasheet.Between(0, 1), at)
	s.DepthShims = b.stock("depth_shims", text.Say("family.want.depth-shims", "depth shims in stock"), datasheet.Between(0.02, 4), at) // thicker ones are a slip of the decimal point
	if f.Design.SideAdjust == BearingAdjusters {
		for _, u := range datasheet.Lengths() {
			b.Unwanted("side_shims"+u.Suffix, designSays(string(BearingAdjusters)), text.Say("family.want.no-side-shims", "side_adjustment: outside-shims or inside-shims; or no side shims"))
		}
	} else if f.Design.SideAdjust != "" {
		s.SideShims = b.stock("side_shims", text.Say("family.want.side-shims", "side shims in stock"), datasheet.Between(0.02, 10), at)
	} else {
		b.Allow("side_shims_mm", "side_shims_in")
	}
	s.Backlash = b.spec("backlash", text.Say("family.want.backlash", "backlash at the heel, plunger square to the tooth"), datasheet.Lengths(), datasheet.Between(0.02, 2), at)
	s.BacklashSpreadMM = b.Number("backlash_variation", text.Say("family.want.backlash-variation", "most backlash variation around the ring gear"), datasheet.Lengths(), datasheet.Between(0.005, 1))
	s.RunoutMM = b.Number("runout", text.Say("family.want.runout", "back-face runout of the ring gear, total reading"), datasheet.Lengths(), datasheet.Between(0.005, 1))
	s.CaseFlangeRunoutMM = b.Number("case_flange_runout", text.Say("family.want.case-flange-runout", "runout of the bare case flange, total reading"), datasheet.Lengths(), datasheet.Between(0.005, 1))
	turning := datasheet.Between(50, 50_000)
	s.PinionTorqueNew = b.torque("pinion_torque_new", text.Say("family.want.pinion-torque-new", "pinion rotating torque, new bearings, no seal"), turning, at)
	s.PinionTorqueUsed = b.torque("pinion_torque_used", text.Say("family.want.pinion-torque-used", "pinion rotating torque, used bearings, no seal"), turning, at)
	s.SealDrag = b.torque("seal_drag", text.Say("family.want.seal-drag", "seal drag: what the seal adds"), turning, at)
	s.SideRiseNew = b.torque("total_torque_rise_new", text.Say("family.want.total-torque-rise-new", "what total rotating torque adds to pinion rotating torque, new bearings"), turning, at)
	s.SideRiseUsed = b.torque("total_torque_rise_used", text.Say("family.want.total-torque-rise-used", "what total rotating torque adds to pinion rotating torque, used bearings"), turning, at)
	s.SidePreload = b.spec("side_preload", text.Say("family.want.side-preload", "side bearing preload: both side shims together, over zero end play"), datasheet.Lengths(), datasheet.Between(0.01, 2), at)
	s.SpreadLimitMM = b.Number("spread_limit", text.Say("family.want.spread-limit", "most that the housing may ever be spread"), datasheet.Lengths(), datasheet.Between(0.02, 3))
	tight := datasheet.Between(5_000, 5_000_000)
	nut := b.torque("nut", text.Say("family.want.nut-torque", "torque of the pinion nut"), tight, at)
	s.NutLow, s.NutHigh = quantity.Torque(nut.LowNmm), quantity.Torque(nut.HighNmm)
	s.CapTorque = quantity.Torque(b.Number("cap_bolts", text.Say("family.want.cap-bolts", "torque of the bearing cap bolts"), datasheet.Torques(), tight))
	f.Model.SealNmm = Range{s.SealDrag.LowNmm, s.SealDrag.HighNmm}
}

func (b block) bearings(m *Model, at datasheet.Spots) {
	for _, one := range []struct {
		key  string
		what text.Message
		to   *bearing.Tapered
	}{
		{"inner", text.Say("family.want.inner", "the inner pinion bearing, by the pinion gear"), &m.Inner},
		{"outer", text.Say("family.want.outer", "the outer pinion bearing, by the yoke"), &m.Outer},
		{"side", text.Say("family.want.side", "both side bearings"), &m.Side},
	} {
		in := b.sub(one.key, one.what)
		*one.to = ReadBearing(in.Block)
		in.Done()
		if in.Clean() {
			at.Place(one.key, in.Block)
		}
	}
	oil := b.sub("oil", text.Say("family.want.oil", "viscosity of the oil and speed of the check"))
	m.Film = ReadOil(oil.Block)
	oil.Done()
	m.NewFriction = b.spread("new_friction", text.Say("family.want.new-friction", "boundary friction of new bearings"), datasheet.Plain(), datasheet.Between(0.01, 0.5))
	m.UsedFriction = b.spread("used_friction", text.Say("family.want.used-friction", "boundary friction of used bearings"), datasheet.Plain(), datasheet.Between(0.01, 0.5))
	m.Breakaway = b.spread("breakaway", text.Say("family.want.breakaway", "breakaway torque over rotating torque"), datasheet.Plain(), datasheet.Between(1, 4))
	m.CupHoldN = b.spread("cup_hold", text.Say("family.want.cup-hold", "force that moves a cup in its bore"), datasheet.Newtons(), datasheet.Between(10, 1e6))
	m.UnseatedRollersMM = b.Number("unseated_rollers", text.Say("family.want.unseated-rollers", "how much too tall the pinion bearings are before the rollers are seated"), datasheet.Lengths(), datasheet.Between(0, 0.5))
}

func (b block) nut(m *Model) {
	m.ThreadPitchMM = ReadThreadPitchMM(b.Block)
	m.ThreadDiameterMM = b.Number("pitch_diameter", text.Say("family.want.pitch-diameter", "pitch diameter of the thread"), datasheet.Lengths(), datasheet.Between(6, 150))
	m.FaceDiameterMM = b.Number("face_diameter", text.Say("family.want.face-diameter", "mean diameter of the face under the nut"), datasheet.Lengths(), datasheet.Between(8, 250))
	m.ThreadFriction = b.spread("friction", text.Say("family.want.thread-friction", "friction of thread and nut face"), datasheet.Plain(), datasheet.Between(0.03, 0.5))
	m.PrevailingLbFt = b.spread("prevailing", text.Say("family.want.prevailing", "prevailing torque of the locking nut"), datasheet.FootPounds(), datasheet.Between(0, 400))
}

// preload reads the group of the preload design, and refuses the other design's.
func (b block) preload(f *Family, at datasheet.Spots) {
	m := &f.Model
	switch f.Design.Preload {
	case CollapsibleSpacer:
		b.Unwanted("solid_spacer", designSays(string(CollapsibleSpacer)), text.Say("family.want.no-solid", "pinion_preload: solid-spacer; or no group solid_spacer"))
		in := b.sub("collapsible_spacer", text.Say("family.want.collapsible", "the collapsible spacer: length, stiffness, crush load and how it crushes"))
		f.Sheet.SpacerLengthMM = in.Number("length", text.Say("family.want.spacer-length", "free length of the spacer"), datasheet.Lengths(), datasheet.Between(2, 200))
		m.SpacerNPerMM = in.spread("stiffness", text.Say("family.want.spacer-stiffness", "elastic stiffness of the spacer"), datasheet.Stiffness(), datasheet.Between(1e4, 1e7))
		m.SpacerYieldN = in.spread("crush_load", text.Say("family.want.crush-load", "load at which the spacer keeps crushing"), datasheet.Newtons(), datasheet.Between(1e3, 2e6))
		m.SpacerPeakPart = in.spread("peak_factor", text.Say("family.want.peak-factor", "first peak over the crush load"), datasheet.Plain(), datasheet.Between(1, 2))
		m.SpacerPeakDecayMM = in.spread("peak_fades_over", text.Say("family.want.peak-fades-over", "crush over which the first peak fades"), datasheet.Lengths(), datasheet.Between(0.01, 2))
		m.SpacerHardening = in.spread("hardening", text.Say("family.want.hardening", "rise of the load as the spacer crushes"), datasheet.Stiffness(), datasheet.Between(0, 1e6))
		m.SpacerUsableMM = in.Number("usable_crush", text.Say("family.want.usable-crush", "crush until the folds of the spacer close"), datasheet.Lengths(), datasheet.Between(0.1, 20))
		m.EndPlayAtContactMM = in.spread("end_play_at_contact", text.Say("family.want.end-play-at-contact", "end play when the nut reaches the spacer"), datasheet.Lengths(), datasheet.Between(0, 5))
		in.Done()
		at.Place("collapsible_spacer", in.Block)
	case SolidSpacer:
		b.Unwanted("collapsible_spacer", designSays(string(SolidSpacer)), text.Say("family.want.no-collapsible", "pinion_preload: collapsible-spacer; or no group collapsible_spacer"))
		in := b.sub("solid_spacer", text.Say("family.want.solid", "the solid spacer: stiffness, preload_shims, zero_end_play"))
		f.Design.Solid.StiffnessNPerMM = in.spread("stiffness", text.Say("family.want.solid-stiffness", "stiffness of solid spacer and preload shims"), datasheet.Stiffness(), datasheet.Between(1e4, 1e8))
		f.Design.Solid.PreloadShims = in.stock("preload_shims", text.Say("family.want.preload-shims", "preload shims in stock, or solid spacers in steps"), datasheet.Between(0.02, 90), at)
		f.Design.Solid.ZeroEndPlayMM = in.spread("zero_end_play", text.Say("family.want.zero-end-play", "preload shims that give zero end play"), datasheet.Lengths(), datasheet.Between(0.02, 90))
		in.Done()
		at.Place("solid_spacer", in.Block)
	default:
		b.Allow("collapsible_spacer", "solid_spacer")
	}
}

func (b block) adjusters(f *Family) {
	switch f.Design.SideAdjust {
	case BearingAdjusters:
		in := b.sub("adjusters", text.Say("family.want.adjusters", "the bearing adjusters: notches, pitch"))
		f.Design.Rings = Rings{
			Notches: in.Whole("notches", text.Say("family.want.adjuster-notches", "notches around one adjuster"), 4, 200),
			PitchMM: in.Number("pitch", text.Say("family.want.adjuster-pitch", "thread pitch of the adjusters"), datasheet.Lengths(), datasheet.Between(0.3, 6)),
		}
		in.Done()
	case "":
		b.Allow("adjusters")
	default:
		b.Unwanted("adjusters", designSays(string(f.Design.SideAdjust)), text.Say("family.want.no-adjusters", "side_adjustment: bearing-adjusters; or no group adjusters"))
	}
}
