package grading_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/scenarios"
	"shimwright/scenarios/peopletest"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
)

// tellsOf is which readings tell of depth, preload and sides. How a case goes in is felt, not read.
func tellsOf(area grading.Area, means string) []gauge.Kind {
	switch {
	case strings.HasPrefix(means, "means.depth"), means == "" && area == grading.Depth:
		return []gauge.Kind{gauge.Depth, gauge.Pattern, gauge.DepthShimSize, gauge.BearingHeights}
	case strings.HasPrefix(means, "means.preload"), means == "means.end-play", means == "" && area == grading.Preload:
		return []gauge.Kind{gauge.PinionTorque, gauge.PinionEndPlay, gauge.NutTorque, gauge.NutLoosening}
	case means == "means.sides", means == "means.runout", means == "" && area == grading.Sides:
		return []gauge.Kind{gauge.Backlash, gauge.Runout, gauge.RadialRunout, gauge.CaseRunout, gauge.TotalTorque, gauge.CaseEndPlay, gauge.HousingSpread, gauge.SideShimSizes}
	}
	return nil
}

// Who is told that nothing had been read, inspected or found wrong can look into the attempt: it
// is so, for whatever was done.
func TestWhatWasKnownIsNeverFalse(t *testing.T) {
	people := append(peopletest.Hostiles(), peopletest.Schools()...)
	every := longtest.Pick(7, 1) // person of the list
	codes := longtest.Pick([]string{"BEECH"}, []string{"BEECH", "ELM"})
	told := map[string]int{}
	for i, code := range codes {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		for n, who := range people {
			if n%every != 0 {
				continue
			}
			kinds := []scenarios.Kind{scenarios.WholeJob, scenarios.PreviousWork}
			j, err := scenarios.Order{Family: fam, Kind: kinds[n%2]}.Generate(uint64(40 + i))
			require.NoError(t, err)
			r, err := who.Play(j)
			require.NoError(t, err)
			b, err := grading.OpenBook(j.Card)
			require.NoError(t, err)
			seen := slices.Clone(j.Card.Before)
			for _, o := range r.Steps {
				for _, d := range b.Take(o).Decisions {
					code := d.KnewMessage().Code()
					told[code]++
					told[d.Means.Code()]++
					said := who.Name + ", " + j.Card.Family.Code + ": " + d.Did + ": " + code + ", " + d.Means.Code()
					for _, s := range seen {
						for _, r := range s.Readings {
							inspection := r.Finding != gauge.NoFinding && r.Kind <= gauge.GearFlatness
							switch {
							case code == "decision.nothing-read":
								assert.NotContains(t, tellsOf(d.Area, d.Means.Code()), r.Kind, said)
							case code == "decision.nothing-inspected":
								assert.False(t, inspection, said)
							case code == "decision.nothing-wrong", d.Means.Code() == "means.rates":
								assert.False(t, inspection && r.Wrong(), said)
							}
						}
					}
				}
				seen = append(seen, history.Step(o))
			}
		}
	}
	for _, code := range []string{"decision.read", "decision.nothing-read", "decision.nothing-wrong"} {
		assert.Positive(t, told[code], code)
	}
	t.Log(told)
}
