package lessons_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
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
	return l.Body
}

// perThou is what a thousandth of pack is worth, lb-in.
func perThou(t *testing.T, code string, used bool) float64 {
	t.Helper()
	g, err := sim.NominalGains(shipped(t, code), used)
	require.NoError(t, err)
	return quantity.Torque(g.TorquePerPreloadShimNmmPerMM * quantity.Thou(1).MM()).InchPounds()
}

// What the lessons on solid spacers give as the practice model's figures is what the
// model gives.
func TestModelFigures(t *testing.T) {
	cedar, elm, hazel := perThou(t, "CEDAR", false), perThou(t, "ELM", false), perThou(t, "HAZEL", false)
	pack, cup := body(t, "solid-spacer"), body(t, "cup-shim")
	assert.Contains(t, pack, fmt.Sprintf("by %.0f-%.0f lb-in (", math.Floor(cedar), math.Ceil(cedar)))
	assert.Contains(t, pack, fmt.Sprintf("by about %.0f lb-in (", elm))
	assert.Contains(t, cup, fmt.Sprintf("about %.0f lb-in (", hazel))
	least, most := 1.0, 0.0
	for _, code := range []string{"CEDAR", "ELM", "FIR", "HAZEL", "IRONBARK"} {
		share := perThou(t, code, true) / perThou(t, code, false)
		least, most = math.Min(least, share), math.Max(most, share)
	}
	const tens = 0.1
	assert.Contains(t, pack, fmt.Sprintf("around %.0f-%.0f %%", 100*math.Round(least/tens)*tens, 100*math.Round(most/tens)*tens))
}

// Sheets that a lesson's example quotes are the sheets of the families.
func TestQuotedSheets(t *testing.T) {
	drag := func(w family.TorqueSpec) string {
		return fmt.Sprintf("range %.0f-%.0f lb-in", quantity.Torque(w.LowNmm).InchPounds(), quantity.Torque(w.HighNmm).InchPounds())
	}
	lash := func(w family.Spec) string {
		return fmt.Sprintf("%.3f-%.3f in", quantity.Millimetres(w.LowMM).Inches(), quantity.Millimetres(w.HighMM).Inches())
	}
	cedar, dogwood, elm, beech := shipped(t, "CEDAR"), shipped(t, "DOGWOOD"), shipped(t, "ELM"), family.Beech()
	assert.Contains(t, body(t, "solid-spacer"), drag(cedar.Sheet.PinionTorqueNew))
	rings := body(t, "adjuster-rings")
	assert.Contains(t, rings, fmt.Sprintf("%d slots, pitch %.1f mm", dogwood.Design.Rings.Notches, dogwood.Design.Rings.PitchMM))
	assert.Contains(t, rings, fmt.Sprintf("%g mm, or %.4f in", dogwood.Design.Rings.NotchTravelMM(), quantity.Millimetres(dogwood.Design.Rings.NotchTravelMM()).Inches()))
	assert.Contains(t, rings, "backlash "+lash(dogwood.Sheet.Backlash))
	assert.Contains(t, rings, fmt.Sprintf("Preload about %.3f in", quantity.Millimetres(dogwood.Sheet.SidePreload.Mid()).Inches()))
	design := body(t, "preload-design")
	assert.Contains(t, design, fmt.Sprintf("nut %.0f-%.0f lb-ft", elm.Sheet.NutLow.FootPounds(), elm.Sheet.NutHigh.FootPounds()))
	assert.Contains(t, design, fmt.Sprintf("rings with %d slots", elm.Design.Rings.Notches))
	assert.Contains(t, body(t, "used-gears"), "new sets "+lash(beech.Sheet.Backlash))
}
