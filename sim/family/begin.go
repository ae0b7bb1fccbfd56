package family

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"shimwright/sim/datasheet"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// Begin writes the file of a family from the figures that a manual gives. Every other line
// comes from the shipped family that is nearest by design and size, with what has to follow
// the given figures worked out by the model: sizes with the ring gear, a spiral that lets the
// gears mesh, a spacer that the nut can crush, side bearing preload and its torque to each
// other. Each line says in the printer's language whether it is given, or how it is estimated.
// The estimates are for practice: nothing of the axle at hand stands behind them.
//
// Errors: what the strict reader finds wrong with the file, told of the figure.
func Begin(code string, given []Given, p text.Printer) ([]byte, error) {
	d := newDraft(code, given)
	if err := d.workOut(); err != nil {
		return nil, err
	}
	return d.file(p.Print), nil
}

// An entry is a line of a family file that holds a value.
type entry struct {
	group, key, value string
	why               text.Message
	given             bool
}

// base is the key without its unit.
func (e entry) base() string {
	for _, unit := range []string{"_n_per_mm", "_lb_in", "_lb_ft", "_nm", "_mm", "_in", "_deg", "_cst", "_rpm", "_n"} {
		if base, ok := strings.CutSuffix(e.key, unit); ok {
			return base
		}
	}
	return e.key
}

// A draft is a file on its way.
type draft struct {
	code    string
	from    Family
	given   []Given
	entries []entry
	grown   float64 // the ring gear over that of the family it is taken from
}

// shippedEntries reads the text of a shipped family as it stands.
func shippedEntries(code string) []entry {
	file, err := data.ReadFile("data/" + strings.ToLower(code) + ".yaml")
	if err != nil {
		panic(err) // it is part of the program
	}
	group, out := "", []entry(nil)
	for line := range strings.Lines(string(file)) {
		line = strings.TrimRight(line, "\n")
		if at := strings.Index(line, " #"); at >= 0 {
			line = strings.TrimRight(line[:at], " ")
		}
		key, value, found := strings.Cut(strings.TrimSpace(line), ":")
		switch indent := len(line) - len(strings.TrimLeft(line, " ")); {
		case line == "" || line[0] == '#':
		case indent == 0:
			if group = ""; found && strings.TrimSpace(value) == "" {
				group = key
			}
		case group == "":
		case indent > 2 && len(out) > 0:
			out[len(out)-1].value += "\n" + line
		default:
			out = append(out, entry{group: group, key: key, value: strings.TrimSpace(value)})
		}
	}
	return out
}

// nearest returns the shipped family that agrees in most of a design's words, the weightier
// ones first; among those that agree alike, the one whose ring gear is nearest in size.
func nearest(wants map[string]string, ringMM float64) Family {
	best, least := Family{}, math.Inf(1)
	for _, f := range Shelf() {
		far := 0.0
		for _, w := range []struct {
			key, is string
			weight  float64
		}{
			{"pinion_preload", string(f.Design.Preload), 64}, {"side_adjustment", string(f.Design.SideAdjust), 32}, {"depth_shim", string(f.Design.DepthShim), 16},
			{"case_entry", string(f.Design.Entry), 8}, {"housing", string(f.Design.Housing), 4}, {"marks", f.Sheet.Marks.String(), 2}, {"drive_flank", string(f.Design.DriveFlank), 2},
		} {
			if want, ok := wants[w.key]; ok && want != w.is {
				far += w.weight
			}
		}
		if ringMM > 0 {
			far += math.Abs(math.Log(ringMM / f.Model.Gears.RingDiameterMM))
		} else if f.Code != "BEECH" {
			far += 0.001 // the usual one
		}
		if far < least {
			best, least = f, far
		}
	}
	return best
}

func asIs(code string) text.Message {
	return text.Say("family.begin.as-is", "estimated: as {code}", text.Typed("code", code))
}

func newDraft(code string, given []Given) *draft {
	wants, ringMM := map[string]string{}, 0.0
	for _, g := range given {
		if g.group == "design" {
			wants[g.key] = g.value
		}
		if x, err := strconv.ParseFloat(g.value, 64); err == nil && g.Name == "ring-diameter" {
			ringMM = x
			if strings.HasSuffix(g.key, "_in") {
				ringMM = quantity.Inches(x).MM()
			}
		}
	}
	d := &draft{code: code, from: nearest(wants, ringMM), given: given, grown: 1}
	if ringMM > 0 {
		d.grown = ringMM / d.from.Model.Gears.RingDiameterMM
	}
	d.entries = shippedEntries(d.from.Code)
	for i := range d.entries {
		d.entries[i].why = asIs(d.from.Code)
	}
	d.grow()
	for _, g := range given {
		if g.group == "design" {
			d.put(g)
		}
	}
	d.suitDesign(wants)
	for _, g := range given {
		if g.group != "design" {
			d.put(g)
		}
	}
	return d
}

// find returns the entry of a key without its unit; nil where there is none.
func (d *draft) find(group, base string) *entry {
	for i := range d.entries {
		if e := &d.entries[i]; e.group == group && e.base() == base {
			return e
		}
	}
	return nil
}

// set writes an estimate, unless the value is given.
func (d *draft) set(group, base, key, value string, why text.Message) {
	if e := d.find(group, base); e != nil && !e.given {
		e.key, e.value, e.why = key, value, why
	}
}

// put writes a given figure, into its group's place.
func (d *draft) put(g Given) {
	line := entry{g.group, g.key, g.value, text.Say("family.begin.given", "given"), true}
	if e := d.find(g.group, line.base()); e != nil {
		*e = line
		return
	}
	after := -1
	for i, e := range d.entries {
		if e.group == g.group {
			after = i
		}
	}
	if after < 0 {
		after = len(d.entries) - 1
	}
	d.entries = slices.Insert(d.entries, after+1, line)
}

// grow takes the sizes along with the ring gear.
func (d *draft) grow() {
	if d.grown == 1 {
		return
	}
	why := text.Say("family.begin.grown", "estimated: {code} times {factor}, as the ring gear", text.Typed("code", d.from.Code), text.Number("factor", d.grown, 3))
	for i := range d.entries {
		e := &d.entries[i]
		switch base := e.base(); {
		case e.group == "gears" && slices.Contains([]string{"offset", "ring_diameter", "face_width", "cutter_radius"}, base),
			e.group == "specification" && base == "checking_distance", e.group == "stiffness",
			e.group == "bearings" && base == "cup_hold", e.group == "nut" && (base == "pitch_diameter" || base == "face_diameter"):
			e.value = times(e.value, d.grown, ``)
		case e.group == "gears" && base == "ease_off":
			e.value = times(e.value, d.grown, `(?:length|profile)_mm: `)
		case e.group == "bearings" && slices.Contains([]string{"inner", "outer", "side"}, base):
			e.value = times(e.value, d.grown, `(?:bore_mm|outside_mm|width_mm|roller_length_mm|race_stiffness_n_per_mm): `)
		default:
			continue
		}
		e.why = why
	}
}

// times multiplies the numbers in the text of a value that follow what a pattern matches.
func times(value string, by float64, after string) string {
	return regexp.MustCompile(after+`\d[\d.e-]*`).ReplaceAllStringFunc(value, func(m string) string {
		at := strings.LastIndex(m, " ") + 1
		x, err := strconv.ParseFloat(m[at:], 64)
		if err != nil {
			return m
		}
		return m[:at] + plainNumberText(x*by, 4)
	})
}

func plainNumberText(x float64, digits int) string {
	return strconv.FormatFloat(quantity.Significant(x, digits), 'f', -1, 64)
}

// suitDesign brings in what another design needs: its groups and its marks.
func (d *draft) suitDesign(wants map[string]string) {
	has := func(group string) bool {
		return slices.ContainsFunc(d.entries, func(e entry) bool { return e.group == group })
	}
	word := func(key string) string { return d.find("design", key).value }
	drop := func(group, base string) {
		d.entries = slices.DeleteFunc(d.entries, func(e entry) bool { return e.group == group && (base == "" || e.base() == base) })
	}
	bring := func(group, base string, is func(Family) bool) {
		f := nearestThat(is, d.from.Model.Gears.RingDiameterMM*d.grown)
		for _, e := range shippedEntries(f.Code) {
			if e.group == group && (base == "" || e.base() == base) {
				e.why = asIs(f.Code)
				d.put(Given{Figure: Figure{group: group}, key: e.key, value: e.value})
				*d.find(group, e.base()) = e
			}
		}
	}
	solid, adjusters := word("pinion_preload") == string(SolidSpacer), word("side_adjustment") == string(BearingAdjusters)
	if solid && !has("solid_spacer") {
		drop("collapsible_spacer", "")
		bring("solid_spacer", "", func(f Family) bool { return f.Design.Preload == SolidSpacer })
	}
	if !solid && !has("collapsible_spacer") {
		drop("solid_spacer", "")
		bring("collapsible_spacer", "", func(f Family) bool { return f.Design.Preload == CollapsibleSpacer })
	}
	if adjusters && !has("adjusters") {
		drop("specification", "side_shims")
		bring("adjusters", "", func(f Family) bool { return f.Design.SideAdjust == BearingAdjusters })
	}
	if !adjusters && has("adjusters") {
		drop("adjusters", "")
		bring("specification", "side_shims", func(f Family) bool { return f.Design.SideAdjust != BearingAdjusters })
	}
	if _, asked := wants["marks"]; !asked {
		marks, cage := d.find("design", "marks"), word("depth_shim") == string(UnderCageFlange)
		switch thickens := setup.PlusThickensCageShim.String(); {
		case cage && marks.value != thickens && marks.value != markWords()[0]:
			marks.value = thickens
		case !cage && marks.value == thickens:
			marks.value = setup.PlusTakesShimAway.String()
		}
		if marks.value != d.from.Sheet.Marks.String() {
			marks.why = text.Say("family.begin.marks", "estimated: usual with this place of the depth shim")
		}
	}
}

// nearestThat is the family nearest in size of those that have something.
func nearestThat(is func(Family) bool, ringMM float64) Family {
	best, least := Family{}, math.Inf(1)
	for _, f := range Shelf() {
		if far := math.Abs(math.Log(ringMM / f.Model.Gears.RingDiameterMM)); is(f) && far < least {
			best, least = f, far
		}
	}
	return best
}

// read reads the draft as it stands.
func (d *draft) read() (checker, []Problem) {
	file := d.file(codeAlone)
	f, at, problems := decode(file, d.code)
	return checker{f: f, at: at, file: d.code, bad: problems}, problems
}

// workOut estimates what follows from the given figures, then asks the strict reader.
func (d *draft) workOut() error {
	for _, step := range []func(){d.ratios, d.steps, d.spiral, d.sides, d.preload} {
		if _, wrong := d.read(); len(wrong) > 0 {
			return d.refused(wrong)
		}
		step()
	}
	if wrong := Check(d.file(codeAlone), d.code); len(wrong) > 0 {
		return d.refused(wrong)
	}
	return nil
}

// refused tells of the first given figure that a mistake is about, else of the first mistake:
// what is estimated goes wrong with what it is estimated from.
func (d *draft) refused(wrong []Problem) error {
	about := slices.IndexFunc(wrong, func(w Problem) bool {
		return slices.ContainsFunc(d.given, func(g Given) bool { return w.Key == g.group+": "+g.key })
	})
	first := wrong[max(about, 0)]
	return text.Fail(nil, text.Say("family.begin.refused", "{what}; needed: {want}", text.Of("what", first.What), text.Of("want", first.Want)))
}

func (d *draft) isGiven(base string) bool {
	return slices.ContainsFunc(d.given, func(g Given) bool { return g.Figure.key() == base })
}

// ratios keeps new and used torque in the proportion of the family it is taken from, where
// one of the two is given.
func (d *draft) ratios() {
	c, _ := d.read()
	for _, q := range []struct {
		spec      string
		from, now [2]TorqueSpec
	}{
		{"pinion_torque", [2]TorqueSpec{d.from.Sheet.PinionTorqueNew, d.from.Sheet.PinionTorqueUsed}, [2]TorqueSpec{c.f.Sheet.PinionTorqueNew, c.f.Sheet.PinionTorqueUsed}},
		{"total_torque_rise", [2]TorqueSpec{d.from.Sheet.SideRiseNew, d.from.Sheet.SideRiseUsed}, [2]TorqueSpec{c.f.Sheet.SideRiseNew, c.f.Sheet.SideRiseUsed}},
	} {
		for i, to := range []string{"_used", "_new"} {
			if !d.isGiven(q.spec+[]string{"_new", "_used"}[i]) || d.isGiven(q.spec+to) {
				continue
			}
			by := q.now[i].Mid() / q.from[i].Mid()
			was := q.from[1-i]
			d.torque(q.spec+to, TorqueSpec{was.LowNmm * by, was.HighNmm * by},
				text.Say("family.begin.in-proportion", "estimated: new to used as on {code}", text.Typed("code", d.from.Code)))
		}
	}
}

func (d *draft) torque(base string, w TorqueSpec, why text.Message) {
	nm := func(nmm float64) string { return plainNumberText(nmm/1000, 3) }
	d.set("specification", base, base+"_nm", "{low: "+nm(w.LowNmm)+", high: "+nm(w.HighNmm)+"}", why)
}

// steps widens estimates that shims in stock could not meet.
func (d *draft) steps() {
	c, _ := d.read()
	s, mm := c.f.Sheet, func(x float64) string { return plainNumberText(x, 4) }
	follows := text.Say("family.begin.steps", "estimated: what the given shims and limits allow")
	if s.DepthShims.StepMM > 2*s.DepthToleranceMM {
		d.set("specification", "depth_tolerance", "depth_tolerance_mm", mm(s.DepthShims.StepMM/2*1.01), follows)
	}
	step := s.SideShims.StepMM
	if c.f.Design.SideAdjust == BearingAdjusters {
		step = c.f.Design.Rings.NotchTravelMM()
	}
	preload := s.SidePreload
	if step > preload.HighMM-preload.LowMM {
		preload.HighMM = preload.LowMM + step*1.1
	}
	if most := s.SpreadLimitMM; d.isGiven("spread_limit") && preload.HighMM > most {
		preload = Spec{max(0.02, 0.6*most), most}
	}
	if preload != s.SidePreload {
		d.set("specification", "side_preload", "side_preload_mm", "{low: "+mm(preload.LowMM)+", high: "+mm(preload.HighMM)+"}", follows)
	}
	if s.SidePreload.HighMM > s.SpreadLimitMM {
		d.set("specification", "spread_limit", "spread_limit_mm", mm(1.5*s.SidePreload.HighMM), follows)
	}
	if c.f.Design.Preload != SolidSpacer {
		return
	}
	st := c.f.Design.Solid.PreloadShims
	if zero := c.f.Design.Solid.ZeroEndPlayMM; zero.Low < st.LowMM || zero.High > st.HighMM || d.isGiven("preload_shims") {
		mid, half := (st.LowMM+st.HighMM)/2, min((zero.High-zero.Low)/2, (st.HighMM-st.LowMM)/4)
		d.set("solid_spacer", "zero_end_play", "zero_end_play_mm", "{low: "+mm(mid-half)+", high: "+mm(mid+half)+"}",
			text.Say("family.begin.zero-end-play", "estimated: about the middle of the preload shims"))
	}
}

// spiral seeks a spiral angle of the pinion with which the gears mesh and the ring gear's
// spiral stays nearest to that of the family it is taken from.
func (d *draft) spiral() {
	c, _ := d.read()
	as := d.from.Model.Gears
	if g := c.f.Model.Gears; g.RingTeeth == as.RingTeeth && g.PinionTeeth == as.PinionTeeth && !d.isGiven("offset") {
		if c.gears(); len(c.bad) == 0 {
			return
		}
	}
	ring := func(data mesh.SetData) (float64, bool) {
		b, err := mesh.NewBlank(data)
		if err != nil {
			return 0, false
		}
		return b.RingSpiralRad, true
	}
	want, _ := ring(as)
	type choice struct{ deg, far float64 }
	var all []choice
	try := func(deg float64) {
		g := c.f.Model.Gears
		g.SpiralDeg = deg
		if got, ok := ring(g); ok && !slices.ContainsFunc(all, func(x choice) bool { return x.deg == deg }) {
			all = append(all, choice{deg, math.Abs(got - want)})
		}
	}
	for deg := 26.0; deg <= 60; deg += 2 {
		try(deg)
	}
	if len(all) > 0 {
		mid := slices.MinFunc(all, func(a, b choice) int { return cmp.Compare(a.far, b.far) }).deg
		for deg := mid - 1.75; deg <= mid+1.75; deg += 0.25 {
			try(deg)
		}
	}
	slices.SortStableFunc(all, func(a, b choice) int { return cmp.Compare(a.far, b.far) })
	for _, one := range all[:min(12, len(all))] {
		c.f.Model.Gears.SpiralDeg, c.bad = one.deg, nil
		if c.gears(); len(c.bad) == 0 {
			if one.deg != d.from.Model.Gears.SpiralDeg {
				d.set("gears", "pinion_spiral", "pinion_spiral_deg", plainNumberText(one.deg, 4), text.Say("family.begin.spiral", "estimated: so that the gears mesh"))
			}
			return
		}
	}
}

// sides brings side bearing preload and its torque together: the torque follows where it is
// not given, otherwise the stiffness of the pedestals does.
func (d *draft) sides() {
	c, _ := d.read()
	meets := func(by float64) bool {
		x := checker{f: c.f, at: c.at}
		x.f.Model.PedestalNPerMM = Range{c.f.Model.PedestalNPerMM.Low * by, c.f.Model.PedestalNPerMM.High * by}
		x.sides()
		return len(x.bad) == 0
	}
	if meets(1) {
		return
	}
	if d.isGiven("total_torque_rise_new") || d.isGiven("total_torque_rise_used") {
		if by, ok := nearestFactor(meets); ok {
			e := d.find("stiffness", "pedestal")
			d.set("stiffness", "pedestal", e.key, times(e.value, by, `(?:low|high): `), text.Say("family.begin.pedestal", "estimated: so that the side bearing preload gives its torque"))
			return
		}
	}
	for _, used := range []bool{false, true} {
		base := map[bool]string{false: "total_torque_rise_new", true: "total_torque_rise_used"}[used]
		if w, err := c.f.Rise(used); err == nil {
			d.torque(base, TorqueSpec{max(w.LowNmm, 55), max(w.HighNmm, 80)}, text.Say("family.begin.rise", "estimated: what this side bearing preload adds by the model"))
		}
	}
}

// preload fits the spacer to nut and rotating torque.
func (d *draft) preload() {
	c, _ := d.read()
	if c.f.Design.Preload == SolidSpacer {
		d.solid(c)
		return
	}
	meets := func(by float64) bool {
		x := checker{f: c.f, at: c.at}
		x.f.Model.SpacerYieldN = Range{c.f.Model.SpacerYieldN.Low * by, c.f.Model.SpacerYieldN.High * by}
		if x.preload(); len(x.bad) > 0 {
			return false
		}
		r, err := x.f.Reach(false)
		mid := (r.Nut.LowNmm + r.Nut.HighNmm) / 2
		low, high := c.f.Sheet.NutLow.Nmm(), c.f.Sheet.NutHigh.Nmm()
		return err == nil && mid > low+(high-low)/4 && mid < high-(high-low)/4
	}
	if by, ok := nearestFactor(meets); ok && by != 1 {
		e := d.find("collapsible_spacer", "crush_load")
		d.set("collapsible_spacer", "crush_load", e.key, times(e.value, by, `(?:low|high): `), nutWhy())
	}
}

func nutWhy() text.Message {
	return text.Say("family.begin.crush", "estimated: so that the nut brings the rotating torque into its spec")
}

// solid gives preload shims in steps that are fine enough, with room for every axle.
func (d *draft) solid(c checker) {
	st := c.f.Design.Solid.PreloadShims
	if x := (checker{f: c.f, at: c.at}); d.isGiven("preload_shims") || func() bool { x.preload(); return len(x.bad) == 0 }() {
		return
	}
	for _, step := range []float64{st.StepMM, 0.02, 0.01, 0.005} {
		for _, wider := range []float64{0, 0.4, 0.8} {
			x := checker{f: c.f, at: c.at}
			low := max(0.1, st.LowMM-wider)
			high := low + step*math.Ceil((st.HighMM+wider-low)/step)
			x.f.Design.Solid.PreloadShims = Stock{low, high, step}
			if x.preload(); len(x.bad) == 0 && (high-low)/step < 400 {
				mm := func(v float64) string { return plainNumberText(v, 6) }
				d.set("solid_spacer", "preload_shims", "preload_shims_mm", "{low: "+mm(low)+", high: "+mm(high)+", step: "+mm(step)+"}", nutWhy())
				return
			}
		}
	}
}

// nearestFactor returns the factor nearest to 1, from a quarter to four, with which something
// is met.
func nearestFactor(meets func(float64) bool) (float64, bool) {
	for i := range 29 {
		for _, way := range []float64{1, -1} {
			if by := math.Pow(1.05, way*float64(i)); meets(by) {
				return by, true
			}
		}
	}
	return 0, false
}

// codeAlone says a message for the reader, who asks for no more than that there is something,
// and that it calls the axle invented.
func codeAlone(m text.Message) string { return m.Code() + " -" }

// file writes the draft.
func (d *draft) file(say func(text.Message) string) []byte {
	var b strings.Builder
	from := text.Typed("code", d.from.Code)
	b.WriteString(datasheet.Remark(say(text.Say("family.begin.head", "An axle family begun from the figures of a manual. Each line says whether its figure is given or how it is estimated. Replace an estimate by a figure whenever there is one, and check the file with: {command}", text.Typed("command", "shimwright family check FILE")))))
	fmt.Fprintf(&b, "shimwright_family: %d\ncode: %s\nname: %s\n", formatVersion, d.code, strconv.Quote(d.code))
	fmt.Fprintf(&b, "use: %s\n", strconv.Quote(say(text.Say("family.begin.use", "an axle of a person's own, begun from {code}", from))))
	notice := say(text.Say("family.begin.invented", "Partly invented for practice: the file says line by line which figures come from a manual. No figure here may be used on a real axle; on the job the maker's manual decides."))
	if word := "invented"; !strings.Contains(strings.ToLower(notice), word) {
		notice += " (" + word + ")" // in another language; the reader asks for the word
	}
	fmt.Fprintf(&b, "invented: %s\n", strconv.Quote(notice))
	group := ""
	for _, e := range d.entries {
		if e.group != group {
			group = e.group
			fmt.Fprintf(&b, "\n%s:\n", group)
		}
		first, rest, more := strings.Cut(e.value, "\n")
		why := say(e.why)
		if more {
			fmt.Fprintf(&b, "  # %s\n  %s: %s\n%s\n", why, e.key, first, rest)
			continue
		}
		fmt.Fprintf(&b, "  %s: %s # %s\n", e.key, first, why)
	}
	return []byte(b.String())
}
