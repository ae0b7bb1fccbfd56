package pinion_test

import (
	"testing"

	ax "shimwright/sim/carrier/axletest"
	"shimwright/sim/checkstest"
	"shimwright/sim/pinion"
)

// Over its torque, a collapsible spacer is not saved by loosening the nut: the drag comes
// back, the pull on the stem does not. With a new spacer both are right. The manuals'
// rule (testdata/checks/trade-practice.csv, 15b) has to come out of the model, in which
// nothing knows it.
func TestBackingOffIsNoCure(t *testing.T) {
	const wanted, over = 20.0, 45.0 // lb-in
	// A joint keeps its nut by its pull. Nine tenths of the proper pull is taken for
	// whole; the model's own margin is large either way.
	const whole = 0.9
	proper := setTo(t, wanted).Forces().StemN
	cured := func(stemN float64) float64 {
		if stemN >= whole*proper {
			return 1
		}
		return 0
	}

	b := setTo(t, over)
	turnTo(t, b, -60, 0, func(b *pinion.Build) float64 { return torqueLbIn(b, ax.NewFilm()) - wanted })
	ledger := checkstest.Given(t)
	ledger.Meets(t, checkstest.Find(t, "trade-practice", "15b-back-off"), cured(b.Forces().StemN))

	renewed := newBuild(t, ax.Pinion())
	turnTo(t, renewed, 150, 220, func(b *pinion.Build) float64 { return torqueLbIn(b, ax.NewFilm()) - wanted })
	ledger.Meets(t, checkstest.Find(t, "trade-practice", "15b-renew"), cured(renewed.Forces().StemN))
}
