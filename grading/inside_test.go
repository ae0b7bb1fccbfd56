package grading_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/acceptance"
	"shimwright/grading/cost"
	"shimwright/grading/reveal"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

// aimsAt is the reference technician who aims elsewhere inside the printed specifications of
// pinion torque and side preload, shares of them, and stops wherever a torque is inside.
func aimsAt(torque, sides float64) technician.Policy {
	read := 0.0 // pinion torque as it is, N·mm
	return technician.Policy{
		Know: func(k *technician.Known) {
			w := &k.Sheet.SidePreload
			off := (sides - 0.5) * (w.HighMM - w.LowMM)
			w.LowMM, w.HighMM = w.LowMM+off, w.HighMM+off
		},
		See: func(m technician.Mind, o *history.Step) {
			w := m.Known.PinionTorqueSpec()
			for i := range o.Readings {
				r := &o.Readings[i]
				if r.Kind != gauge.PinionTorque {
					continue
				}
				read = r.MeanTorque().Nmm()
				v := read + w.Mid() - (w.LowNmm + torque*(w.HighNmm-w.LowNmm))
				if read >= w.LowNmm && read <= w.HighNmm {
					v = w.Mid() // inside is inside
				}
				r.Torques = []quantity.Torque{quantity.Torque(max(v, 0))}
			}
		},
		Do: func(_ technician.Mind, a act.Act) []act.Act {
			if a.Form == act.RecordValue && a.Choices[0] == act.PinionTorqueLine {
				a.Amounts = slices.Clone(a.Amounts)
				a.Amounts[0] = quantity.Entered{Number: quantity.Torque(read).InchPounds(), Unit: quantity.UnitInchLb}
			}
			return technician.Instead(a)
		},
	}
}

// Inside is inside: an axle that is right in every line and proved scores well wherever in their
// printed specifications its preloads were left, with a crushed spacer and with a solid one.
func TestPreloadAnywhereInsideItsSpecification(t *testing.T) {
	const least = 85
	jobs := longtest.Pick[uint64](2, 8)
	right, low := 0, 100
	for _, code := range longtest.Pick([]string{"BEECH", "HAZEL"}, []string{"BEECH", "HAZEL", "ALDER", "CEDAR", "JUNIPER", "ELM"}) {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		for seed := uint64(31); seed < 31+jobs; seed++ {
			j, err := scenariostest.Generate(fam, seed)
			require.NoError(t, err)
			aims := [][2]float64{{0.05, 0.5}, {0.25, 0.5}, {0.75, 0.5}, {0.95, 0.5}}
			if fam.Design.SideAdjust != family.InsideShims { // there what is in and inside stays in
				aims = append(aims, [][2]float64{{0.3, 0.2}, {0.7, 0.8}, {0.5, 0.1}, {0.5, 0.9}}...)
			}
			for _, aim := range aims {
				b := open(t, j)
				require.NoError(t, technician.WorkBy(b, j.Card.Known, technician.Competent(), aimsAt(aim[0], aim[1])))
				bill := reveal.BillOf(cost.Default(), j.Card, b.Stand)
				rep := grade(t, j, b.outs)
				if bill.TotalMin() > 0 || slices.ContainsFunc(rep.Acceptance, acceptance.Line.Missed) {
					continue // not true in every line, or not proved
				}
				right++
				low = min(low, rep.Score)
				assert.GreaterOrEqual(t, rep.Score, least, "%s job %d, aimed at %v", code, seed, aim)
			}
		}
	}
	t.Logf("%d axles right and proved, lowest score %d", right, low)
	assert.GreaterOrEqual(t, right, longtest.Pick(10, 100))
}
