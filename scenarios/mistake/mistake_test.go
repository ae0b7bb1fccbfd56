package mistake_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// taken is what a technician takes for true who knew the sheet of a family.
func taken(m mistake.Mistake, before technician.Known) technician.Known {
	m.Policy.Know(&before)
	return before
}

// What a mistake takes for true is on the side of the truth that its texts say it is.
func TestMistakesAreOnTheSideTheySay(t *testing.T) {
	for _, fam := range family.Shelf() {
		k := technician.Known{Sheet: fam.Sheet, Design: fam.Design, OldMark: quantity.Thou(-2), NewMark: quantity.Thou(3)}
		sheet := k.Sheet

		units := taken(mistake.MarkInOtherUnits(), k)
		assert.Less(t, units.OldMark, quantity.Length(0), "%s: minus stays minus", fam.Code)
		assert.InDelta(t, -1.5, units.NewMark.MM()/units.OldMark.MM(), 1e-9)
		if f := units.NewMark.MM() / k.NewMark.MM(); f > 1 {
			assert.InDelta(t, 2.54, f, 0.01, fam.Code)
		} else {
			assert.InDelta(t, 1/2.54, f, 0.01, fam.Code)
		}

		over := taken(mistake.Overshot(), k).Sheet
		assert.InDelta(t, 1.6, over.PinionTorqueNew.Mid()/sheet.PinionTorqueNew.Mid(), 1e-9, fam.Code)
		assert.InDelta(t, 1.6, over.PinionTorqueUsed.Mid()/sheet.PinionTorqueUsed.Mid(), 1e-9, fam.Code)
		assert.InDelta(t, sheet.PinionTorqueNew.Half(), over.PinionTorqueNew.Half(), 1e-9, fam.Code)

		used := taken(mistake.UsedSetAsNew(), k).Sheet
		assert.Less(t, used.Backlash.HighMM, sheet.Backlash.LowMM+0.3*sheet.Backlash.Half(), "%s: closer than the worn teeth ask for", fam.Code)
		assert.InDelta(t, sheet.Backlash.Half(), used.Backlash.Half(), 1e-12, fam.Code)
	}
}

// Side bearings left loose are at about zero end play, and those too tight beyond their
// specification and short of what the housing bears.
func TestSideBearingsOffTheirSpecification(t *testing.T) {
	seen := 0
	for _, m := range mistake.All() {
		for _, fam := range family.Shelf() {
			k := technician.Known{Sheet: fam.Sheet, Design: fam.Design}
			if m.Part != mistake.SideBearings || m.Policy.Know == nil || m.Has != nil && !m.Has(k) {
				continue
			}
			seen++
			was, now := fam.Sheet.SidePreload, taken(m, k).Sheet.SidePreload
			require.Less(t, now.LowMM, now.HighMM, "%s, %s", fam.Code, m.ID)
			if now.Mid() < was.Mid() {
				assert.True(t, now.LowMM < 0 && now.HighMM > 0 && now.HighMM < was.LowMM, "%s, %s: %+v", fam.Code, m.ID, now)
				continue
			}
			assert.GreaterOrEqual(t, now.Mid(), was.HighMM, "%s, %s", fam.Code, m.ID)
			assert.LessOrEqual(t, now.Mid(), fam.Sheet.SpreadLimitMM, "%s, %s", fam.Code, m.ID)
		}
	}
	assert.Positive(t, seen)
}
