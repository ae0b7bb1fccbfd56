package view

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// CardParts are the names of the parts of the card of a kind of job, in the card's order.
func CardParts(k scenarios.Kind) []string {
	parts := []string{"job", "axle", "pinion", "case", "rates", "trust"}
	if StartsBare(k) {
		return parts
	}
	return append([]string{"job", "before"}, parts[1:]...)
}

// StartsBare tells whether nothing has been done on an axle before the trainee.
func StartsBare(k scenarios.Kind) bool {
	return k == scenarios.WholeJob || k == scenarios.DepthJob
}

// Card writes the whole job card.
func Card(c scenarios.Card, p Pen) string {
	return card(c, &page{pen: p}).text.String()
}

// CardBlocks is the whole job card for a browser; anonymous, it does not tell the job's
// number.
func CardBlocks(c scenarios.Card, p Pen, anonymous bool) []Block {
	return card(c, &page{pen: p, anonymous: anonymous}).blocks
}

func card(c scenarios.Card, g *page) *page {
	g.job(c)
	g.text.WriteByte('\n')
	if !StartsBare(c.Kind) {
		g.before(c)
		g.text.WriteByte('\n')
	}
	g.sheet(c)
	g.text.WriteByte('\n')
	g.rates(c)
	g.text.WriteByte('\n')
	g.trust(c)
	g.notice()
	return g
}

// CardPart writes one part of a job card, no longer than a small screen; ok is false
// when the card has no part of that name. "all" and "sheet" are several parts at once.
func CardPart(c scenarios.Card, part string, p Pen) (text string, ok bool) {
	g := &page{pen: p}
	switch part {
	case "all":
		return Card(c, p), true
	case "job":
		g.job(c)
		g.say(p.Print(family.Notice()))
		return g.text.String(), true
	case "before":
		if StartsBare(c.Kind) {
			return "", false
		}
		g.before(c)
		return g.text.String(), true // the longest part: its page has no room for the notice
	case "sheet":
		g.sheet(c)
	case "axle":
		g.axle(c.Family)
	case "pinion":
		g.pinion(c)
	case "case":
		g.sides(c)
	case "rates":
		g.rates(c)
	case "trust":
		g.trust(c)
	default:
		return "", false
	}
	g.notice()
	return g.text.String(), true
}

// NoCardPart says that a card has no part of that name.
func NoCardPart(k scenarios.Kind, part string) error {
	return text.Fail(nil, text.Say("view.card.card-has-no-part", "the card has no part called {part}: its parts are {card_parts}; all shows them all", text.Quoted("part", part), text.Typed("card_parts", strings.Join(CardParts(k), ", "))))
}

// KindTitle names a kind of job in a heading; the whole job needs no name.
func KindTitle(k scenarios.Kind) text.Message {
	switch k {
	case scenarios.DepthJob:
		return text.Say("view.card.depth-shim", "the depth shim")
	case scenarios.PreloadJob:
		return text.Say("view.card.pinion-preload", "pinion preload")
	case scenarios.SidesJob:
		return text.Say("view.card.side-bearings-backlash", "side bearings and backlash")
	case scenarios.PatternJob:
		return text.Say("view.card.contact-pattern", "contact pattern")
	case scenarios.PreviousWork:
		return text.Say("view.card.previous-work", "previous work")
	}
	return text.Message{}
}

// JobTitle names a job: its family, what kind it is unless it is the whole job, and its
// number after what stands between.
func JobTitle(p text.Printer, code string, k scenarios.Kind, between string, seed uint64) string {
	return fmt.Sprintf("%s%s%d", SortOfJob(p, code, k), between, seed)
}

// SortOfJob is JobTitle without the number.
func SortOfJob(p text.Printer, code string, k scenarios.Kind) string {
	if title := p.Print(KindTitle(k)); title != "" {
		return code + ", " + title
	}
	return code
}

// SignsFor says what a signature declares in a kind of job.
func SignsFor(k scenarios.Kind) text.Message {
	switch k {
	case scenarios.DepthJob:
		return text.Say("view.card.sign-for-depth-shim", "sign for the depth shim you have chosen")
	case scenarios.PreloadJob:
		return text.Say("view.card.sign-for-pinion-bearing", "sign for the pinion bearing preload")
	}
	return text.Say("view.card.declare-axle-ready", "declare the axle ready")
}

// Signed says what has been signed for.
func Signed(k scenarios.Kind) text.Message {
	switch k {
	case scenarios.DepthJob:
		return text.Say("view.card.signed-depth-shim-goes", "Signed: the depth shim goes to the next technician.")
	case scenarios.PreloadJob:
		return text.Say("view.card.signed-pinion-preload-set", "Signed: the pinion, with its preload set, goes to the next technician.")
	}
	return text.Say("view.card.signed-axle-declared-ready", "Signed: the axle is declared ready.")
}

// job is what the person who brought the axle and the person who stripped it, or worked on
// it before, tell.
func (g *page) job(c scenarios.Card) {
	heading := g.pen.Print(text.Say("view.card.job", "Job {seed}: {name}", text.Typed("seed", fmt.Sprint(c.Seed)), text.Typed("name", c.Family.Name)))
	if g.anonymous {
		heading = c.Family.Name
	}
	if title := g.pen.Print(KindTitle(c.Kind)); title != "" {
		heading += " - " + title
	}
	g.heading(heading)
	g.say(g.pen.Print(text.Say("view.card.vehicle-complaint", "Vehicle: {vehicle}. Complaint: {complaint}.", text.Of("vehicle", c.Vehicle), text.Of("complaint", c.Complaint))))
	gears := g.pen.Print(text.Say("view.card.new-gears-ready", "A new ring and pinion is ready; its ring gear is bolted to the case."))
	if c.UsedGears {
		gears = g.pen.Print(text.Say("view.card.own-gears-go", "Its own ring and pinion go back in; the ring gear is bolted to the case."))
	}
	switch c.Kind {
	case scenarios.WholeJob:
		g.say(g.pen.Print(text.Say("view.card.axle-stripped-pinion-bearing", "The axle is stripped; the pinion bearing cups are in place. {gears}", text.Typed("gears", gears))))
	case scenarios.DepthJob, scenarios.PreloadJob:
		g.say(g.pen.Print(c.Kind.Explain()) + " " + gears)
	default:
		g.say(g.pen.Print(c.Kind.Explain()))
	}
	g.standing(c)
	g.bench(c)
	bearings := g.pen.Print(text.Say("view.card.new-pinion-bearings-side", "new pinion bearings and side bearings"))
	if c.UsedBearings {
		bearings = g.pen.Print(text.Say("view.card.used-ones-go-back", "the used ones go back in: use the spec for used bearings"))
	}
	g.row(g.pen.Print(text.Say("view.card.bearings", "Bearings")), bearings)
	if c.UsedGears {
		g.row(g.pen.Print(text.Say("view.card.backlash", "Backlash")), g.pen.Print(text.Say("view.card.set-ran-set-back", "the set ran at {mid}: set it back to that", text.Typed("mid", g.length(c.Family.Sheet.Backlash.Mid())))))
	}
	g.oldBuild(c)
}

// standing is how far the technicians before have brought the axle, and what they wrote down.
func (g *page) standing(c scenarios.Card) {
	if StartsBare(c.Kind) {
		return
	}
	g.row(g.pen.Print(text.Say("view.card.as-stands", "As it stands")), Status(c.Family.Design, c.Start, g.pen))
	// What can be seen is told already.
	seen := []act.Option{act.DepthShimLine, act.PreloadShimsLine, act.RingGearShimLine, act.OppositeShimLine}
	var items []string
	for _, e := range c.Start.Sheet {
		if slices.Contains(seen, e.Item) {
			continue
		}
		items = append(items, strings.ReplaceAll(string(e.Item), "-", " ")+" "+sheetValue(e, g.pen))
	}
	if len(items) > 0 {
		g.row(g.pen.Print(text.Say("view.card.build-sheet", "Build sheet")), strings.Join(items, ", "))
	}
}

// sheetValue writes what a line of the build sheet holds.
func sheetValue(e history.Entry, p Pen) string {
	if e.Item == "pattern" {
		return fmt.Sprintf("%.2f", e.Value.Number)
	}
	if l, ok := e.Value.Length(); ok {
		return l.Show(p.Units())
	}
	if t, ok := e.Value.Torque(); ok {
		return t.ShowRotating(p.Units())
	}
	return e.Value.String()
}

// SheetLine writes a line of the build sheet.
func SheetLine(e history.Entry, p Pen) string {
	return fmt.Sprintf("  %-14s %s\n", e.Item, sheetValue(e, p))
}

// bench says what an exercise does without, and what it allows.
func (g *page) bench(c scenarios.Card) {
	if len(c.Known.Off) > 0 {
		var names []string
		for _, l := range c.Known.Off {
			names = append(names, l.String())
		}
		g.row(g.pen.Print(text.Say("view.card.bench-lacks", "Bench lacks")), strings.Join(names, ", "))
	}
	var allowed []string
	if c.Budget.Minutes > 0 {
		allowed = append(allowed, g.pen.Print(text.Say("view.card.minutes-work", "{minutes} minutes of work", text.Number("minutes", float64(c.Budget.Minutes), 0))))
	}
	if c.Budget.Parts > 0 {
		allowed = append(allowed, g.pen.Print(text.Say("view.card.parts-worth-minutes", "parts worth {parts} minutes", text.Number("parts", float64(c.Budget.Parts), 0))))
	}
	if len(allowed) > 0 {
		g.row(g.pen.Print(text.Say("view.card.allowed", "Allowed")), strings.Join(allowed, ", "))
	}
}

// oldBuild is what came out of the axle, as far as the job needs it.
func (g *page) oldBuild(c scenarios.Card) {
	k, d := c.Known, c.Family.Design
	g.row(g.pen.Print(text.Say("view.card.old-depth-shim", "Old depth shim")), k.OldDepthShim.Show(g.pen.Units()))
	switch {
	case c.Kind == scenarios.PreloadJob: // the shim is chosen
	case !c.Family.Sheet.Marks.Known():
		g.row(g.pen.Print(text.Say("view.card.pinion-marks", "Pinion marks")), g.pen.Print(unmarked))
	case c.UsedGears:
		g.row(g.pen.Print(text.Say("view.card.pinion-mark", "Pinion mark")), g.pen.Print(text.Say("view.card.same-pinion-goes-back", "{new_mark}; the same pinion goes back in", text.Typed("new_mark", k.NewMark.ShowSigned(g.pen.Units())))))
	default:
		g.row(g.pen.Print(text.Say("view.card.pinion-marks", "Pinion marks")), g.pen.Print(text.Say("view.card.old-pinion-new-pinion", "old pinion {old_mark}, new pinion {new_mark}", text.Typed("old_mark", k.OldMark.ShowSigned(g.pen.Units())), text.Typed("new_mark", k.NewMark.ShowSigned(g.pen.Units())))))
	}
	if name := g.pen.Print(marksName(c.Family.Sheet.Marks)); StartsBare(c.Kind) && name != "" {
		g.rowWith(g.pen.Print(text.Say("view.card.what-marks-mean", "What marks mean")), name, g.pen.Print(text.Say("view.card.card-pinion-explains", "; card pinion explains it")))
	}
	if d.Preload == family.SolidSpacer && (c.Kind == scenarios.WholeJob || c.Kind == scenarios.PreloadJob) {
		g.row(g.pen.Print(text.Say("view.card.old-preload-shims", "Old preload shims")), k.OldPreloadShims.Show(g.pen.Units())+strings.TrimSuffix(g.pen.Print(withOldShim(d)), ","))
	}
	if c.Kind != scenarios.WholeJob && c.Kind != scenarios.SidesJob {
		return
	}
	if d.SideAdjust == family.BearingAdjusters {
		g.row(g.pen.Print(text.Say("view.card.bearing-adjusters", "Bearing adjusters")), g.pen.Print(text.Say("view.card.taken-out-their-old", "taken out; their old positions are not known")))
	} else {
		g.row(g.pen.Print(text.Say("view.card.old-side-shims", "Old side shims")), g.pen.Print(text.Say("view.card.ring-gear-side-opposite", "ring-gear side {old_ring_gear_shim}, opposite side {old_opposite_shim}", text.Typed("old_ring_gear_shim", k.OldRingGearShim.Show(g.pen.Units())), text.Typed("old_opposite_shim", k.OldOppositeShim.Show(g.pen.Units())))))
	}
}

// marksName says in short what a mark on a pinion means; "" where they carry none.
func marksName(m setup.MarkConvention) text.Message {
	switch m {
	case setup.PlusTakesShimAway:
		return text.Say("view.card.plus-takes-shim-away", "plus takes shim away")
	case setup.PlusThickensCageShim:
		return text.Say("view.card.plus-means-thicker-cage", "plus means a thicker cage shim")
	case setup.PlusAddsShim:
		return text.Say("view.card.plus-adds-shim", "plus adds shim")
	}
	return text.Message{}
}

// marks says what a mark on a pinion means, where they carry any.
func (g *page) marks(sh family.Sheet) {
	if sh.Marks.Known() {
		g.row(g.pen.Print(text.Say("view.card.what-marks-mean", "What marks mean")), g.pen.Print(sh.Marks.Explain()))
	}
}

// before is what is known of the work that was done before: what was last read, or, of work
// that nobody has checked, what may have been done wrong.
func (g *page) before(c scenarios.Card) {
	if c.Kind == scenarios.PreviousWork {
		g.title(g.pen.Print(text.Say("view.card.mistakes-previous-technicians-100", "Mistakes of previous technicians, in 100 such axles")))
		right := 1.0
		for _, r := range c.Mistakes {
			right -= r.Rate
			g.item(r.Rate, g.pen.Print(r.Name))
		}
		g.item(right, g.pen.Print(text.Say("view.card.none-axle-right", "none: the axle is right")))
		return
	}
	title := g.pen.Print(text.Say("view.card.last-readings-before-you", "Last readings before you, by a careful technician"))
	if c.Kind == scenarios.PatternJob {
		title = g.pen.Print(text.Say("view.card.last-readings-before-you-2", "Last readings before you; the pinion depth was not gauged"))
	}
	g.title(title)
	var order []gauge.Kind
	last := map[gauge.Kind]gauge.Reading{}
	for _, o := range c.Before {
		for _, r := range o.Readings {
			if len(r.Patterns) > 0 {
				continue
			}
			if _, had := last[r.Kind]; !had {
				order = append(order, r.Kind)
			}
			last[r.Kind] = r
		}
	}
	var seen []string
	for _, kind := range order {
		r := last[kind]
		value := values(r, g.pen)
		if value == "" {
			line := g.pen.Print(r.Finding.Message())
			if r.Wrong() {
				line += g.pen.Print(text.Say("view.card.put-right", " (put right)"))
			}
			seen = append(seen, sentence(line))
			continue
		}
		if how := r.How(); !how.IsZero() {
			value += " (" + g.pen.Print(how) + ")"
		}
		g.row(g.pen.Print(kind.Name()), value)
	}
	if len(seen) > 0 {
		g.row(g.pen.Print(text.Say("view.card.inspected", "inspected")), strings.Join(seen, " "))
	}
}

// withOldShim says, where a depth shim behind the cup moves the bearings apart, which one
// the old preload shims went with.
func withOldShim(d family.Design) text.Message {
	if d.DepthShim != family.BehindInnerCup {
		return text.Message{}
	}
	return text.Say("view.card.old-depth-shim-2", ", with the old depth shim,")
}

// rates are how often which fault turns up. With trust they are all that the grader holds
// to be known of an axle before it is read.
func (g *page) rates(c scenarios.Card) {
	g.title(g.pen.Print(text.Say("view.card.faults-found-100-axles", "Faults found in 100 axles of this type")))
	can := slices.DeleteFunc(slices.Clone(c.Rates), func(r scenarios.Rate) bool { return r.Rate == 0 })
	if len(can) == 0 {
		g.say("  " + g.pen.Print(text.Say("view.card.none-parts-this-one", "none: the parts of this one are sound.")))
	}
	for _, r := range can {
		g.block(ItemBlock, fmt.Sprintf("%.0f", 100*r.Rate), g.pen.Print(r.Name))
	}
	g.text.WriteString(rates(can, g.pen))
	g.note(g.pen.Print(text.Say("card.rates-for-practice", "These rates are chosen for practice.")))
}

// trust is how reliable the old settings are.
func (g *page) trust(c scenarios.Card) {
	d := c.Family.Design
	g.title(g.pen.Print(text.Say("view.card.how-reliable-old-settings", "How reliable the old settings are")))
	trust := []string{g.pen.Print(text.Say("view.card.old-depth-shim-was", "The old depth shim was right for the old set to about {old_build_sdmm}. The height of a new bearing differs from the old one by about {bearing_height_sdmm}.", text.Typed("old_build_sdmm", g.length(scenarios.OldBuildSDMM)), text.Typed("bearing_height_sdmm", g.length(scenarios.BearingHeightSDMM))))}
	if c.Family.Sheet.Marks.Known() {
		trust = append(trust, g.pen.Print(text.Say("view.card.depth-mark-accurate-about", "A depth mark is accurate to about {mark_sdmm}.", text.Typed("mark_sdmm", g.length(scenarios.MarkSDMM)))))
	} else {
		trust = append(trust, g.pen.Print(text.Say("view.card.pinions-without-marks-differ", "Pinions without marks differ by about {unmarked_sdmm}.", text.Typed("unmarked_sdmm", g.length(scenarios.UnmarkedSDMM)))))
	}
	if d.Preload == family.SolidSpacer {
		trust = append(trust, g.pen.Print(text.Say("view.card.old-preload-shims-right", "The old preload shims{with_old_shim} are right to about {old_preload_shims_sdmm}.", text.Of("with_old_shim", withOldShim(d)), text.Typed("old_preload_shims_sdmm", g.length(scenarios.OldPreloadShimsSDMM)))))
	}
	if d.SideAdjust != family.BearingAdjusters {
		trust = append(trust, g.pen.Print(text.Say("view.card.old-side-shims-put", "The old side shims put the new ring gear within about {old_split_sdmm} of its place; their total is right to about {old_total_sdmm}.", text.Typed("old_split_sdmm", g.length(scenarios.OldSplitSDMM)), text.Typed("old_total_sdmm", g.length(scenarios.OldTotalSDMM)))))
	}
	trust = append(trust, g.pen.Print(text.Say("view.card.about-two-times-three", "About two times in three the error is no larger than that.")))
	if d.SideAdjust == family.BearingAdjusters {
		play, away := scenarios.RingPlayMM, scenarios.RingAwayMM
		trust = append(trust, g.pen.Print(text.Say("view.card.adjusters-run-up-by", "Adjusters run up by hand leave {low} of end play in all and the ring gear {low2} too far away; every figure in that range is equally likely.", text.Typed("low", g.span(play.Low, play.High)), text.Typed("low2", g.span(away.Low, away.High)))))
	}
	g.note(strings.Join(trust, " "))
}

// rates writes the fault rates in two columns where the width allows.
func rates(rs []scenarios.Rate, p Pen) string {
	var b strings.Builder
	cell := func(r scenarios.Rate) string {
		return fmt.Sprintf("  %2.0f  %s", 100*r.Rate, p.Print(r.Name))
	}
	if p.Width < 2*rateColumn+2 {
		for _, r := range rs {
			b.WriteString(Hang(p.Print(r.Name), p.Width, cell(scenarios.Rate{Rate: r.Rate}), "      "))
		}
		return b.String()
	}
	const columns = 2
	rows := (len(rs) + columns - 1) / columns
	for i := range rows {
		line := ""
		for k := i; k < len(rs); k += rows {
			line = pad(line, (k/rows)*rateColumn) + cell(rs[k])
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// rateColumn leaves room for the longest name on both sides at 80 columns.
const rateColumn = 39

// Status writes one line about how an axle of a design stands.
func Status(d family.Design, st history.Status, p Pen) string {
	parts := []string{}
	add := func(s string) { parts = append(parts, s) }
	switch st.Pinion {
	case history.PinionOut:
		add(p.Print(text.Say("view.card.pinion-out", "pinion out")))
	case history.PinionMockUp:
		add(p.Print(text.Say("view.card.pinion-mock-up", "pinion in (mock-up)")))
	case history.PinionFinal:
		add(p.Print(text.Say("view.card.pinion-final", "pinion in (final)")))
	}
	if st.DepthShim > 0 {
		add(p.Print(text.Say("view.card.depth-shim-2", "depth shim {depth_shim}", text.Typed("depth_shim", st.DepthShim.Show(p.Units())))))
	}
	if st.PreloadShims > 0 {
		add(p.Print(text.Say("view.card.preload-shims", "preload shims {preload_shims}", text.Typed("preload_shims", st.PreloadShims.Show(p.Units())))))
	}
	if st.Spread > 0 {
		add(p.Print(text.Say("view.card.housing-spread", "housing spread {spread}", text.Typed("spread", st.Spread.Show(p.Units())))))
	}
	switch {
	case st.CaseIn && st.CapsTight:
		add(p.Print(text.Say("view.card.case-caps-torqued", "case in, caps torqued")))
	case st.CaseIn:
		add(p.Print(text.Say("view.card.case-caps-snug", "case in, caps snug")))
	default:
		add(p.Print(text.Say("view.card.case-out", "case out")))
	}
	if st.RingGearShim > 0 {
		add(p.Print(text.Say("view.card.side-shims-ring-gear", "side shims ring-gear {ring_gear_shim}, opposite {opposite_shim}", text.Typed("ring_gear_shim", st.RingGearShim.Show(p.Units())), text.Typed("opposite_shim", st.OppositeShim.Show(p.Units())))))
	}
	if d.SideAdjust == family.BearingAdjusters && (st.CaseIn || st.RingGearNotches != 0 || st.OppositeNotches != 0) {
		add(p.Print(text.Say("view.card.ring-gear-adjuster-opposite", "ring-gear adjuster {ring_turned}, opposite {ring_turned2}", text.Of("ring_turned", ringTurned(st.RingGearNotches)), text.Of("ring_turned2", ringTurned(st.OppositeNotches)))))
	}
	return strings.Join(parts, "; ")
}

// Adjusters says in a line of its own how far bearing adjusters stand from where they were
// run up by hand.
func Adjusters(st history.Status, p Pen) string {
	return Wrap(p.Print(text.Say("view.card.adjusters-from-hand-tight", "Adjusters from hand tight: ring-gear {ring_turned}, opposite {ring_turned2}.", text.Of("ring_turned", ringTurned(st.RingGearNotches)), text.Of("ring_turned2", ringTurned(st.OppositeNotches)))), p.Width, "    ")
}

// Spent writes what the work has cost so far.
func Spent(st history.Status, allowed scenarios.Budget, say text.Printer) string {
	s := say.Print(text.Say("view.card.minutes-work", "{minutes} minutes of work", text.Number("minutes", float64(st.Minutes), 0)))
	if allowed.Minutes > 0 {
		s += say.Print(text.Say("view.card.allowed-2", " of the {minutes} allowed", text.Number("minutes", float64(allowed.Minutes), 0)))
	}
	of := ""
	if allowed.Parts > 0 {
		of = say.Print(text.Say("view.card.allowed-3", " of the {parts} allowed", text.Number("parts", float64(allowed.Parts), 0)))
	}
	if len(st.Parts) == 0 {
		return say.Print(text.Say("view.card.no-parts", "{it}, no parts.", text.Typed("it", s)))
	}
	counts := map[string]int{}
	var order []string
	for _, p := range st.Parts {
		if counts[string(p)] == 0 {
			order = append(order, string(p))
		}
		counts[string(p)]++
	}
	for i, name := range order {
		if counts[name] > 1 {
			order[i] = fmt.Sprintf("%d x %s", counts[name], name)
		}
	}
	return say.Print(text.Say("view.card.parts-worth-minutes-2", "{it}, and parts worth {parts_minutes} minutes{of}: {order}.", text.Typed("it", s), text.Number("parts_minutes", float64(st.PartsMinutes), 0), text.Typed("of", of), text.Typed("order", strings.Join(order, ", "))))
}
