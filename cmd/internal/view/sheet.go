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
	return between(g.length(lowMM), g.length(highMM))
}

func (g *page) torque(w family.TorqueSpec) string {
	return between(quantity.Torque(w.LowNmm).ShowRotating(g.pen.Units()), quantity.Torque(w.HighNmm).ShowRotating(g.pen.Units()))
}

func (g *page) stock(s family.Stock) string {
	return fmt.Sprintf("%s by %s", g.span(s.LowMM, s.HighMM), g.length(s.StepMM))
}

// between writes a range of two amounts with their unit once.
func between(low, high string) string {
	lowNumber, lowUnit, _ := strings.Cut(low, " ")
	if _, unit, _ := strings.Cut(high, " "); unit == lowUnit {
		low = lowNumber
	}
	return low + " to " + high
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
	g.title(fmt.Sprintf("Specification sheet %s: the axle", f.Code))
	g.row("Used in", f.Use)
	g.gears(f)
	g.row("Housing", housingWords(f.Design.Housing))
	if f.Notes != "" {
		g.row("Note", f.Notes)
	}
}

// gears are the rows that a card and a family's page share.
func (g *page) gears(f family.Family) {
	sh := f.Sheet
	g.row("Ratio", fmt.Sprintf("%.3f (%d ring gear teeth, %d pinion teeth); %s", sh.Ratio(), sh.RingTeeth, sh.PinionTeeth, pairing(sh.RingTeeth, sh.PinionTeeth)))
	g.row("Tooth form", oppositeWords(f.Design.ToothForm))
	g.row("Driving forward", fmt.Sprintf("loads the %s flank of the ring gear teeth", f.Design.DriveFlank))
}

// pinion is the part of the sheet that the pinion is set up to.
func (g *page) pinion(c scenarios.Card) {
	f := c.Family
	g.title(fmt.Sprintf("Specification sheet %s: pinion", f.Code))
	g.height(f.Sheet)
	g.marks(f.Sheet)
	g.depthShim(f)
	g.spacer(f)
	g.nut(f)
	g.row("Pinion torque", "rotating torque "+g.torque(f.Sheet.PinionTorque(c.UsedBearings))+", oiled, no seal")
	g.row("Seal adds", g.torque(f.Sheet.SealDrag)+", in final assembly")
}

// sides is the part of the sheet that case and ring gear are set up to.
func (g *page) sides(c scenarios.Card) {
	g.title(fmt.Sprintf("Specification sheet %s: case and ring gear", c.Family.Code))
	g.sideAdjustment(c.Family)
	g.sidePreload(c.Family)
	g.row("Total torque", "pinion rotating torque plus "+g.torque(c.Family.Sheet.SideRise(c.UsedBearings)))
	g.ringGear(c.Family.Sheet, c.UsedGears)
	g.travel(c.Known.BacklashPerTravel, c.Known.BacklashPerPinion)
}

func (g *page) height(sh family.Sheet) {
	// A plus brings the pinion in where it adds shim under the inner bearing, and out
	// where the mark says how far out the pinion runs.
	text := "pinion face to ring gear centerline"
	switch sh.Marks {
	case setup.PlusAddsShim:
		text += " for a pinion marked 0; a plus mark asks for that much less"
	case setup.PlusTakesShimAway, setup.PlusThickensCageShim:
		text += " for a pinion marked 0; a plus mark asks for that much more"
	}
	g.row("Pinion depth", fmt.Sprintf("checking distance %s, within %s: %s", g.length(sh.CheckingDistanceMM), g.length(sh.DepthToleranceMM), text))
}

func (g *page) depthShim(f family.Family) {
	way := "thicker = deeper (closer to the centerline)"
	if !f.Design.ThickerIsDeeper() {
		way = "thicker = shallower (farther from the centerline)"
	}
	if f.Design.Preload == family.SolidSpacer && f.Design.DepthShim == family.BehindInnerCup {
		way += "; a thicker one needs as much more in preload shims"
	}
	g.row("Depth shim", fmt.Sprintf("%s; %s; on the shelf %s", depthWords(f.Design.DepthShim), way, g.stock(f.Sheet.DepthShims)))
}

func (g *page) spacer(f family.Family) {
	if f.Design.Preload == family.SolidSpacer {
		g.row("Spacer", fmt.Sprintf("solid; preload shims: thicker = less preload; on the shelf %s", g.stock(f.Design.Solid.PreloadShims)))
		return
	}
	g.row("Spacer", fmt.Sprintf("collapsible, free length %s; a new one for each final assembly", g.length(f.Sheet.SpacerLengthMM)))
}

func (g *page) nut(f family.Family) {
	way := " usually crushes a good spacer; the rotating torque decides"
	if f.Design.Preload == family.SolidSpacer {
		way = ": tighten to the middle and read the rotating torque; change the preload shims to correct it"
	}
	g.row("Pinion nut", between(f.Sheet.NutLow.ShowFastener(g.pen.Units()), f.Sheet.NutHigh.ShowFastener(g.pen.Units()))+way)
}

func (g *page) sideAdjustment(f family.Family) {
	d := f.Design
	switch d.SideAdjust {
	case family.BearingAdjusters:
		g.row("Bearing adjusters", fmt.Sprintf("%d notches, thread pitch %s: one notch moves a bearing cup %s, half notches lock too; in on the ring-gear side = closer to the pinion", d.Rings.Notches, g.length(d.Rings.PitchMM), g.length(d.Rings.NotchTravelMM())))
		return
	case family.InsideShims:
		g.row("Side shims", "inside, behind the side bearing cones on the case; "+sideStock(g, f))
	default:
		g.row("Side shims", "outside, between side bearing cup and housing; "+sideStock(g, f))
	}
}

func sideStock(g *page, f family.Family) string {
	return "thicker on the ring-gear side = closer to the pinion; on the shelf " + g.stock(f.Sheet.SideShims)
}

func (g *page) sidePreload(f family.Family) {
	w, limit := f.Sheet.SidePreload, g.length(f.Sheet.SpreadLimitMM)
	text := fmt.Sprintf("both sides together %s over zero end play", g.span(w.LowMM, w.HighMM))
	low, errLow := carrier.Solve(f.Sides(), w.LowMM/2, w.LowMM/2)
	high, errHigh := carrier.Solve(f.Sides(), w.HighMM/2, w.HighMM/2)
	if errLow == nil && errHigh == nil {
		text += fmt.Sprintf(", which spreads the housing by about %s", g.span(low.SpreadMM, high.SpreadMM))
	}
	if f.Design.Entry == family.Spreader {
		g.row("Side preload", text+"; the case goes in with a spreader: never spread past "+limit)
		return
	}
	g.row("Side preload", text+"; never spread past "+limit)
}

func (g *page) ringGear(sh family.Sheet, used bool) {
	where := "at the heel, square to the tooth"
	if used {
		where = "(about where this set ran) " + where
	}
	g.row("Cap bolts", sh.CapTorque.ShowFastener(g.pen.Units()))
	g.row("Runout", fmt.Sprintf("ring gear back face %s, bare case flange %s at most", g.length(sh.RunoutMM), g.length(sh.CaseFlangeRunoutMM)))
	g.row("Backlash", fmt.Sprintf("%s %s; variation %s at most", g.span(sh.Backlash.LowMM, sh.Backlash.HighMM), where, g.length(sh.BacklashSpreadMM)))
	g.row("Pattern", fmt.Sprintf("centered %.2f to %.2f of the way from root to top, the mean of drive and coast; clear of toe and heel", sh.PatternHeight.LowMM, sh.PatternHeight.HighMM))
}

// travel says what a move of ring gear or pinion does to the backlash, by the geometry of the
// family's teeth: what technician, lessons and grade reckon with.
func (g *page) travel(perRing, perPinion float64) {
	if perRing > 0 {
		g.row("Travel", g.pen.Print(text.Say("sheet.travel", "{gear} of the ring gear's travel shows as backlash, {pinion} of the pinion's",
			text.Number("gear", perRing, 2), text.Number("pinion", perPinion, 2))))
	}
}
