package reveal_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

func keyOf(t *testing.T, o scenarios.Order, seed uint64) (scenarios.Job, string) {
	t.Helper()
	j, err := o.Generate(seed)
	require.NoError(t, err)
	key, err := reveal.Key(j)
	require.NoError(t, err)
	var lines []string
	for _, m := range key {
		lines = append(lines, text.Printer{}.Print(m))
	}
	return j, strings.Join(lines, "\n")
}

// The key names every fault of an axle and, of another hand's, what that hand did.
func TestKeyNamesFaultsAndMistakes(t *testing.T) {
	for _, f := range []fault.ID{fault.SealTight, fault.RingGearConeHigh} {
		want, err := fault.Find(f)
		require.NoError(t, err)
		_, key := keyOf(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.SidesJob, Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{f}}}, 4)
		assert.Contains(t, key, "Fault: "+text.Printer{}.Print(want.Name))
		assert.Contains(t, key, text.Printer{}.Print(want.Remedy))
		assert.Equal(t, 1, strings.Count(key, "Fault:"))
	}
	said := map[bool]bool{}
	for seed := range uint64(12) {
		j, key := keyOf(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.PreviousWork, Faults: scenarios.FaultRule{None: true}}, seed)
		x, _ := truth.Open(j.Sealed())
		if x.Mistake == "" {
			assert.Contains(t, key, "made no mistake")
		} else {
			s, err := mistake.Find(x.Mistake)
			require.NoError(t, err)
			assert.Contains(t, key, "Mistake of the previous technician: "+text.Printer{}.Print(s.Name))
		}
		said[x.Mistake == ""] = true
		assert.Contains(t, key, "No fault in the parts")
	}
	assert.Len(t, said, 2)
	_, key := keyOf(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.DepthJob}, 1)
	assert.NotContains(t, key, "Side shims")
}

// The side shims that the key gives leave, at the bench, neither play nor preload, and the
// backlash near its window.
func TestKeySideShimsAtTheBench(t *testing.T) {
	for _, seed := range []uint64{1, 2, 3} {
		j, key := keyOf(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.SidesJob, Faults: scenarios.FaultRule{None: true}}, seed)
		m := regexp.MustCompile(`ring-gear side ([0-9.]+) in, opposite side ([0-9.]+) in`).FindStringSubmatch(key)
		require.Len(t, m, 3, key)
		s, err := j.Stand()
		require.NoError(t, err)
		do := func(line string) []quantity.Length {
			a, err := act.Parse(line, quantity.Inch)
			require.NoError(t, err)
			o, err := s.Do(a)
			require.NoError(t, err)
			for _, r := range o.Readings {
				if len(r.Lengths) > 0 {
					return r.Lengths
				}
			}
			return nil
		}
		onShelf := func(in string) string {
			v, err := strconv.ParseFloat(in, 64)
			require.NoError(t, err)
			return fmt.Sprintf("%.4fin", j.Card.Family.Sheet.SideShims.Nearest(25.4*v)/25.4)
		}
		do("fit side-shims ring-gear " + onShelf(m[1]) + " opposite " + onShelf(m[2]))
		do("fit case")
		do("torque caps")
		const shelfMM = 0.0254 // half a step of the shelf, for each of two shims
		assert.InDelta(t, 0, do("measure end-play")[0].MM(), 2*shelfMM, key)
		do("mount indicator heel square pinion-held")
		w := j.Card.Family.Sheet.Backlash
		const wayMM = 0.05 // two shelf steps and the play above, as backlash
		assert.InDelta(t, w.Mid(), do("measure backlash 1")[0].MM(), w.Half()+wayMM, key)
	}
}
