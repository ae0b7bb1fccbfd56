package family

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/mesh"
	"shimwright/sim/setup"
)

// A Problem is one mistake in a family file, and Problems the error of a file with
// mistakes. It is ErrNotFamily when the file cannot be read as a family at all.
type (
	Problem  = datasheet.Problem
	Problems = datasheet.Problems
)

// ErrNotFamily marks text that cannot be read as an axle family at all.
var ErrNotFamily = errors.New("this cannot be read as an axle family")

// Check names every mistake in the text of a family file, in the order of the file;
// none means that the family can be used. name is the file's name for messages. Any
// bytes will do as text.
//
// When the writing is at fault, what follows from the numbers together is asked only
// where all of them are sound.
func Check(text []byte, name string) []Problem {
	_, problems := check(text, name)
	return problems
}

// Parse reads the text of a family file that has no mistakes. The error is Problems.
func Parse(text []byte, name string) (Family, error) {
	f, problems := check(text, name)
	if len(problems) > 0 {
		return Family{}, Problems(problems)
	}
	return f, nil
}

func check(text []byte, name string) (Family, []Problem) {
	f, at, problems := decode(text, name)
	if at == nil {
		return f, problems
	}
	c := checker{f: f, at: at, file: name, bad: problems}
	c.gears()
	c.marks()
	c.stock()
	c.bearings()
	// Forces are worth asking for only when every number they come from is sound.
	if len(c.bad) == 0 {
		c.preload()
		c.sides()
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

func (c *checker) say(spot, what, right string) {
	p, ok := c.at[spot]
	if !ok {
		p = [2]int{1, 1}
	}
	c.bad = append(c.bad, Problem{File: c.file, Line: p[0], Column: p[1], What: what, Right: right})
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

// gears asks the tooth model whether the set can be made and runs with backlash.
func (c *checker) gears() {
	if !c.has("gears", "backlash") {
		return
	}
	m, lash := c.f.Model, c.f.Sheet.Backlash
	if c.f.Sheet.RingTeeth <= c.f.Sheet.PinionTeeth {
		c.say("ring_teeth", fmt.Sprintf("the ring gear has %d teeth and the pinion %d", c.f.Sheet.RingTeeth, c.f.Sheet.PinionTeeth), "a ring gear with more teeth than its pinion")
		return
	}
	set, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, lash.Mid())
	switch {
	case errors.Is(err, mesh.ErrNoPitchDesign):
		c.say("pinion_spiral", reason(err, mesh.ErrNoPitchDesign), "a spiral, offset and cutter radius that go together: try the spiral first, in steps of a quarter degree")
		return
	case errors.Is(err, mesh.ErrTeeth):
		c.say("gears", "these gears cannot mesh: "+reason(err, mesh.ErrTeeth), "gears whose teeth can be cut and hand over to each other")
		return
	case err != nil:
		c.say("gears", "these gears cannot mesh: "+err.Error(), "gears whose teeth can be cut and hand over to each other")
		return
	}
	at := set.NewContact()
	least := at.Backlash().MinMM
	if err := at.Move(mesh.Position{RingAwayMM: lash.LowMM - lash.Mid()}); err == nil {
		least = min(least, at.Backlash().MinMM)
	}
	if least <= 0 {
		c.say("backlash", "the gears bind somewhere in a turn when the backlash is at its low end", "a larger backlash, or less ease-off in the gears")
	}
}

// reason returns an error's text without what it is marked with.
func reason(err, mark error) string {
	return strings.TrimPrefix(strings.TrimPrefix(err.Error(), mark.Error()), ": ")
}

// marks asks whether the marks belong to the place of the shim.
func (c *checker) marks() {
	if !c.has("marks") || c.f.Design.DepthShim == "" {
		return
	}
	cage := c.f.Design.DepthShim == UnderCageFlange
	switch marks := c.f.Sheet.Marks; {
	case marks == setup.PlusThickensCageShim && !cage:
		c.say("marks", "marks say plus-thickens-cage-shim, and the depth shim is not under a cage", "plus-takes-shim, plus-adds-shim or none; or depth_shim: under-cage-flange")
	case marks.Known() && marks != setup.PlusThickensCageShim && cage:
		c.say("marks", fmt.Sprintf("marks say %s, and the depth shim is under the cage flange", strings.ToLower(marks.String())), "plus-thickens-cage-shim or none")
	}
}

// stock asks whether what is on the shelf suits the windows it serves.
func (c *checker) stock() {
	s, d := c.f.Sheet, c.f.Design
	if c.has("depth_shims", "depth_tolerance") && s.DepthShims.StepMM > 2*s.DepthToleranceMM*(1+1e-9) {
		c.say("depth_tolerance", fmt.Sprintf("no stocked depth shim may lie within the tolerance: the shims step by %s mm, the pinion may be out by %s mm either way", datasheet.Short(s.DepthShims.StepMM), datasheet.Short(s.DepthToleranceMM)),
			fmt.Sprintf("a tolerance of at least half a step, %s mm, or finer shims", datasheet.Short(s.DepthShims.StepMM/2)))
	}
	if c.has("side_preload") {
		step, what := s.SideShims.StepMM, "side shims step by"
		if d.SideAdjust == BearingAdjusters {
			step, what = d.Rings.NotchTravelMM(), "one slot of a ring is"
		} else if !c.has("side_shims") {
			step = 0
		}
		if width := s.SidePreload.HighMM - s.SidePreload.LowMM; step > width*(1+1e-9) {
			c.say("side_preload", fmt.Sprintf("the window may hold no stocked size: %s %s mm, the window is %s mm wide", what, datasheet.Short(step), datasheet.Short(width)), "a window at least as wide as one step, or finer steps")
		}
	}
	if c.has("side_preload") && s.SpreadLimitMM > 0 && s.SidePreload.HighMM > s.SpreadLimitMM {
		c.say("side_preload", fmt.Sprintf("side preload of %s mm may spread the housing past its limit, %s mm", datasheet.Short(s.SidePreload.HighMM), datasheet.Short(s.SpreadLimitMM)), "a window whose high is not above spread_limit")
	}
	if c.has("preload_shims") && d.Solid.ZeroEndPlayMM.Low > 0 && !(d.Solid.PreloadShims.LowMM <= d.Solid.ZeroEndPlayMM.Low && d.Solid.ZeroEndPlayMM.High <= d.Solid.PreloadShims.HighMM) {
		c.say("preload_shims", fmt.Sprintf("the packs run from %s to %s mm, and some axles need one between %s and %s mm", datasheet.Short(d.Solid.PreloadShims.LowMM), datasheet.Short(d.Solid.PreloadShims.HighMM), datasheet.Short(d.Solid.ZeroEndPlayMM.Low), datasheet.Short(d.Solid.ZeroEndPlayMM.High)),
			"packs from below zero_end_play to above it")
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
			c.say(b.spot, err.Error(), "figures of one bearing")
			continue
		}
		const tolerance = 0.10 // catalogues round both
		if y := bearing.AxialFactorY(b.b.ContactAngleDeg); math.Abs(b.b.Y-y) > tolerance*y {
			c.say(b.spot, fmt.Sprintf("axial factor %s does not go with a contact angle of %s degrees", datasheet.Short(b.b.Y), datasheet.Short(b.b.ContactAngleDeg)), fmt.Sprintf("about %s", datasheet.Short(datasheet.RoundTo(y, 3))))
		}
	}
}

// preload asks whether the nut brings the drag into its window.
func (c *checker) preload() {
	spot := "spacer"
	if c.f.Design.Preload == SolidSpacer {
		spot = "solid"
	}
	for _, used := range []bool{false, true} {
		spec, words := "pinion_torque_new", "new"
		if used {
			spec, words = "pinion_torque_used", "used"
		}
		r, err := c.f.Reach(used)
		if err != nil {
			c.say(spot, err.Error(), "parts that can be built in")
			return
		}
		s := c.f.Sheet
		switch {
		case c.f.Design.Preload == SolidSpacer:
			// Axles of the family differ in line-to-line by more than a step, so
			// that the packs wanted may lie anywhere between two sizes.
			st, ltl := c.f.Design.Solid.PreloadShims, c.f.Design.Solid.ZeroEndPlayMM
			width, mid := r.PreloadShimMM.HighMM-r.PreloadShimMM.LowMM, c.f.Params().ZeroPlayPreloadShimMM
			switch thin, thick := r.PreloadShimMM.LowMM-mid+ltl.Low, r.PreloadShimMM.HighMM-mid+ltl.High; {
			case width < st.StepMM:
				c.say(spec, fmt.Sprintf("the drag window with %s bearings may hold no stocked size: packs step by %s mm, and the window is %s mm of pack", words, datasheet.Short(st.StepMM), datasheet.Short(width)), "a wider drag window, or finer steps of pack")
			case thin < st.LowMM-st.StepMM || thick > st.HighMM+st.StepMM:
				c.say(spec, fmt.Sprintf("the drag window with %s bearings cannot be reached in every axle: it takes packs of %s to %s mm, and the shelf has %s to %s", words, datasheet.Short(thin), datasheet.Short(thick), datasheet.Short(st.LowMM), datasheet.Short(st.HighMM)),
					"packs that go further, or another zero_end_play")
			}
		case r.CrushMM > c.f.Model.SpacerUsableMM:
			c.say(spec, fmt.Sprintf("the drag window with %s bearings cannot be reached: the spacer is crushed flat, by %s mm, before it", words, datasheet.Short(r.CrushMM)), "a longer usable_crush or less end_play_at_contact")
		case r.Nut.HighNmm < s.NutLow.Nmm() || r.Nut.LowNmm > s.NutHigh.Nmm():
			c.say(spec, fmt.Sprintf("the drag window with %s bearings cannot be reached inside the nut's window: it takes %s to %s N·m at the nut, and the sheet allows %s to %s", words,
				datasheet.Short(r.Nut.LowNmm/1000), datasheet.Short(r.Nut.HighNmm/1000), datasheet.Short(s.NutLow.NewtonMetres()), datasheet.Short(s.NutHigh.NewtonMetres())),
				"a spacer that crushes at another load, another nut window, or another drag window")
		}
	}
}

// sides asks whether side preload in its window gives a rise in its window.
func (c *checker) sides() {
	for _, used := range []bool{false, true} {
		spec, words := "side_rise_new", "new"
		if used {
			spec, words = "side_rise_used", "used"
		}
		rise, err := c.f.Rise(used)
		if err != nil {
			c.say("side", err.Error(), "side bearings and pedestals that can be solved")
			return
		}
		if w := c.f.Sheet.SideRise(used); rise.HighNmm < w.LowNmm || rise.LowNmm > w.HighNmm {
			c.say(spec, fmt.Sprintf("side preload in its window raises the drag by %s to %s N·m with %s bearings, and the sheet asks for %s to %s", datasheet.Short(rise.LowNmm/1000), datasheet.Short(rise.HighNmm/1000), words,
				datasheet.Short(w.LowNmm/1000), datasheet.Short(w.HighNmm/1000)), "another window here, another side_preload, or other pedestals")
		}
	}
}
