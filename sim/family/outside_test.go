package family_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/carrier"
	"shimwright/sim/checkstest"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// truck reports whether a sheet is a truck's: a ring gear of a foot and more.
func truck(f family.Family) bool { return f.Model.Gears.RingDiameterMM > 300 }

// Sheets against published limits of machines of their kind. A sheet is invented and
// belongs to no published axle; what is compared is the kind of figure. Sources and
// strengths stand in testdata/checks/trade-practice.csv, differences in remarks.csv.
func TestSheetsAgainstPublishedLimits(t *testing.T) {
	inches := func(mm float64) float64 { return quantity.Millimetres(mm).Inches() }
	beech := family.Beech().Sheet
	floor, runout, stretch, spread, strictest := math.Inf(1), 0.0, 0.0, 0.0, math.Inf(1)
	for _, f := range family.Shelf() {
		s, m := f.Sheet, f.Model
		floor = min(floor, s.Backlash.LowMM/m.Gears.RingDiameterMM)
		strictest = min(strictest, s.RunoutMM)
		if truck(f) {
			runout = max(runout, s.RunoutMM)
			continue
		}
		// The most a housing is stretched: the tightest shims between the softest pedestals.
		c := carrier.Params{Back: m.Side, Tooth: m.Side, RingGearPedestalNPerMM: m.PedestalNPerMM.Low, OppositePedestalNPerMM: m.PedestalNPerMM.Low, CapsTight: true}
		st, err := carrier.Solve(c, s.SidePreload.HighMM/2, s.SidePreload.HighMM/2)
		require.NoError(t, err)
		stretch = max(stretch, st.SpreadMM)
		if f.Design.SideAdjust != family.BearingAdjusters {
			spread = max(spread, s.SpreadLimitMM)
		}
	}
	ledger := checkstest.Given(t)
	for id, gives := range map[string]float64{
		"4-backlash-least": inches(beech.Backlash.LowMM), "4-backlash-most": inches(beech.Backlash.HighMM),
		"4-variation": inches(beech.BacklashSpreadMM), "4-investigate": inches(beech.BacklashSpreadMM), "4-runout": inches(beech.RunoutMM),
		"p-backlash-light-least": inches(beech.Backlash.LowMM), "p-backlash-light-most": inches(beech.Backlash.HighMM),
		"19-runout-truck": inches(runout), "27-floor": floor, "30-stretch": stretch, "34-back-face-most": strictest, "p-spread-limit": inches(spread),
	} {
		ledger.Meets(t, checkstest.Find(t, "trade-practice", id), gives)
	}
}

// Truck and plant windows differ from manual to manual, so that each is compared with
// the shelf as a whole: every published window has a sheet whose own overlaps it, and
// every truck's sheet can be set to both backlashes that manuals aim at.
func TestTruckSheetsAgainstPublishedSpecs(t *testing.T) {
	in := func(id string) float64 { return quantity.Inches(published(t, id)).MM() }
	for _, id := range []string{"21a", "21b", "21c", "21d", "21e", "21f", "21g", "28"} {
		low, high := in(id+"-backlash-least"), in(id+"-backlash-most")
		overlaps := 0
		for _, f := range family.Shelf() {
			if f.Sheet.Backlash.LowMM <= high && f.Sheet.Backlash.HighMM >= low {
				overlaps++
			}
		}
		assert.Positive(t, overlaps, "%s: no sheet's backlash overlaps the published window", id)
	}
	lbin := func(id string) float64 { return quantity.InchPounds(published(t, id)).Nmm() }
	for _, f := range family.Shelf() {
		if !truck(f) {
			continue
		}
		s := f.Sheet
		for _, id := range []string{"20-target-first", "20-target-second"} {
			assert.True(t, s.Backlash.Holds(in(id)), "%s: %s", f.Code, id)
		}
		assert.GreaterOrEqual(t, s.Backlash.LowMM, in("21b-backlash-least"), f.Code)
		assert.LessOrEqual(t, s.Backlash.HighMM, in("21c-backlash-most")+quantity.Thou(0.2).MM(), "%s: rounded to the hundredth of a millimetre", f.Code)
		for _, w := range []struct {
			sheet       family.TorqueSpec
			least, most string
		}{{s.PinionTorqueNew, "16-drag-new-least", "16-drag-new-most"}, {s.PinionTorqueUsed, "16-drag-used-least", "16-drag-used-most"}} {
			const rounding = 100.0 // N·mm: sheets are to the tenth of a newton metre
			assert.GreaterOrEqual(t, w.sheet.HighNmm, lbin(w.least), "%s: %s", f.Code, w.least)
			assert.LessOrEqual(t, w.sheet.HighNmm, lbin(w.most)+rounding, "%s: %s", f.Code, w.most)
		}
	}
}
