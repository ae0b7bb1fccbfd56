package family

import (
	"errors"
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// A Problem is one mistake in a family file, and Problems the error of a file with
// mistakes. It is ErrNotFamily when the file cannot be read as a family at all.
type (
	Problem  = datasheet.Problem
	Problems = datasheet.Problems
)

// ErrNotFamily marks text that cannot be read as an axle family at all.
var ErrNotFamily error = text.Fail(nil, text.Say("family.not-a-family", "this cannot be read as an axle family"))

// Check names every mistake in the text of a family file, in the order of the file;
// none means that the family can be used. name is the file's name for messages. Any
// bytes will do as text.
//
// When the writing is at fault, what follows from the numbers together is asked only
// where all of them are sound.
func Check(file []byte, name string) []Problem {
	_, problems := check(file, name)
	return problems
}

// Parse reads the text of a family file that has no mistakes. The error is Problems.
func Parse(file []byte, name string) (Family, error) {
	f, problems := check(file, name)
	if len(problems) > 0 {
		return Family{}, Problems(problems)
	}
	return f, nil
}

func check(file []byte, name string) (Family, []Problem) {
	f, at, problems := decode(file, name)
	if at == nil {
		return f, problems
	}
	c := checker{f: f, at: at, file: name, bad: problems}
	c.gears()
	c.marks()
	c.stock()
	c.bearings()
	c.used()
	// Forces are worth asking for only when every number they come from is sound.
	if len(c.bad) == 0 {
		c.preload()
		c.sides()
		c.code()
	}
	datasheet.Sort(c.bad)
	return f, c.bad
}

// A checker looks at what follows from several values together.
type checker struct {
	f    Family
	at   datasheet.Spots
	file string
	bad  []Problem
}

func (c *checker) say(spot string, what, want text.Message) {
	p, ok := c.at[spot]
	if !ok {
		p = datasheet.Spot{Line: 1, Column: 1}
	}
	c.bad = append(c.bad, Problem{File: c.file, Line: p.Line, Column: p.Column, Key: p.Key, What: what, Want: want})
}

// has reports whether all of the values were read.
func (c *checker) has(spots ...string) bool {
	for _, s := range spots {
		if _, ok := c.at[s]; !ok {
			return false
		}
	}
	return true
}

// size is a length of a text, in both units.
func size(name string, mm float64) text.Arg {
	return text.BothLength(name, quantity.Millimetres(mm))
}

// gears asks the tooth model whether the set can be made and runs with backlash.
func (c *checker) gears() {
	if !c.has("gears", "backlash") {
		return
	}
	m, lash := c.f.Model, c.f.Sheet.Backlash
	if c.f.Sheet.RingTeeth <= c.f.Sheet.PinionTeeth {
		c.say("ring_teeth", FewRingTeeth(c.f.Sheet.RingTeeth, c.f.Sheet.PinionTeeth), MoreRingTeeth())
		return
	}
	set, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, lash.Mid())
	switch {
	case errors.Is(err, mesh.ErrNoPitchDesign):
		c.say("pinion_spiral", NoMesh(err), text.Say("family.want.pitch-design", "a spiral, offset and cutter radius that go together: try the spiral first, in steps of a quarter degree"))
		return
	case err != nil:
		c.say("gears", NoMesh(err), TeethThatMesh())
		return
	}
	at := set.NewContact()
	least := at.Backlash().MinMM
	if err := at.Move(mesh.Position{RingAwayMM: lash.LowMM - lash.Mid()}); err == nil {
		least = min(least, at.Backlash().MinMM)
	}
	if least <= 0 {
		c.say("backlash", text.Say("family.gears.bind", "the gears bind somewhere in a turn when the backlash is at its low limit"),
			text.Say("family.want.no-bind", "more backlash, or less ease-off in the gears"))
	}
}

// FewRingTeeth says that a ring gear has no more teeth than its pinion.
func FewRingTeeth(ring, pinion int) text.Message {
	return text.Say("family.gears.few-teeth", "the ring gear has {ring_gear} teeth and the pinion {pinion}", text.Count("ring_gear", ring), text.Count("pinion", pinion))
}

// MoreRingTeeth is what would be right then.
func MoreRingTeeth() text.Message {
	return text.Say("family.want.more-ring-gear-teeth", "a ring gear with more teeth than its pinion")
}

// NoMesh says why a gear set cannot be made.
func NoMesh(err error) text.Message {
	return text.Say("family.gears.no-mesh", "these gears cannot mesh: {why}", text.Of("why", text.Reason(err)))
}

// TeethThatMesh is what would be right then.
func TeethThatMesh() text.Message {
	return text.Say("family.want.teeth", "gears whose teeth can be cut, each tooth still in contact when the next one takes over")
}

// marks asks whether the marks belong to the place of the shim.
func (c *checker) marks() {
	if !c.has("marks") || c.f.Design.DepthShim == "" {
		return
	}
	cage := c.f.Design.DepthShim == UnderCageFlange
	switch marks := c.f.Sheet.Marks; {
	case marks == setup.PlusThickensCageShim && !cage:
		c.say("marks", text.Say("family.marks.no-cage", "marks is plus-thickens-cage-shim, and the depth shim is not under a cage flange"),
			text.Say("family.want.marks-no-cage", "plus-takes-shim, plus-adds-shim or none; or depth_shim: under-cage-flange"))
	case marks.Known() && marks != setup.PlusThickensCageShim && cage:
		c.say("marks", text.Say("family.marks.cage", "marks is {marks}, and the depth shim is under the cage flange", text.Typed("marks", marks.String())),
			text.Say("family.want.marks-cage", "plus-thickens-cage-shim or none"))
	}
}

// stock asks whether what is in stock suits the specifications that it serves.
func (c *checker) stock() {
	s, d := c.f.Sheet, c.f.Design
	if c.has("depth_shims", "depth_tolerance") && s.DepthShims.StepMM > 2*s.DepthToleranceMM*(1+1e-9) {
		c.say("depth_tolerance", text.Say("family.stock.depth-step", "no depth shim in stock may be within the tolerance: the shims come in steps of {step}, the pinion depth may be off by {tolerance} either way",
			size("step", s.DepthShims.StepMM), size("tolerance", s.DepthToleranceMM)),
			text.Say("family.want.half-a-step", "a tolerance of at least half a step, {half}, or shims in smaller steps", size("half", s.DepthShims.StepMM/2)))
	}
	if c.has("side_preload") {
		width := size("width", s.SidePreload.HighMM-s.SidePreload.LowMM)
		want := text.Say("family.want.one-step", "a specification at least as wide as one step, or smaller steps")
		tooWide := func(step float64) bool { return step > (s.SidePreload.HighMM-s.SidePreload.LowMM)*(1+1e-9) }
		switch step := d.Rings.NotchTravelMM(); {
		case d.SideAdjust == BearingAdjusters && tooWide(step):
			c.say("side_preload", text.Say("family.stock.notch", "no notch may be within the specification: one notch of an adjuster is {step}, the specification is {width} wide", size("step", step), width), want)
		case d.SideAdjust != BearingAdjusters && c.has("side_shims") && tooWide(s.SideShims.StepMM):
			c.say("side_preload", text.Say("family.stock.side-step", "no side shim in stock may be within the specification: the shims come in steps of {step}, the specification is {width} wide",
				size("step", s.SideShims.StepMM), width), want)
		}
	}
	if c.has("side_preload") && s.SpreadLimitMM > 0 && s.SidePreload.HighMM > s.SpreadLimitMM {
		c.say("side_preload", text.Say("family.stock.spread", "a side bearing preload of {preload} may spread the housing past its limit, {limit}", size("preload", s.SidePreload.HighMM), size("limit", s.SpreadLimitMM)),
			text.Say("family.want.within-spread", "a specification whose high is not above spread_limit"))
	}
	if st, zero := d.Solid.PreloadShims, d.Solid.ZeroEndPlayMM; c.has("preload_shims") && zero.Low > 0 && !(st.LowMM <= zero.Low && zero.High <= st.HighMM) {
		c.say("preload_shims", text.Say("family.stock.preload-shims", "the preload shims go from {low} to {high}, and some axles need between {least} and {most}",
			size("low", st.LowMM), size("high", st.HighMM), size("least", zero.Low), size("most", zero.High)),
			text.Say("family.want.preload-shims-range", "preload shims from below zero_end_play to above it"))
	}
}

// bearings asks whether the figures of each bearing belong together.
func (c *checker) bearings() {
	for _, b := range []struct {
		spot string
		b    bearing.Tapered
	}{{"inner", c.f.Model.Inner}, {"outer", c.f.Model.Outer}, {"side", c.f.Model.Side}} {
		if !c.has(b.spot) {
			continue
		}
		if err := b.b.Validate(); err != nil {
			c.say(b.spot, text.Reason(err), OneBearing())
			continue
		}
		const tolerance = 0.10 // catalogues round both
		if y := bearing.AxialFactorY(b.b.ContactAngleDeg); math.Abs(b.b.Y-y) > tolerance*y {
			c.say(b.spot, text.Say("family.bearing.axial-factor", "an axial factor of {factor} does not go with a contact angle of {angle} degrees", text.Rounded("factor", b.b.Y), text.Rounded("angle", b.b.ContactAngleDeg)),
				text.Say("family.want.axial-factor", "about {factor}", text.Rounded("factor", quantity.Significant(y, 3))))
		}
	}
}

// OneBearing is what would be right for figures that contradict each other.
func OneBearing() text.Message {
	return text.Say("family.want.one-bearing", "figures of one bearing")
}

// used asks whether used bearings turn more easily than new ones do.
func (c *checker) used() {
	for _, q := range []struct{ spec string }{{"pinion_torque"}, {"total_torque_rise"}} {
		fresh, worn := c.f.Sheet.PinionTorqueNew, c.f.Sheet.PinionTorqueUsed
		if q.spec == "total_torque_rise" {
			fresh, worn = c.f.Sheet.SideRiseNew, c.f.Sheet.SideRiseUsed
		}
		if c.has(q.spec+"_new", q.spec+"_used") && (worn.HighNmm > fresh.HighNmm || worn.Mid() > fresh.Mid()) {
			at := func(name string, nmm float64) text.Arg { return text.BothTorque(name, quantity.Torque(nmm)) }
			c.say(q.spec+"_used", text.Say("family.used-above-new", "used bearings would need more torque, {low} to {high}, than new bearings, {newlow} to {newhigh}",
				at("low", worn.LowNmm), at("high", worn.HighNmm), at("newlow", fresh.LowNmm), at("newhigh", fresh.HighNmm)),
				text.Say("family.want.used-below-new", "less torque for used bearings than for new bearings: check that the two are not swapped"))
		}
	}
}

// preload asks whether the nut brings the torque into its specification.
func (c *checker) preload() {
	for _, used := range []bool{false, true} {
		spec := "pinion_torque_new"
		if used {
			spec = "pinion_torque_used"
		}
		r, err := c.f.Reach(used)
		if err != nil {
			spot := "collapsible_spacer"
			if c.f.Design.Preload == SolidSpacer {
				spot = "solid_spacer"
			}
			c.say(spot, text.Reason(err), PartsThatFit())
			return
		}
		which := text.Of("bearings", bearingsWord(used))
		s := c.f.Sheet
		switch {
		case c.f.Design.Preload == SolidSpacer:
			// Axles of the family differ in the shims at zero end play by more than a
			// step, so that those wanted may lie anywhere between two sizes.
			st, zero := c.f.Design.Solid.PreloadShims, c.f.Design.Solid.ZeroEndPlayMM
			width, mid := r.PreloadShimMM.HighMM-r.PreloadShimMM.LowMM, c.f.Params().ZeroPlayPreloadShimMM
			switch thin, thick := r.PreloadShimMM.LowMM-mid+zero.Low, r.PreloadShimMM.HighMM-mid+zero.High; {
			case width < st.StepMM:
				c.say(spec, text.Say("family.reach.step", "no preload shims in stock may give the specified torque with {bearings}: they come in steps of {step}, and the specification is {width} of shim wide",
					which, size("step", st.StepMM), size("width", width)), text.Say("family.want.reach-step", "a wider torque specification, or preload shims in smaller steps"))
			case thin < st.LowMM-st.StepMM || thick > st.HighMM+st.StepMM:
				c.say(spec, text.Say("family.reach.stock", "some axles cannot reach the specified torque with {bearings}: they need preload shims of {thin} to {thick}, and the stock has {low} to {high}",
					which, size("thin", thin), size("thick", thick), size("low", st.LowMM), size("high", st.HighMM)),
					text.Say("family.want.reach-stock", "a wider range of preload shims, or another zero_end_play"))
			}
		case r.CrushMM > c.f.Model.SpacerUsableMM:
			c.say(spec, text.Say("family.reach.flat", "the specified torque with {bearings} cannot be reached: the spacer is crushed flat first, by {crush}", which, size("crush", r.CrushMM)),
				text.Say("family.want.reach-flat", "a larger usable_crush or a smaller end_play_at_contact"))
		case r.Nut.HighNmm < s.NutLow.Nmm() || r.Nut.LowNmm > s.NutHigh.Nmm():
			nut := func(name string, nmm float64) text.Arg {
				return text.BothFastener(name, quantity.Torque(nmm))
			}
			c.say(spec, text.Say("family.reach.nut", "the specified torque with {bearings} cannot be reached within the specification of the nut: it takes {low} to {high} at the nut, and the sheet allows {least} to {most}",
				which, nut("low", r.Nut.LowNmm), nut("high", r.Nut.HighNmm), nut("least", s.NutLow.Nmm()), nut("most", s.NutHigh.Nmm())),
				text.Say("family.want.reach-nut", "a spacer with another crush_load, another torque for the nut, or another rotating torque"))
		}
	}
}

// bearingsWord names new or used bearings in a sentence.
func bearingsWord(used bool) text.Message {
	if used {
		return text.Say("family.used-bearings", "used bearings")
	}
	return text.Say("family.new-bearings", "new bearings")
}

// PartsThatFit is what would be right for parts that cannot be assembled.
func PartsThatFit() text.Message {
	return text.Say("family.want.parts", "parts that can be assembled")
}

// sides asks whether the specified side bearing preload gives the specified torque.
func (c *checker) sides() {
	for _, used := range []bool{false, true} {
		spec := "total_torque_rise_new"
		if used {
			spec = "total_torque_rise_used"
		}
		rise, err := c.f.Rise(used)
		if err != nil {
			c.say("side", text.Reason(err), SidesThatFit())
			return
		}
		if w := c.f.Sheet.SideRise(used); rise.HighNmm < w.LowNmm || rise.LowNmm > w.HighNmm {
			at := func(name string, nmm float64) text.Arg { return text.BothTorque(name, quantity.Torque(nmm)) }
			c.say(spec, text.Say("family.reach.sides", "the specified side bearing preload adds {low} to {high} with {bearings}, and the sheet asks for {least} to {most}",
				at("low", rise.LowNmm), at("high", rise.HighNmm), text.Of("bearings", bearingsWord(used)), at("least", w.LowNmm), at("most", w.HighNmm)),
				text.Say("family.want.reach-sides", "another torque here, another side_preload, or another pedestal stiffness"))
		}
	}
}

// SidesThatFit is what would be right for side bearings that cannot be assembled.
func SidesThatFit() text.Message {
	return text.Say("family.want.sides", "side bearings and pedestals that can be assembled")
}

// code asks whether the code is free: two families of one name cannot be told apart on a
// card or in a table. A copy of the program's own file is no other family.
func (c *checker) code() {
	shipped, err := Shipped(c.f.Code)
	if err == nil && shipped != c.f {
		c.say("code", text.Say("family.code.taken", "code is {code}, which is the code of a family that comes with the program", text.Typed("code", c.f.Code)),
			text.Say("family.want.own-code", "a code of its own, such as {code}", text.Typed("code", c.f.Code+"-2")))
	}
}
