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
	return fmt.Errorf("the card has no part called %q: its parts are %s; all shows them all", part, strings.Join(CardParts(k), ", "))
}

// KindTitle names a kind of job in a heading; the whole job needs no name.
func KindTitle(k scenarios.Kind) string {
	switch k {
	case scenarios.DepthJob:
		return "the depth shim"
	case scenarios.PreloadJob:
		return "pinion preload"
	case scenarios.SidesJob:
		return "side bearings and backlash"
	case scenarios.PatternJob:
		return "contact pattern"
	case scenarios.PreviousWork:
		return "previous work"
	}
	return ""
}

// JobTitle names a job: its family, what kind it is unless it is the whole job, and its
// number after what stands between.
func JobTitle(code string, k scenarios.Kind, between string, seed uint64) string {
	kind := ""
	if title := KindTitle(k); title != "" {
		kind = ", " + title
	}
	return fmt.Sprintf("%s%s%s%d", code, kind, between, seed)
}

// SignsFor says what a signature declares in a kind of job.
func SignsFor(k scenarios.Kind) string {
	switch k {
	case scenarios.DepthJob:
		return "sign for the depth shim you have chosen"
	case scenarios.PreloadJob:
		return "sign for the pinion bearing preload"
	}
	return "declare the axle ready"
}

// Signed says what has been signed for.
func Signed(k scenarios.Kind) string {
	switch k {
	case scenarios.DepthJob:
		return "Signed: the depth shim goes to the next technician."
	case scenarios.PreloadJob:
		return "Signed: the pinion, with its preload set, goes to the next technician."
	}
	return "Signed: the axle is declared ready."
}

// job is what the person who brought the axle and the person who stripped it, or worked on
// it before, tell.
func (g *page) job(c scenarios.Card) {
	heading := fmt.Sprintf("Job %d: %s", c.Seed, c.Family.Name)
	if g.anonymous {
		heading = c.Family.Name
	}
	if title := KindTitle(c.Kind); title != "" {
		heading += " - " + title
	}
	g.heading(heading)
	g.say(fmt.Sprintf("Vehicle: %s. Complaint: %s.", g.pen.Print(c.Vehicle), g.pen.Print(c.Complaint)))
	gears := "A new ring and pinion is ready; its ring gear is bolted to the case."
	if c.UsedGears {
		gears = "Its own ring and pinion go back in; the ring gear is bolted to the case."
	}
	switch c.Kind {
	case scenarios.WholeJob:
		g.say("The axle is stripped; the pinion bearing cups are in place. " + gears)
	case scenarios.DepthJob, scenarios.PreloadJob:
		g.say(g.pen.Print(c.Kind.Explain()) + " " + gears)
	default:
		g.say(g.pen.Print(c.Kind.Explain()))
	}
	g.standing(c)
	g.bench(c)
	bearings := "new pinion bearings and side bearings"
	if c.UsedBearings {
		bearings = "the used ones go back in: use the spec for used bearings"
	}
	g.row("Bearings", bearings)
	if c.UsedGears {
		g.row("Backlash", fmt.Sprintf("the set ran at %s: set it back to that", g.length(c.Family.Sheet.Backlash.Mid())))
	}
	g.oldBuild(c)
}

// standing is how far the technicians before have brought the axle, and what they wrote down.
func (g *page) standing(c scenarios.Card) {
	if StartsBare(c.Kind) {
		return
	}
	g.row("As it stands", Status(c.Family.Design, c.Start, g.pen))
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
		g.row("Build sheet", strings.Join(items, ", "))
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
		g.row("Bench lacks", strings.Join(names, ", "))
	}
	var allowed []string
	if c.Budget.Minutes > 0 {
		allowed = append(allowed, fmt.Sprintf("%.0f minutes of work", float64(c.Budget.Minutes)))
	}
	if c.Budget.Parts > 0 {
		allowed = append(allowed, fmt.Sprintf("parts worth %.0f minutes", float64(c.Budget.Parts)))
	}
	if len(allowed) > 0 {
		g.row("Allowed", strings.Join(allowed, ", "))
	}
}

// oldBuild is what came out of the axle, as far as the job needs it.
func (g *page) oldBuild(c scenarios.Card) {
	k, d := c.Known, c.Family.Design
	g.row("Old depth shim", k.OldDepthShim.Show(g.pen.Units()))
	switch {
	case c.Kind == scenarios.PreloadJob: // the shim is chosen
	case !c.Family.Sheet.Marks.Known():
		g.row("Pinion marks", unmarked)
	case c.UsedGears:
		g.row("Pinion mark", fmt.Sprintf("%s; the same pinion goes back in", k.NewMark.ShowSigned(g.pen.Units())))
	default:
		g.row("Pinion marks", fmt.Sprintf("old pinion %s, new pinion %s", k.OldMark.ShowSigned(g.pen.Units()), k.NewMark.ShowSigned(g.pen.Units())))
	}
	if name := marksName(c.Family.Sheet.Marks); StartsBare(c.Kind) && name != "" {
		g.rowWith("What marks mean", name, "; card pinion explains it")
	}
	if d.Preload == family.SolidSpacer && (c.Kind == scenarios.WholeJob || c.Kind == scenarios.PreloadJob) {
		g.row("Old preload shims", k.OldPreloadShims.Show(g.pen.Units())+strings.TrimSuffix(withOldShim(d), ","))
	}
	if c.Kind != scenarios.WholeJob && c.Kind != scenarios.SidesJob {
		return
	}
	if d.SideAdjust == family.BearingAdjusters {
		g.row("Bearing adjusters", "taken out; their old positions are not known")
	} else {
		g.row("Old side shims", fmt.Sprintf("ring-gear side %s, opposite side %s", k.OldRingGearShim.Show(g.pen.Units()), k.OldOppositeShim.Show(g.pen.Units())))
	}
}

// marksName says in short what a mark on a pinion means; "" where they carry none.
func marksName(m setup.MarkConvention) string {
	switch m {
	case setup.PlusTakesShimAway:
		return "plus takes shim away"
	case setup.PlusThickensCageShim:
		return "plus means a thicker cage shim"
	case setup.PlusAddsShim:
		return "plus adds shim"
	}
	return ""
}

// marks says what a mark on a pinion means, where they carry any.
func (g *page) marks(sh family.Sheet) {
	if sh.Marks.Known() {
		g.row("What marks mean", g.pen.Print(sh.Marks.Explain()))
	}
}

// before is what is known of the work that was done before: what was last read, or, of work
// that nobody has checked, what may have been done wrong.
func (g *page) before(c scenarios.Card) {
	if c.Kind == scenarios.PreviousWork {
		g.title("Mistakes of previous technicians, in 100 such axles")
		right := 1.0
		for _, r := range c.Mistakes {
			right -= r.Rate
			g.item(r.Rate, g.pen.Print(r.Name))
		}
		g.item(right, "none: the axle is right")
		return
	}
	title := "Last readings before you, by a careful technician"
	if c.Kind == scenarios.PatternJob {
		title = "Last readings before you; the pinion depth was not gauged"
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
				line += " (put right)"
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
		g.row("inspected", strings.Join(seen, " "))
	}
}

// withOldShim says, where a depth shim behind the cup moves the bearings apart, which one
// the old preload shims went with.
func withOldShim(d family.Design) string {
	if d.DepthShim != family.BehindInnerCup {
		return ""
	}
	return ", with the old depth shim,"
}

// rates are how often which fault turns up. With trust they are all that the grader holds
// to be known of an axle before it is read.
func (g *page) rates(c scenarios.Card) {
	g.title("Faults found in 100 axles of this type")
	can := slices.DeleteFunc(slices.Clone(c.Rates), func(r scenarios.Rate) bool { return r.Rate == 0 })
	if len(can) == 0 {
		g.say("  none: the parts of this one are sound.")
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
	g.title("How reliable the old settings are")
	trust := []string{fmt.Sprintf("The old depth shim was right for the old set to about %s. The height of a new bearing differs from the old one by about %s.",
		g.length(scenarios.OldBuildSDMM), g.length(scenarios.BearingHeightSDMM))}
	if c.Family.Sheet.Marks.Known() {
		trust = append(trust, fmt.Sprintf("A depth mark is accurate to about %s.", g.length(scenarios.MarkSDMM)))
	} else {
		trust = append(trust, fmt.Sprintf("Pinions without marks differ by about %s.", g.length(scenarios.UnmarkedSDMM)))
	}
	if d.Preload == family.SolidSpacer {
		trust = append(trust, fmt.Sprintf("The old preload shims%s are right to about %s.", withOldShim(d), g.length(scenarios.OldPreloadShimsSDMM)))
	}
	if d.SideAdjust != family.BearingAdjusters {
		trust = append(trust, fmt.Sprintf("The old side shims put the new ring gear within about %s of its place; their total is right to about %s.",
			g.length(scenarios.OldSplitSDMM), g.length(scenarios.OldTotalSDMM)))
	}
	trust = append(trust, "About two times in three the error is no larger than that.")
	if d.SideAdjust == family.BearingAdjusters {
		play, away := scenarios.RingPlayMM, scenarios.RingAwayMM
		trust = append(trust, fmt.Sprintf("Adjusters run up by hand leave %s of end play in all and the ring gear %s too far away; every figure in that range is equally likely.",
			g.span(play.Low, play.High), g.span(away.Low, away.High)))
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
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	switch st.Pinion {
	case history.PinionOut:
		add("pinion out")
	case history.PinionMockUp:
		add("pinion in (mock-up)")
	case history.PinionFinal:
		add("pinion in (final)")
	}
	if st.DepthShim > 0 {
		add("depth shim %s", st.DepthShim.Show(p.Units()))
	}
	if st.PreloadShims > 0 {
		add("preload shims %s", st.PreloadShims.Show(p.Units()))
	}
	if st.Spread > 0 {
		add("housing spread %s", st.Spread.Show(p.Units()))
	}
	switch {
	case st.CaseIn && st.CapsTight:
		add("case in, caps torqued")
	case st.CaseIn:
		add("case in, caps snug")
	default:
		add("case out")
	}
	if st.RingGearShim > 0 {
		add("side shims ring-gear %s, opposite %s", st.RingGearShim.Show(p.Units()), st.OppositeShim.Show(p.Units()))
	}
	if d.SideAdjust == family.BearingAdjusters && (st.CaseIn || st.RingGearNotches != 0 || st.OppositeNotches != 0) {
		add("ring-gear adjuster %s, opposite %s", ringTurned(st.RingGearNotches), ringTurned(st.OppositeNotches))
	}
	return strings.Join(parts, "; ")
}

// Adjusters says in a line of its own how far bearing adjusters stand from where they were
// run up by hand.
func Adjusters(st history.Status, p Pen) string {
	return Wrap(fmt.Sprintf("Adjusters from hand tight: ring-gear %s, opposite %s.", ringTurned(st.RingGearNotches), ringTurned(st.OppositeNotches)), p.Width, "    ")
}

// Spent writes what the work has cost so far.
func Spent(st history.Status, allowed scenarios.Budget) string {
	s := fmt.Sprintf("%.0f minutes of work", float64(st.Minutes))
	if allowed.Minutes > 0 {
		s += fmt.Sprintf(" of the %.0f allowed", float64(allowed.Minutes))
	}
	of := ""
	if allowed.Parts > 0 {
		of = fmt.Sprintf(" of the %.0f allowed", float64(allowed.Parts))
	}
	if len(st.Parts) == 0 {
		return s + ", no parts."
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
	return fmt.Sprintf("%s, and parts worth %.0f minutes%s: %s.", s, float64(st.PartsMinutes), of, strings.Join(order, ", "))
}
