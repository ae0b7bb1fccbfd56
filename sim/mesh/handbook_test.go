package mesh

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/checkstest"
)

// The spiral bevel blank of a handbook, 20 by 40 teeth of module 3: with its teeth as
// high and as deep as the handbook's at the outer end, the ring's root cone has to be
// the handbook's. The model's own proportions are others (see the package comment), so
// they are chosen here to meet those two figures; nothing else of the blank is modelled.
func handbookBlank(t *testing.T, addendumMM, dedendumMM float64) *Blank {
	t.Helper()
	d := sets["cones 20x40"]
	plain, err := NewBlank(d)
	require.NoError(t, err)
	atMean := plain.RingMeanConeMM / plain.RingOuterConeMM // teeth shrink toward the apex
	addendum, dedendum := addendumMM*atMean, dedendumMM*atMean
	depth := (addendum + dedendum - 0.05) / 1.125 // working depth, clearance taken off
	d.DepthFactor = depth / plain.NormalModuleMM
	d.RingAddendumShare = addendum / depth
	b, err := NewBlank(d)
	require.NoError(t, err)
	require.InDelta(t, dedendum, b.RingDedendumMM, 1e-9)
	return b
}

// Sources and strengths stand in testdata/checks/gear-handbook.csv.
func TestHandbook(t *testing.T) {
	ledger := checkstest.Given(t)
	answered := 0
	for _, row := range checkstest.Read(t, "gear-handbook") {
		c := check{id: row.ID, input: row.Input}
		var got float64
		switch {
		case c.in("dedendum") != "":
			b := handbookBlank(t, c.number(t, "addendum"), c.number(t, "dedendum"))
			got = degrees(b.RingRootAngleRad)
			if c.in("value") == "ring dedendum angle" {
				got = degrees(b.RingPitchAngleRad) - got
			}
		case strings.HasPrefix(c.id, "condition-tooth-numbers"):
			b := newSet(t, sets[c.in("set")]).Blank()
			ring := b.RingMeanRadiusMM * math.Cos(b.RingSpiralRad)
			pinion := b.PinionMeanRadiusMM * math.Cos(b.PinionSpiralRad)
			got = ring/pinion*b.Ratio - 1
		case strings.HasPrefix(c.id, "condition-conjugate"):
			got = greatestLeadMM(t, sets[c.in("set")])
		default:
			continue // the blank's outside, which is not modelled
		}
		answered++
		ledger.Gives(t, row.ID, got)
		assert.InDelta(t, row.Expected, got, row.Tolerance, "%s; %s (%s)", row.Input, row.Source, row.Strength)
	}
	assert.Equal(t, 8, answered)
}

// greatestLeadMM returns how far, at the outer radius, any of a conjugate pinion's
// flank points runs ahead of the exact ratio a little before and after its own roll.
func greatestLeadMM(t *testing.T, d SetData) float64 {
	t.Helper()
	s, err := NewSet(d, EaseOff{}, EaseOff{}, designLash)
	require.NoError(t, err)
	exact, most := newExact(t, s), math.Inf(-1)
	const everyPoint = 7 // of a few thousand; the steps share no factor with the grid's width
	for _, f := range []Flank{Drive, Coast} {
		x, rolls := &exact.flanks[f], conjugateRolls(t, s.blank, f)
		for k := 0; k < len(rolls); k += everyPoint {
			for _, off := range []float64{-0.02, 0, 0.02} {
				lead := x.meetAt(k, rolls[k]+off, Position{}).lead
				if off == 0 {
					lead = math.Abs(lead) // a point's own roll: neither ahead nor behind
				}
				most = math.Max(most, lead*d.RingDiameterMM/2)
			}
		}
	}
	return most
}

// What the teeth give for every row of gear-mesh.csv, for the ledger. Whether it agrees
// is TestCheckTable's question.
func TestGearMeshLedger(t *testing.T) {
	ledger := checkstest.Given(t)
	contacts := map[string]*Contact{}
	for _, c := range readChecks(t) {
		name := c.in("set")
		if contacts[name] == nil {
			contacts[name] = newSet(t, sets[name]).NewContact()
		}
		k := contacts[name]
		dial := func(p Position) float64 { return at(t, k, p).Backlash().MeanMM }
		number := func(key string) float64 { return c.number(t, key) }
		var got float64
		switch value := blankValues[c.in("value")]; {
		case value != nil:
			got = value(k.set.Blank())
		case c.in("value") == "heel arm":
			got = k.set.HeelArmMM()
		case c.in("s") != "":
			got = touchValue(t, k.set, c)
		case c.id == "answer-A-ring-for-pinion":
			pinion := dial(Position{PinionOutMM: 0.1}) - dial(Position{PinionOutMM: -0.1})
			ring := dial(Position{RingAwayMM: 0.1}) - dial(Position{RingAwayMM: -0.1})
			got = 0.1 * pinion / ring
		case c.in("flank") == "":
			got = dial(moved(t, c.in("move"), number("by"))) - dial(Position{})
		default:
			got = response(t, k, c, number, 1)
		}
		ledger.Gives(t, c.id, got)
	}
}
