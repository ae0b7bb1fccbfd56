package lessons_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/lessons/figure"
	"shimwright/scenarios/misconception"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

func shipped(t *testing.T, code string) family.Family {
	t.Helper()
	f, err := family.Shipped(code)
	require.NoError(t, err)
	return f
}

func body(t *testing.T, id string) string {
	t.Helper()
	l, err := lessons.Find(id)
	require.NoError(t, err)
	return figure.Prose(l.Body)
}

// gains are a family's nominal sensitivities with new bearings.
func gains(t *testing.T, code string) sim.Gains {
	t.Helper()
	g, err := sim.NominalGains(shipped(t, code), false)
	require.NoError(t, err)
	return g
}

// perThou is what a thousandth of preload shims is worth, lb-in.
func perThou(t *testing.T, code string, used bool) float64 {
	t.Helper()
	g, err := sim.NominalGains(shipped(t, code), used)
	require.NoError(t, err)
	return quantity.Torque(g.TorquePerPreloadShimNmmPerMM * quantity.Thou(1).MM()).InchPounds()
}

// climb is how far up the tooth the pattern goes for a thousandth of pinion travel, a
// share of the tooth's height.
func climb(t *testing.T, code string) float64 {
	t.Helper()
	return gains(t, code).PatternHeightPerPinion * quantity.Thou(1).MM()
}

func inch(mm float64) float64 { return quantity.Millimetres(mm).Inches() }

func lbIn(nmm float64) float64 { return quantity.Torque(nmm).InchPounds() }

// torques and lengths write a spec as the lessons do, to so many decimals.
func torques(s family.TorqueSpec, decimals int) string {
	return fmt.Sprintf("%.*f-%.*f lb-in (", decimals, lbIn(s.LowNmm), decimals, lbIn(s.HighNmm))
}

func lengths(s family.Spec, decimals int) string {
	return fmt.Sprintf("%.*f-%.*f in (", decimals, inch(s.LowMM), decimals, inch(s.HighMM))
}

func length(mm float64, decimals int) string { return fmt.Sprintf("%.*f in (", decimals, inch(mm)) }

// Every figure of a family that a lesson works with is the family's own: what its sheet
// says, or what the model makes of it.
func TestFiguresAreTheFamilies(t *testing.T) {
	alder, beech, cedar, dogwood, elm := shipped(t, "ALDER"), family.Beech(), shipped(t, "CEDAR"), shipped(t, "DOGWOOD"), shipped(t, "ELM")
	fir, gorse, hazel, juniper := shipped(t, "FIR"), shipped(t, "GORSE"), shipped(t, "HAZEL"), shipped(t, "JUNIPER")
	b := beech.Sheet
	teeth := fmt.Sprintf("%d / %d = %.2f", b.RingTeeth, b.PinionTeeth, b.Ratio())
	newBearings, usedBearings := torques(b.PinionTorqueNew, 0), torques(b.PinionTorqueUsed, 0)
	lash := lengths(b.Backlash, 3)
	notches := func(f family.Family) string {
		r := f.Design.Rings
		return fmt.Sprintf("%d notches on a pitch of %.4f in (%.2f mm)", r.Notches, inch(r.PitchMM), r.PitchMM)
	}
	notch := func(f family.Family) string {
		r := f.Design.Rings
		return fmt.Sprintf("%.4f / %d = %.4f in (", inch(r.PitchMM), r.Notches, inch(r.NotchTravelMM()))
	}
	third := func(f family.Family) bool {
		g := gains(t, f.Code)
		return math.Abs(g.BacklashPerPinion-1.0/3) < 0.07
	}
	require.True(t, third(beech) && third(elm) && third(fir), "a third of the pinion's travel shows as backlash")

	quoted := map[string][]string{
		"hear-first": {teeth, fmt.Sprintf("8 × %d = %d contacts", b.RingTeeth, 8*b.RingTeeth)},
		"read-before-strip": {usedBearings, fmt.Sprintf("at least %.0f lb-in (", lbIn(b.SideRiseUsed.LowNmm)),
			fmt.Sprintf("the seal at least %.0f lb-in (", lbIn(b.SealDrag.LowNmm))},
		"teardown":         {lengths(hazel.Sheet.Backlash, 3), "by " + length(hazel.Sheet.SpreadLimitMM, 3)},
		"reuse-or-replace": {newBearings, usedBearings, fmt.Sprintf("bearings, %.0f lb-in (", lbIn(b.PinionTorqueNew.Mid()))},
		"inspect-first":    {"allows " + length(b.DepthToleranceMM, 4)},
		"preload-design": {fmt.Sprintf("nut %.0f-%.0f lb-ft", elm.Sheet.NutLow.FootPounds(), elm.Sheet.NutHigh.FootPounds()),
			fmt.Sprintf("2 = %.0f lb-ft (", elm.Sheet.NutMid().FootPounds()),
			notches(elm), notch(elm)},
		"matched-set": {fmt.Sprintf("%d / %d = %.2f", juniper.Sheet.RingTeeth, juniper.Sheet.PinionTeeth, juniper.Sheet.Ratio()),
			fmt.Sprintf("only %d of the %d", juniper.Sheet.RingTeeth/gcd(juniper.Sheet.RingTeeth, juniper.Sheet.PinionTeeth), juniper.Sheet.RingTeeth),
			fmt.Sprintf("BEECH has %d and %d", b.RingTeeth, b.PinionTeeth)},
		"ring-gear-bolts": {length(b.CaseFlangeRunoutMM, 3) + "0.05 mm) at the bare case flange", length(b.RunoutMM, 4) + "0.06 mm) at the back face"},
		"pressing":        {"off by " + length(gorse.Sheet.DepthToleranceMM, 4)},
		"depth-mark":      {"off by " + length(b.DepthToleranceMM, 4), shimSum(t, beech, 30, 1, 3), shimSum(t, beech, 33, 2, -1)},
		"depth-gauge":     {"distance is " + length(b.CheckingDistanceMM, 4), "wanted " + length(b.CheckingDistanceMM, 4)},
		"cage-shim":       {"allows " + length(elm.Sheet.DepthToleranceMM, 4), fmt.Sprintf("%.4f in (", inch(dogwood.Sheet.DepthShims.Nearest(0.6)))},
		"cup-shim": {fmt.Sprintf("about %.0f lb-in (", perThou(t, "HAZEL", false)), fmt.Sprintf("HAZEL again, %.0f lb-in (", lbIn(hazel.Sheet.PinionTorqueNew.Mid())),
			fmt.Sprintf("spec is %.0f lb-in (", lbIn(hazel.Sheet.PinionTorqueNew.HighNmm-hazel.Sheet.PinionTorqueNew.LowNmm)),
			fmt.Sprintf("tighten nut to %.0f lb-ft", hazel.Sheet.NutMid().FootPounds())},
		"mock-up":      {"where " + length(b.CheckingDistanceMM, 4), fmt.Sprintf("climbs by %.3f of the tooth", climb(t, "BEECH"))},
		"crush-spacer": {newBearings, fmt.Sprintf("about %.1f lb-in (", lbIn(gains(t, "BEECH").TorquePerDegreeNmm)), fmt.Sprintf("%.0f-%.0f lb-ft", b.NutLow.FootPounds(), b.NutHigh.FootPounds())},
		"solid-spacer": {torques(cedar.Sheet.PinionTorqueNew, 0), fmt.Sprintf("The nut goes to %.0f lb-ft (", cedar.Sheet.NutMid().FootPounds()),
			fmt.Sprintf("= %.1f lb-in (", math.Floor(2*perThou(t, "CEDAR", false))/2)},
		"rotating-torque": {newBearings, usedBearings, fmt.Sprintf("%.0f to %.0f %% above", 100*(beech.Model.Breakaway.Low-1), 100*(beech.Model.Breakaway.High-1))},
		"seal-and-nut":    {newBearings, usedBearings, torques(b.SealDrag, 1)},
		"side-total":      {"preload " + lengths(b.SidePreload, 3), "spec: " + length(b.SidePreload.Mid(), 3), "steps of " + length(b.SideShims.StepMM, 3)},
		"side-shims":      {"backlash " + lash, "steps of " + length(b.SideShims.StepMM, 3), "middle, " + length(b.Backlash.Mid(), 4)},
		"bearing-adjusters": {notches(dogwood), notch(dogwood),
			"Preload " + lengths(dogwood.Sheet.SidePreload, 4), "backlash " + lengths(dogwood.Sheet.Backlash, 4),
			fmt.Sprintf("about %.2f of the travel", gains(t, "DOGWOOD").BacklashPerRing)},
		"spread-and-caps": {"limit " + length(hazel.Sheet.SpreadLimitMM, 3), "preload " + lengths(hazel.Sheet.SidePreload, 3),
			fmt.Sprintf("shows %.2f of the preload", gains(t, "HAZEL").SpreadPerFit)},
		"backlash-reading": {"invented: " + lash, "up to " + length(b.BacklashSpreadMM, 3), fmt.Sprintf("about %.0f %% on BEECH", 10*math.Round(10*readsLow(beech)))},
		"runout":           {"variation up to " + length(b.BacklashSpreadMM, 3), "back face " + length(b.RunoutMM, 4), "flange " + length(b.CaseFlangeRunoutMM, 3)},
		"total-torque":     {teeth, torques(b.SideRiseNew, 1)},
		"used-gears":       {"new sets " + lash},
		"make-a-pattern":   {teeth, fmt.Sprintf("45 × %.2f = %.0f lb-ft", b.Ratio(), 45*b.Ratio())},
		"depth-height":     {fmt.Sprintf("about %.3f of the tooth", climb(t, "BEECH"))},
		"pattern-table":    {"backlash " + lengths(fir.Sheet.Backlash, 3), fmt.Sprintf("%.4f of the tooth", climb(t, "FIR")), fmt.Sprintf("about %.1f of that", gains(t, "FIR").BacklashPerPinion)},
		"which-side-drives": {drift(t, "BEECH", "drive", "convex", "heel"), drift(t, "BEECH", "coast", "concave", "toe"),
			drift(t, "CEDAR", "drive", "concave", "toe"), drift(t, "CEDAR", "coast", "convex", "heel")},
		"trust-instruments": {newBearings, adapter(t, 200, 24, 6)},
		"check-again":       {"backlash " + lash},
		"close-up":          {fmt.Sprintf("caps at %.0f lb-ft (", dogwood.Sheet.CapTorque.FootPounds())},
		"first-miles": {torques(alder.Sheet.PinionTorqueNew, 1), torques(alder.Sheet.PinionTorqueUsed, 1),
			"takes " + length((&assembly.Axle{Fam: alder, WarmK: 10}).SideGrowthByHeatMM(), 4)},
	}
	for _, l := range lessons.All() {
		assert.NotEmpty(t, quoted[l.ID], "%s works with no figure of its family", l.ID)
		for _, f := range quoted[l.ID] {
			assert.Contains(t, figure.Prose(l.Body), f, l.ID)
		}
	}
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// shimSum is the sum for a depth shim from marks in thousandths, as a lesson writes it.
func shimSum(t *testing.T, f family.Family, oldThou, oldMark, newMark float64) string {
	t.Helper()
	thou := func(x float64) float64 { return quantity.Thou(x).MM() }
	got := setup.DepthShimMM(f.Sheet.Marks, thou(oldThou), thou(oldMark), thou(newMark))
	sign := map[bool]string{true: "+", false: "-"}
	return fmt.Sprintf("%.3f %s %.3f %s %.3f = %.3f in (", oldThou/1000, sign[f.Sheet.Marks != setup.PlusAddsShim], oldMark/1000,
		sign[newMark > 0], math.Abs(newMark)/1000, inch(got))
}

// readsLow is by which share backlash reads low at the toe.
func readsLow(f family.Family) float64 {
	outer := f.Model.Gears.RingDiameterMM / 2
	return f.Model.Gears.FaceWidthMM / outer
}

// drift is a row of the table of how the pattern moves along the tooth when the pinion
// stands 0.004 in too far out: 0 is the toe.
func drift(t *testing.T, code, name, shape, end string) string {
	t.Helper()
	f := shipped(t, code)
	set, err := sim.Gears(f)
	require.NoError(t, err)
	flank := f.Design.Flanks()[map[string]int{"drive": 0, "coast": 1}[name]]
	require.Equal(t, map[mesh.Flank]string{mesh.Drive: "convex", mesh.Coast: "concave"}[flank], shape)
	const thinFilmMM = 0.0102
	along := func(out float64) float64 {
		c := set.NewContact()
		require.NoError(t, c.Move(mesh.Position{PinionOutMM: out}))
		return c.Pattern(flank, thinFilmMM).CenterS
	}
	return fmt.Sprintf("| %s %s (%s) | %.2f | %.2f | to the %s |", code, name, shape, along(0), along(quantity.Thou(4).MM()), end)
}

// adapter is the sum for the setting of a torque wrench with a straight adapter.
func adapter(t *testing.T, wanted, wrench, extension float64) string {
	t.Helper()
	in := quantity.Inches
	set, err := setup.WrenchSettingNmm(quantity.FootPounds(wanted).Nmm(), in(wrench).MM(), in(extension).MM(), 0)
	require.NoError(t, err)
	return fmt.Sprintf("%.0f × %.0f / %.0f = %.0f lb-ft (", wanted, wrench, wrench+extension, quantity.Torque(set).FootPounds())
}

// What the lessons give as the practice model's figures for many axles is what the model
// gives.
func TestModelFigures(t *testing.T) {
	solid := body(t, "solid-spacer")
	var small []float64
	for _, code := range []string{"CEDAR", "FIR", "HAZEL"} {
		small = append(small, perThou(t, code, false))
	}
	assert.Contains(t, solid, fmt.Sprintf("by %.0f-%.0f lb-in (", math.Floor(slices.Min(small)), math.Ceil(slices.Max(small))))
	for _, code := range []string{"ELM", "IRONBARK"} {
		assert.Regexp(t, fmt.Sprintf(`by about %.0f lb-in \([^)]+\) on %s`, perThou(t, code, false), code), solid)
	}
	// The table groups families: each within a seventh of its row.
	for _, f := range family.Shelf() {
		row := regexp.MustCompile(`\|[A-Z, ]*\b` + f.Code + `\b[A-Z, ]*\| (0\.\d+) \|`).FindStringSubmatch(body(t, "depth-height"))
		require.Len(t, row, 2, f.Code)
		share, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err)
		assert.InEpsilon(t, climb(t, f.Code), share, 1.0/7, f.Code)
	}
	least, most := 1.0, 0.0
	light, heavy := 0.0, 0.0
	var rises []float64
	for _, f := range family.Shelf() {
		g := gains(t, f.Code)
		if f.Design.Preload == family.SolidSpacer {
			share := perThou(t, f.Code, true) / perThou(t, f.Code, false)
			least, most = math.Min(least, share), math.Max(most, share)
		}
		if f.Model.Gears.RingDiameterMM < 255 {
			light = math.Max(light, g.BacklashPerRing)
			assert.Greater(t, g.BacklashPerRing, 0.68, f.Code)
			rises = append(rises, lbIn(f.Sheet.SideRiseNew.LowNmm), lbIn(f.Sheet.SideRiseNew.HighNmm))
		} else {
			heavy = math.Max(heavy, g.BacklashPerRing)
		}
	}
	const tens = 0.1
	assert.Contains(t, solid, fmt.Sprintf("around %.0f-%.0f %%", 100*math.Round(least/tens)*tens, 100*math.Round(most/tens)*tens))
	assert.Contains(t, body(t, "side-shims"), fmt.Sprintf("light axles show 0.7 to %.1f, and heavy ones up to %.2f", light, heavy))
	assert.Contains(t, body(t, "total-torque"), fmt.Sprintf("about %.0f-%.0f lb-in (", math.Round(slices.Min(rises)), math.Round(slices.Max(rises))))
}

// A lesson on one design lists the families of that design in its header and names them
// in its idea.
func TestDesignsAreTheFamilies(t *testing.T) {
	for id, about := range map[string]func(family.Family) bool{
		"depth-mark":        func(f family.Family) bool { return f.Sheet.Marks.Known() },
		"cage-shim":         func(f family.Family) bool { return f.Design.DepthShim == family.UnderCageFlange },
		"cup-shim":          func(f family.Family) bool { return f.Design.DepthShim == family.BehindInnerCup },
		"crush-spacer":      func(f family.Family) bool { return f.Design.Preload == family.CollapsibleSpacer },
		"solid-spacer":      func(f family.Family) bool { return f.Design.Preload == family.SolidSpacer },
		"side-total":        func(f family.Family) bool { return f.Design.SideAdjust != family.BearingAdjusters },
		"side-shims":        func(f family.Family) bool { return f.Design.SideAdjust != family.BearingAdjusters },
		"bearing-adjusters": func(f family.Family) bool { return f.Design.SideAdjust == family.BearingAdjusters },
	} {
		var want []string
		for _, f := range family.Shelf() {
			if about(f) {
				want = append(want, f.Code)
			}
		}
		l, err := lessons.Find(id)
		require.NoError(t, err)
		assert.Equal(t, want, l.Designs, id)
		if !slices.Contains([]string{"depth-mark", "side-total", "side-shims"}, id) {
			named := strings.Join(want[:len(want)-1], ", ") + " and " + want[len(want)-1]
			assert.Contains(t, figure.Prose(l.Body), named, id)
		}
	}
	for _, l := range lessons.All() {
		for _, code := range append(l.Designs, l.TryFamily) {
			shipped(t, code)
		}
	}
}

// Every misconception that the grader can name has a lesson that answers it, and no
// lesson names one that does not exist.
func TestMisconceptionsAreKnown(t *testing.T) {
	var known, answered []string
	for _, m := range misconception.All() {
		known = append(known, m.ID)
	}
	for _, l := range lessons.All() {
		assert.NotEmpty(t, l.Misconceptions, l.ID)
		for _, id := range l.Misconceptions {
			assert.Contains(t, known, id, l.ID)
			answered = append(answered, id)
		}
	}
	for _, id := range known {
		assert.Contains(t, answered, id, "no lesson answers it")
	}
}

// What a lesson tells to type can be typed: an act, the beginning of one that takes an
// amount, another lesson, or a word of the session.
func TestWhatIsTypedIsKnown(t *testing.T) {
	span := regexp.MustCompile("`([^`]+)`")
	others := []string{"card", "card pinion", "record", "total = pinion alone + side bearings / ratio"}
	acts := 0
	for _, l := range lessons.All() {
		for _, m := range span.FindAllStringSubmatch(figure.Prose(l.Body), -1) {
			typed := m[1]
			if _, err := lessons.Find(typed); err == nil || slices.Contains(others, typed) {
				continue
			}
			begins := slices.ContainsFunc(act.Usages(), func(u act.Usage) bool {
				return strings.HasPrefix(u.Line, typed+" {") || strings.HasPrefix(u.Line, typed+" ring-gear {")
			})
			if _, err := act.Parse(typed, quantity.Inch); err != nil && !begins && typed != "record pattern" {
				assert.NoError(t, err, "%s: %s", l.ID, typed)
			}
			acts++
		}
	}
	assert.Greater(t, acts, 150, "the search for acts has gone blind")
}
