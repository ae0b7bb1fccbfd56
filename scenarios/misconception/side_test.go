package misconception

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A reading seen as it is stays as it is, and one seen the wrong way round is mirrored about the
// middle of its specification.
func TestAPatternIsSeenAboutTheMiddle(t *testing.T) {
	k := technician.Known{Sheet: family.Beech().Sheet}
	mid := k.Sheet.PatternHeight.Mid()
	seen := func(sees float64, high float64) float64 {
		o := history.Step{Readings: []gauge.Reading{{Kind: gauge.Pattern, Patterns: []gauge.ToothPattern{{CenterT: high}}}}}
		seePattern(technician.Mind{Known: k}, &o, func(off float64, _ gauge.ToothPattern) float64 { return sees * off })
		return o.Readings[0].Patterns[0].CenterT
	}
	assert.InDelta(t, mid+0.1, seen(1, mid+0.1), 1e-12)
	assert.InDelta(t, mid-0.1, seen(-1, mid+0.1), 1e-12)
	assert.InDelta(t, mid, seen(0, mid+0.1), 1e-12)
}

// A shim and notches turned in stand on the same side of nothing: more of either is further in.
func TestBothSidesCountInward(t *testing.T) {
	for _, fam := range family.Shelf() {
		s := Scene{card: &scenarios.Card{Known: technician.Known{Design: fam.Design, Sheet: fam.Sheet}}}
		travel := fam.Design.Rings.NotchTravelMM()
		at := s.sides(history.Status{RingGearShim: quantity.Millimetres(1), OppositeShim: quantity.Millimetres(2), RingGearNotches: 3, OppositeNotches: 4})
		assert.InDelta(t, 1+3*travel, at[0], 1e-12, fam.Code)
		assert.InDelta(t, 2+4*travel, at[1], 1e-12, fam.Code)
	}
}

// Who thinks that tighter is better sets backlash below the middle of its specification, and who
// thinks that more is quieter above it; neither far outside.
func TestBacklashAtAnEnd(t *testing.T) {
	for _, fam := range family.Shelf() {
		was := fam.Sheet.Backlash
		for _, c := range []struct {
			m   Misconception
			end float64
		}{{tighterIsBetter(), was.LowMM}, {moreIsQuieter(), was.HighMM}} {
			k := technician.Known{Sheet: fam.Sheet}
			c.m.Policy.Know(&k)
			assert.InDelta(t, c.end, k.Sheet.Backlash.Mid(), 1e-12, "%s, %s", fam.Code, c.m.ID)
			assert.Less(t, k.Sheet.Backlash.LowMM, k.Sheet.Backlash.HighMM)
		}
	}
}

// Too little backlash has the pinion moved out, away from the ring gear, by whoever moves the
// pinion for it; too much has it moved in.
func TestThePinionMovedForBacklash(t *testing.T) {
	for _, fam := range family.Shelf() {
		k := technician.Known{Sheet: fam.Sheet, Design: fam.Design, RingDiameter: quantity.Millimetres(216)}
		stock := k.Sheet.DepthShims
		middle := stock.Nearest((stock.LowMM + stock.HighMM) / 2)
		for _, readMM := range []float64{k.Sheet.Backlash.LowMM / 2, k.Sheet.Backlash.HighMM * 1.6} {
			read := quantity.Millimetres(readMM)
			m := technician.Mind{Known: k, Status: history.Status{CaseIn: true, DepthShim: quantity.Millimetres(middle)},
				Steps: []history.Step{{Act: act.Act{Form: act.MeasureBacklash}, Readings: []gauge.Reading{{Kind: gauge.Backlash, Lengths: []quantity.Length{read}}}}}}
			acts := pinionForLash(m, act.Act{Form: act.TorqueCaps})
			require.Len(t, acts, 1)
			require.Equal(t, act.FitDepthShim, acts[0].Form, fam.Code)
			shim, _ := acts[0].Amounts[0].Length()
			in := shim.MM() > middle // thicker
			if !k.Design.ThickerIsDeeper() {
				in = !in
			}
			assert.Equal(t, readMM > k.Sheet.Backlash.HighMM, in, "%s: %v mm read", fam.Code, readMM)
			// Whoever has changed the shim reads again first.
			m.Steps = append(m.Steps, history.Step{Act: acts[0]})
			assert.Equal(t, act.TorqueCaps, pinionForLash(m, act.Act{Form: act.TorqueCaps})[0].Form)
		}
	}
}

// Zero end play lies as much further in as the case has end play, counted from both sides
// together, and where a side grows by its preload as much less.
func TestWhereEndPlayEnds(t *testing.T) {
	fam := family.Beech()
	card := scenarios.Card{Family: fam, Known: technician.Known{Design: fam.Design, Sheet: fam.Sheet}}
	after := history.Status{RingGearShim: quantity.Millimetres(1.9), OppositeShim: quantity.Millimetres(1.8)}
	read := func(k gauge.Kind, mm float64) float64 {
		s := Scene{card: &card, gains: &sim.Gains{SpreadPerFit: 0.5}}
		r := gauge.Reading{Kind: k, Lengths: []quantity.Length{quantity.Millimetres(mm)}}
		s.learnReading(history.Step{After: after, Readings: []gauge.Reading{r}}, r)
		return s.zeroMM
	}
	assert.InDelta(t, 3.75, read(gauge.CaseEndPlay, 0.05), 1e-12)
	assert.InDelta(t, 3.5, read(gauge.HousingSpread, 0.1), 1e-12)
}
