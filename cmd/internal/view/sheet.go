package view

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// A page gathers what is written to one person: titles, text, and rows of a name and
// what belongs to it.
type page struct {
	text      strings.Builder
	pen       Pen
	blocks    []Block
	anonymous bool // the job's number is not told
}

// A Block is a part of a page as it stands in a browser.
type Block struct {
	Kind BlockKind
	Name string // of a row
	Text string
}

// A BlockKind is what a block is.
type BlockKind int

// The kinds of block.
const (
	HeadingBlock BlockKind = iota
	TitleBlock
	RowBlock
	ItemBlock
	ParagraphBlock
)

func (g *page) block(k BlockKind, name, text string) {
	g.blocks = append(g.blocks, Block{k, name, text})
}

// heading is the page's own title.
func (g *page) heading(text string) {
	g.block(HeadingBlock, "", text)
	g.text.WriteString(g.pen.Heading(text))
}

// item is a line with a share of a hundred before it.
func (g *page) item(share float64, text string) {
	n := fmt.Sprintf("%2.0f", 100*share)
	g.block(ItemBlock, strings.TrimSpace(n), text)
	g.text.WriteString(Hang(text, g.pen.Width, "  "+n+"  ", "      "))
}

// note is a paragraph under a title.
func (g *page) note(text string) {
	g.block(ParagraphBlock, "", text)
	g.text.WriteString(Wrap(text, g.pen.Width, "  "))
}

// rowColumn is where the text of a row starts.
const rowColumn = 20

func (g *page) title(text string) {
	g.block(TitleBlock, "", text)
	g.text.WriteString(Wrap(g.pen.Strong(text), g.pen.Width, ""))
}

func (g *page) say(text string) {
	g.block(ParagraphBlock, "", text)
	g.text.WriteString(Wrap(text, g.pen.Width, ""))
}

func (g *page) row(name, value string) { g.rowWith(name, value, "") }

// rowWith is a row with something more that is said at a terminal alone.
func (g *page) rowWith(name, value, typed string) {
	g.block(RowBlock, name, value)
	g.text.WriteString(g.pen.Field("  "+name, value+typed, rowColumn))
}

func (g *page) notice() {
	g.text.WriteByte('\n')
	g.say(g.pen.Print(family.Notice()))
}

func (g *page) length(mm float64) string { return quantity.Millimetres(mm).Show(g.pen.Units()) }

func (g *page) span(lowMM, highMM float64) string {
	return between(g.pen, g.length(lowMM), g.length(highMM))
}

func (g *page) torque(w family.TorqueSpec) string {
	return between(g.pen, quantity.Torque(w.LowNmm).ShowRotating(g.pen.Units()), quantity.Torque(w.HighNmm).ShowRotating(g.pen.Units()))
}

func (g *page) stock(s family.Stock) string {
	return g.pen.Print(text.Say("view.sheet.by", "{low} by {step}", text.Typed("low", g.span(s.LowMM, s.HighMM)), text.Typed("step", g.length(s.StepMM))))
}

// between writes a range of two amounts with their unit once.
func between(p Pen, low, high string) string {
	lowNumber, lowUnit, _ := strings.Cut(low, " ")
	if _, unit, _ := strings.Cut(high, " "); unit == lowUnit {
		low = lowNumber
	}
	return p.Print(text.Say("view.sheet.between", "{low} to {high}", text.Typed("low", low), text.Typed("high", high)))
}

// sheet is the whole specification sheet as a job needs it.
func (g *page) sheet(c scenarios.Card) {
	g.axle(c.Family)
	g.text.WriteByte('\n')
	g.pinion(c)
	g.text.WriteByte('\n')
	g.sides(c)
}

// axle says what kind of axle it is: what no shim changes.
func (g *page) axle(f family.Family) {
	g.title(g.pen.Print(text.Say("view.sheet.specification-sheet-axle", "Specification sheet {code}: the axle", text.Typed("code", f.Code))))
	g.row(g.pen.Print(text.Say("view.sheet.used", "Used in")), f.Use)
	g.gears(f)
	g.row(g.pen.Print(text.Say("view.sheet.housing", "Housing")), g.pen.Print(housingWords(f.Design.Housing)))
	if f.Notes != "" {
		g.row(g.pen.Print(text.Say("view.sheet.note", "Note")), f.Notes)
	}
}

// gears are the rows that a card and a family's page share.
func (g *page) gears(f family.Family) {
	sh := f.Sheet
	g.row(g.pen.Print(text.Say("view.sheet.ratio", "Ratio")), g.pen.Print(text.Say("view.sheet.ring-gear-teeth-pinion", "{ratio} ({ring_teeth} ring gear teeth, {pinion_teeth} pinion teeth); {pairing}", text.Number("ratio", sh.Ratio(), 3), text.Count("ring_teeth", sh.RingTeeth), text.Count("pinion_teeth", sh.PinionTeeth), text.Of("pairing", pairing(sh.RingTeeth, sh.PinionTeeth)))))
	g.row(g.pen.Print(text.Say("view.sheet.tooth-form", "Tooth form")), g.pen.Print(oppositeWords(f.Design.ToothForm)))
	g.row(g.pen.Print(text.Say("view.sheet.driving-forward", "Driving forward")), g.pen.Print(text.Say("view.sheet.loads-flank-ring-gear", "loads the {drive_flank} side of the ring gear teeth", text.Typed("drive_flank", string(f.Design.DriveFlank)))))
}

// pinion is the part of the sheet that the pinion is set up to.
func (g *page) pinion(c scenarios.Card) {
	f := c.Family
	g.title(g.pen.Print(text.Say("view.sheet.specification-sheet-pinion", "Specification sheet {code}: pinion", text.Typed("code", f.Code))))
	g.height(f.Sheet)
	g.marks(f.Sheet)
	g.depthShim(f)
	g.spacer(f)
	g.nut(f)
	g.row(g.pen.Print(text.Say("view.sheet.pinion-torque", "Pinion torque")), g.pen.Print(text.Say("view.sheet.rotating-torque-oiled-no", "rotating torque {pinion_torque}, oiled, no seal", text.Typed("pinion_torque", g.torque(f.Sheet.PinionTorque(c.UsedBearings))))))
	g.row(g.pen.Print(text.Say("view.sheet.seal-adds", "Seal adds")), g.pen.Print(text.Say("view.sheet.final-assembly", "{seal_drag}, in final assembly", text.Typed("seal_drag", g.torque(f.Sheet.SealDrag)))))
}

// sides is the part of the sheet that case and ring gear are set up to.
func (g *page) sides(c scenarios.Card) {
	g.title(g.pen.Print(text.Say("view.sheet.specification-sheet-case", "Specification sheet {code}: case and ring gear", text.Typed("code", c.Family.Code))))
	g.sideAdjustment(c.Family)
	g.sidePreload(c.Family)
	g.row(g.pen.Print(text.Say("view.sheet.total-torque", "Total torque")), g.pen.Print(text.Say("view.sheet.pinion-rotating-torque-plus", "pinion rotating torque plus {side_rise}", text.Typed("side_rise", g.torque(c.Family.Sheet.SideRise(c.UsedBearings))))))
	g.ringGear(c.Family.Sheet, c.UsedGears)
	g.travel(c.Known.BacklashPerTravel, c.Known.BacklashPerPinion)
}

func (g *page) height(sh family.Sheet) {
	// A plus brings the pinion in where it adds shim under the inner bearing, and out
	// where the mark says how far out the pinion runs.
	prose := g.pen.Print(text.Say("view.sheet.pinion-face-ring-gear", "pinion face to ring gear centerline"))
	switch sh.Marks {
	case setup.PlusAddsShim:
		prose += g.pen.Print(text.Say("view.sheet.for-pinion-marked-0", " for a pinion marked 0; a plus mark asks for that much less"))
	case setup.PlusTakesShimAway, setup.PlusThickensCageShim:
		prose += g.pen.Print(text.Say("view.sheet.for-pinion-marked-0-2", " for a pinion marked 0; a plus mark asks for that much more"))
	}
	g.row(g.pen.Print(text.Say("view.sheet.pinion-depth", "Pinion depth")), g.pen.Print(text.Say("view.sheet.checking-distance-within", "checking distance {checking_distance}, within {depth_tolerance}: {prose}", text.Typed("checking_distance", g.length(sh.CheckingDistanceMM)), text.Typed("depth_tolerance", g.length(sh.DepthToleranceMM)), text.Typed("prose", prose))))
}

func (g *page) depthShim(f family.Family) {
	way := g.pen.Print(text.Say("view.sheet.thicker-deeper-closer-centerline", "thicker = deeper (closer to the centerline)"))
	if !f.Design.ThickerIsDeeper() {
		way = g.pen.Print(text.Say("view.sheet.thicker-shallower-farther-from", "thicker = shallower (farther from the centerline)"))
	}
	if f.Design.Preload == family.SolidSpacer && f.Design.DepthShim == family.BehindInnerCup {
		way += g.pen.Print(text.Say("view.sheet.thicker-one-needs-as", "; a thicker one needs as much more in preload shims"))
	}
	g.row(g.pen.Print(text.Say("view.sheet.depth-shim", "Depth shim")), g.pen.Print(text.Say("view.sheet.shelf", "{depth_words}; {way}; on the shelf {depth_shims}", text.Of("depth_words", depthWords(f.Design.DepthShim)), text.Typed("way", way), text.Typed("depth_shims", g.stock(f.Sheet.DepthShims)))))
}

func (g *page) spacer(f family.Family) {
	if f.Design.Preload == family.SolidSpacer {
		g.row(g.pen.Print(text.Say("view.sheet.spacer", "Spacer")), g.pen.Print(text.Say("view.sheet.solid-preload-shims-thicker", "solid; preload shims: thicker = less preload; on the shelf {preload_shims}", text.Typed("preload_shims", g.stock(f.Design.Solid.PreloadShims)))))
		return
	}
	g.row(g.pen.Print(text.Say("view.sheet.spacer", "Spacer")), g.pen.Print(text.Say("view.sheet.collapsible-free-length-new", "collapsible, free length {spacer_length}; a new one for each final assembly", text.Typed("spacer_length", g.length(f.Sheet.SpacerLengthMM)))))
}

func (g *page) nut(f family.Family) {
	way := g.pen.Print(text.Say("view.sheet.usually-crushes-good-spacer", " usually crushes a good spacer; the rotating torque decides"))
	if f.Design.Preload == family.SolidSpacer {
		way = g.pen.Print(text.Say("view.sheet.tighten-middle-read-rotating", ": tighten to the middle and read the rotating torque; change the preload shims to correct it"))
	}
	g.row(g.pen.Print(text.Say("view.sheet.pinion-nut", "Pinion nut")), between(g.pen, f.Sheet.NutLow.ShowFastener(g.pen.Units()), f.Sheet.NutHigh.ShowFastener(g.pen.Units()))+way)
}

func (g *page) sideAdjustment(f family.Family) {
	d := f.Design
	switch d.SideAdjust {
	case family.BearingAdjusters:
		g.row(g.pen.Print(text.Say("view.sheet.bearing-adjusters", "Bearing adjusters")), g.pen.Print(text.Say("view.sheet.notches-thread-pitch-one", "{notches} notches, thread pitch {pitch}: one notch moves a bearing cup {notch_travel}, half notches lock too; in on the ring-gear side = closer to the pinion", text.Count("notches", d.Rings.Notches), text.Typed("pitch", g.length(d.Rings.PitchMM)), text.Typed("notch_travel", g.length(d.Rings.NotchTravelMM())))))
		return
	case family.InsideShims:
		g.row(g.pen.Print(text.Say("view.sheet.side-shims", "Side shims")), g.pen.Print(text.Say("view.sheet.inside-behind-side-bearing", "inside, behind the side bearing cones on the case; {side_stock}", text.Typed("side_stock", sideStock(g, f)))))
	default:
		g.row(g.pen.Print(text.Say("view.sheet.side-shims", "Side shims")), g.pen.Print(text.Say("view.sheet.outside-between-side-bearing", "outside, between side bearing cup and housing; {side_stock}", text.Typed("side_stock", sideStock(g, f)))))
	}
}

func sideStock(g *page, f family.Family) string {
	return g.pen.Print(text.Say("view.sheet.thicker-ring-gear-side", "thicker on the ring-gear side = closer to the pinion; on the shelf {side_shims}", text.Typed("side_shims", g.stock(f.Sheet.SideShims))))
}

func (g *page) sidePreload(f family.Family) {
	w, limit := f.Sheet.SidePreload, g.length(f.Sheet.SpreadLimitMM)
	prose := g.pen.Print(text.Say("view.sheet.both-sides-together-over", "both sides together {low} over zero end play", text.Typed("low", g.span(w.LowMM, w.HighMM))))
	low, errLow := carrier.Solve(f.Sides(), w.LowMM/2, w.LowMM/2)
	high, errHigh := carrier.Solve(f.Sides(), w.HighMM/2, w.HighMM/2)
	if errLow == nil && errHigh == nil {
		prose += g.pen.Print(text.Say("view.sheet.which-spreads-housing-by", ", which spreads the housing by about {spread}", text.Typed("spread", g.span(low.SpreadMM, high.SpreadMM))))
	}
	if f.Design.Entry == family.Spreader {
		g.row(g.pen.Print(text.Say("view.sheet.side-preload", "Side preload")), g.pen.Print(text.Say("view.sheet.case-goes-spreader-never", "{prose}; the case goes in with a spreader: never spread past {limit}", text.Typed("prose", prose), text.Typed("limit", limit))))
		return
	}
	g.row(g.pen.Print(text.Say("view.sheet.side-preload", "Side preload")), g.pen.Print(text.Say("view.sheet.never-spread-past", "{prose}; never spread past {limit}", text.Typed("prose", prose), text.Typed("limit", limit))))
}

func (g *page) ringGear(sh family.Sheet, used bool) {
	where := g.pen.Print(text.Say("view.sheet.heel-square-tooth", "at the heel, square to the tooth"))
	if used {
		where = g.pen.Print(text.Say("view.sheet.about-where-this-set", "(about where this set ran) {where}", text.Typed("where", where)))
	}
	g.row(g.pen.Print(text.Say("view.sheet.cap-bolts", "Cap bolts")), sh.CapTorque.ShowFastener(g.pen.Units()))
	g.row(g.pen.Print(text.Say("view.sheet.runout", "Runout")), g.pen.Print(text.Say("view.sheet.ring-gear-back-face", "ring gear back face {runout}, bare case flange {case_flange_runout} at most", text.Typed("runout", g.length(sh.RunoutMM)), text.Typed("case_flange_runout", g.length(sh.CaseFlangeRunoutMM)))))
	g.row(g.pen.Print(text.Say("view.sheet.backlash", "Backlash")), g.pen.Print(text.Say("view.sheet.variation-most", "{low} {where}; variation {backlash_spread} at most", text.Typed("low", g.span(sh.Backlash.LowMM, sh.Backlash.HighMM)), text.Typed("where", where), text.Typed("backlash_spread", g.length(sh.BacklashSpreadMM)))))
	g.row(g.pen.Print(text.Say("view.sheet.pattern", "Pattern")), g.pen.Print(text.Say("view.sheet.centered-way-from-root", "centered {low_mm} to {high_mm} of the way from root to top, the mean of drive and coast; clear of toe and heel", text.Number("low_mm", sh.PatternHeight.LowMM, 2), text.Number("high_mm", sh.PatternHeight.HighMM, 2))))
}

// travel says what a move of ring gear or pinion does to the backlash, by the geometry of the
// family's teeth: what technician, lessons and grade reckon with.
func (g *page) travel(perRing, perPinion float64) {
	if perRing > 0 {
		g.row(g.pen.Print(text.Say("view.sheet.travel", "Travel")), g.pen.Print(text.Say("sheet.travel", "{gear} of the ring gear's travel shows as backlash, {pinion} of the pinion's",
			text.Number("gear", perRing, 2), text.Number("pinion", perPinion, 2))))
	}
}
