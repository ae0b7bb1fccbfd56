package uncertaintytest_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/checkstest"
	"shimwright/sim/uncertaintytest"
)

// exact allows for the rounding of a few products and roots.
const exact = 1e-12

// inputs of a table row: plain numbers, with lengths turned into the row's own unit.
type inputs struct {
	t    *testing.T
	row  checkstest.Row
	unit string
}

// perMM is how many of a unit make a millimetre.
var perMM = map[string]float64{"mm": 1, "nm": 1e6, "in": 1 / 25.4}

func (in inputs) of(key string) float64 {
	in.t.Helper()
	for _, part := range strings.Split(in.row.Input, "; ") {
		value, found := strings.CutPrefix(part, key+"=")
		if !found {
			continue
		}
		number, unit, hasUnit := strings.Cut(value, " ")
		x, err := strconv.ParseFloat(number, 64)
		require.NoError(in.t, err, "%s: %s", in.row.ID, key)
		if hasUnit && unit != in.unit {
			require.Contains(in.t, perMM, unit)
			require.Contains(in.t, perMM, in.unit)
			x *= perMM[in.unit] / perMM[unit]
		}
		return x
	}
	in.t.Fatalf("%s has no %s", in.row.ID, key)
	return 0
}

// Sources and strengths stand in the table's own columns.
func TestCheckValues(t *testing.T) {
	part := func(c uncertaintytest.Component, err error) uncertaintytest.Component {
		t.Helper()
		require.NoError(t, err)
		return c
	}
	combine := func(c ...uncertaintytest.Component) uncertaintytest.Budget {
		t.Helper()
		b, err := uncertaintytest.Combine(c...)
		require.NoError(t, err)
		return b
	}
	difference := func(in inputs) uncertaintytest.Budget {
		return combine(
			part(uncertaintytest.Normal("readings", in.of("readings"))).WithDegrees(in.of("readingsdegrees")),
			part(uncertaintytest.Normal("comparator, random", in.of("random"))).WithDegrees(in.of("randomdegrees")),
			part(uncertaintytest.Normal("comparator, systematic", in.of("systematic"))).WithDegrees(in.of("systematicdegrees")))
	}
	// l = ls + d - ls (dalpha theta + alpha dtheta), so the sensitivities are 1, 1,
	// -ls theta and -ls alpha; those of theta and alpha are zero here.
	gauge := func(in inputs) uncertaintytest.Budget {
		in.unit = "nm"
		length := in.of("length")
		return combine(
			part(uncertaintytest.Normal("standard", in.of("standard"))).WithDegrees(in.of("standarddegrees")),
			part(uncertaintytest.Normal("difference", in.of("difference"))).WithDegrees(in.of("differencedegrees")),
			part(uncertaintytest.Normal("difference in expansion", in.of("expansion"))).
				WithDegrees(in.of("expansiondegrees")).Times(-length*in.of("warmth")),
			part(uncertaintytest.Normal("difference in temperature", in.of("temperature"))).
				WithDegrees(in.of("temperaturedegrees")).Times(-length*in.of("rate")))
	}
	expanded := func(in inputs) (u, k float64) {
		u, k, err := gauge(in).ExpandTo(0.99)
		require.NoError(t, err)
		return u, k
	}
	backlash := func(in inputs) uncertaintytest.Budget {
		return combine(
			part(uncertaintytest.Rectangular("indicator's limit", in.of("limit"))),
			part(uncertaintytest.Step("indicator's step", in.of("step"))),
			part(uncertaintytest.Normal("repeat", in.of("repeat"))))
	}
	answers := map[string]func(inputs) float64{
		"G1-difference":         func(in inputs) float64 { return difference(in).Standard },
		"G1-difference-degrees": func(in inputs) float64 { in.unit = "nm"; return difference(in).DegreesOfFreedom },
		"G1-length":             func(in inputs) float64 { return in.of("standard") + in.of("difference") },
		"G1-combined":           func(in inputs) float64 { return gauge(in).Standard },
		"G1-degrees":            func(in inputs) float64 { return math.Floor(gauge(in).DegreesOfFreedom) },
		"G1-factor":             func(in inputs) float64 { _, k := expanded(in); return k },
		"G1-expanded":           func(in inputs) float64 { u, _ := expanded(in); return u },
		"G2-combined":           func(in inputs) float64 { return backlash(in).Standard },
		"G2-expanded": func(in inputs) float64 {
			u, err := backlash(in).Expand(in.of("k"))
			require.NoError(t, err)
			return u
		},
		"G3-factor": func(in inputs) float64 {
			k, err := uncertaintytest.CoverageFactor(in.of("level"), in.of("degrees"))
			require.NoError(t, err)
			return k
		},
		"G4-rectangular": func(in inputs) float64 { return part(uncertaintytest.Rectangular("", in.of("half"))).Standard },
		"G4-triangular":  func(in inputs) float64 { return part(uncertaintytest.Triangular("", in.of("half"))).Standard },
		"G4-step":        func(in inputs) float64 { return part(uncertaintytest.Step("", in.of("step"))).Standard },
	}
	used, ledger := map[string]bool{}, checkstest.Given(t)
	for _, row := range checkstest.Read(t, "measurement") {
		if !strings.HasPrefix(row.ID, "G") {
			continue // adapters and indicators; sim/setup
		}
		kind := row.ID
		if strings.HasPrefix(kind, "G3-factor") {
			kind = "G3-factor"
		}
		answer, known := answers[kind]
		if assert.True(t, known, "%s has nothing to answer it", row.ID) {
			used[kind] = true
			got := answer(inputs{t, row, row.Unit})
			ledger.Gives(t, row.ID, got)
			assert.InDelta(t, row.Expected, got, row.Tolerance, row.ID)
		}
	}
	assert.Len(t, used, len(answers), "every answer belongs to a row")
}

// Closed forms of Student's distribution for one, two and four degrees of freedom
// (textbook results, from memory), which the finite sum must meet.
func TestCoverageFactorAgainstClosedForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(0.05, 0.999).Draw(t, "level")
		one, err := uncertaintytest.CoverageFactor(p, 1)
		require.NoError(t, err)
		assert.InEpsilon(t, math.Tan(math.Pi*p/2), one, 1e-9)
		two, err := uncertaintytest.CoverageFactor(p, 2)
		require.NoError(t, err)
		assert.InEpsilon(t, p*math.Sqrt(2/(1-p*p)), two, 1e-9)
		four, err := uncertaintytest.CoverageFactor(p, 4)
		require.NoError(t, err)
		a := 1 - p*p
		assert.InEpsilon(t, 2*math.Sqrt(math.Cos(math.Acos(math.Sqrt(a))/3)/math.Sqrt(a)-1), four, 1e-7)
	})
}

func TestCoverageFactorFallsToTheNormalOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(0.5, 0.999).Draw(t, "level")
		n := rapid.IntRange(1, 1500).Draw(t, "degrees")
		few, err := uncertaintytest.CoverageFactor(p, float64(n))
		require.NoError(t, err)
		more, err := uncertaintytest.CoverageFactor(p, float64(n+1))
		require.NoError(t, err)
		assert.Less(t, more, few, "more readings, a smaller factor; also across the change of method")
		limit, err := uncertaintytest.CoverageFactor(p, math.Inf(1))
		require.NoError(t, err)
		assert.InDelta(t, p, math.Erf(limit/math.Sqrt2), 1e-9)
		assert.Less(t, limit, more)
	})
	whole, err := uncertaintytest.CoverageFactor(0.95, 16)
	require.NoError(t, err)
	cut, err := uncertaintytest.CoverageFactor(0.95, 16.9)
	require.NoError(t, err)
	assert.Equal(t, whole, cut, "degrees are cut down, never rounded up")
	rounded, err := uncertaintytest.CoverageFactor(0.95, math.Nextafter(16, 0))
	require.NoError(t, err)
	assert.Equal(t, whole, rounded, "a rounding error is not a lost degree")

	// Where the method changes, one more degree must still be one small step: about
	// (z³+z)/(4·1000²), below 1e-5 for these levels.
	for _, p := range []float64{0.9, 0.95, 0.99, 0.997} {
		sum, err := uncertaintytest.CoverageFactor(p, 1000)
		require.NoError(t, err)
		series, err := uncertaintytest.CoverageFactor(p, 1001)
		require.NoError(t, err)
		assert.InDelta(t, sum, series, 3e-5)
	}
}

func components(t *rapid.T) []uncertaintytest.Component {
	n := rapid.IntRange(1, 6).Draw(t, "components")
	out := make([]uncertaintytest.Component, n)
	for i := range out {
		c, err := uncertaintytest.Normal(fmt.Sprint("part ", i), rapid.Float64Range(1e-6, 1).Draw(t, "u"))
		require.NoError(t, err)
		out[i] = c.Times(rapid.Float64Range(-3, 3).Draw(t, "c")).
			WithDegrees(float64(rapid.IntRange(1, 60).Draw(t, "degrees")))
	}
	return out
}

func TestCombine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := components(t)
		b, err := uncertaintytest.Combine(parts...)
		require.NoError(t, err)
		sum, squares, fewest, all := 0.0, 0.0, math.Inf(1), 0.0
		for _, c := range parts {
			sum += c.Contribution()
			squares += c.Contribution() * c.Contribution()
			fewest = math.Min(fewest, c.DegreesOfFreedom)
			all += c.DegreesOfFreedom
			assert.GreaterOrEqual(t, b.Standard*(1+exact), c.Contribution(), "never less than its largest part")
		}
		assert.LessOrEqual(t, b.Standard, sum*(1+exact), "never more than the plain sum")
		assert.InDelta(t, math.Sqrt(squares), b.Standard, exact)
		if b.Standard > 0 {
			assert.GreaterOrEqual(t, b.DegreesOfFreedom, 1.0)
			assert.GreaterOrEqual(t, b.DegreesOfFreedom, fewest*(1-1e-9))
			assert.LessOrEqual(t, b.DegreesOfFreedom, all*(1+1e-9))
		}

		// Parts combined in two stages come to the same.
		last := len(parts) - 1
		if last == 0 {
			return
		}
		inner, err := uncertaintytest.Combine(parts[:last]...)
		require.NoError(t, err)
		outer, err := uncertaintytest.Combine(inner.As("the others"), parts[last])
		require.NoError(t, err)
		assert.InDelta(t, b.Standard, outer.Standard, exact)
		if b.Standard > 0 {
			assert.InEpsilon(t, b.DegreesOfFreedom, outer.DegreesOfFreedom, 1e-9)
		}
	})
}

func TestScaleDoesNotMatter(t *testing.T) {
	// A budget in kilometres or in picometres has the same degrees of freedom.
	for _, scale := range []float64{1e-120, 1e-12, 1, 1e120} {
		a, err := uncertaintytest.Mean("a", 3*scale, 5)
		require.NoError(t, err)
		c, err := uncertaintytest.Mean("c", 4*scale, 5)
		require.NoError(t, err)
		b, err := uncertaintytest.Combine(a, c)
		require.NoError(t, err)
		assert.InEpsilon(t, math.Sqrt(5)*scale, b.Standard, exact)
		// (9+16)² / ((81+256)/4)
		assert.InEpsilon(t, 625.0*4/337, b.DegreesOfFreedom, 1e-9)
	}
}

func TestMeanOfReadings(t *testing.T) {
	c, err := uncertaintytest.Mean("four places", 0.012, 4)
	require.NoError(t, err)
	assert.InDelta(t, 0.006, c.Standard, exact)
	b, err := uncertaintytest.Combine(c)
	require.NoError(t, err)
	_, k, err := b.ExpandTo(0.95)
	require.NoError(t, err)
	assert.InDelta(t, 3.18, k, 0.005, "three degrees of freedom; JCGM 100:2008, table G.2, from memory")
}

func TestNothingInDoubt(t *testing.T) {
	c, err := uncertaintytest.Step("a perfect scale", 0)
	require.NoError(t, err)
	b, err := uncertaintytest.Combine(c)
	require.NoError(t, err)
	assert.Zero(t, b.Standard)
	assert.True(t, math.IsInf(b.DegreesOfFreedom, 1))
	u, _, err := b.ExpandTo(0.95)
	require.NoError(t, err)
	assert.Zero(t, u)
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	one := func(_ any, err error) error { return err }
	good, err := uncertaintytest.Normal("repeat", 0.01)
	require.NoError(t, err)
	for _, c := range []struct {
		says string
		err  error
	}{
		{"indicator: half of the range is -0.01, it has to be a number of zero or more", one(uncertaintytest.Rectangular("indicator", -0.01))},
		{"a component without a name: half of the range is NaN, it has to be a number of zero or more", one(uncertaintytest.Triangular("", nan))},
		{"scale: the scale's step is +Inf, it has to be a number of zero or more", one(uncertaintytest.Step("scale", inf))},
		{"repeat: the standard uncertainty is -1, it has to be a number of zero or more", one(uncertaintytest.Normal("repeat", -1))},
		{"repeat: scatter needs at least two readings, there are 1", one(uncertaintytest.Mean("repeat", 1, 1))},
		{"repeat: the scatter of the readings is -1, it has to be a number of zero or more", one(uncertaintytest.Mean("repeat", -1, 4))},
		{"an uncertainty needs at least one component: name the instrument's limit, its step or the scatter", one(uncertaintytest.Combine())},
		{"repeat: its effect on the result is not a number", one(uncertaintytest.Combine(good.Times(nan)))},
		{"repeat: degrees of freedom are 0, they have to be 1 or more", one(uncertaintytest.Combine(good.WithDegrees(0)))},
		{"repeat: degrees of freedom are NaN, they have to be 1 or more", one(uncertaintytest.Combine(good.WithDegrees(nan)))},
		{"loose: a standard uncertainty of -2 makes no sense, it has to be zero or more", one(uncertaintytest.Combine(uncertaintytest.Component{Name: "loose", Standard: -2, DegreesOfFreedom: 1}))},
		{"huge: too large to work with", one(uncertaintytest.Combine(uncertaintytest.Component{Name: "huge", Standard: 1e300, Sensitivity: 1e300, DegreesOfFreedom: 1}))},
		{"the coverage factor is 0: it has to be more than zero, usually 2", one(uncertaintytest.Budget{Standard: 1}.Expand(0))},
		{"the coverage factor is NaN: it has to be more than zero, usually 2", one(uncertaintytest.Budget{Standard: 1}.Expand(nan))},
		{"the level of confidence is 95: it has to lie between 0 and 1, for example 0.95", one(uncertaintytest.CoverageFactor(95, 4))},
		{"degrees of freedom are 0.5: they have to be 1 or more, take more readings", one(uncertaintytest.CoverageFactor(0.95, 0.5))},
	} {
		assert.EqualError(t, c.err, c.says)
	}
}

// A dial indicator good to 0.0005 in with a step of 0.0005 in, and readings that
// repeat within 0.0003 in, all in inches.
func ExampleCombine() {
	limit, _ := uncertaintytest.Rectangular("indicator's limit", 0.0005)
	step, _ := uncertaintytest.Step("indicator's step", 0.0005)
	repeat, _ := uncertaintytest.Normal("repeat", 0.0003)
	budget, err := uncertaintytest.Combine(limit, step, repeat)
	if err != nil {
		fmt.Println(err)
		return
	}
	wide, err := budget.Expand(2)
	fmt.Printf("%.4f %v\n", wide, err)
	// Output: 0.0009 <nil>
}
