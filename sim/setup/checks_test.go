package setup_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/checkstest"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// unitSize turns an amount in a table's unit into millimetres, newtons, newton
// millimetres, degrees or a bare number.
var unitSize = map[string]float64{
	"in":    quantity.Inches(1).MM(),
	"mm":    1,
	"nm":    1e-6,
	"lbf":   quantity.PoundsForce(1).N(),
	"kN":    1000,
	"lb-in": quantity.InchPounds(1).Nmm(),
	"lb-ft": quantity.FootPounds(1).Nmm(),
	"N·m":   quantity.NewtonMetres(1).Nmm(),
	"thou":  quantity.Thou(1).MM(),
	"h":     1, "%": 1,
	"deg": 1, "-": 1, "sign": 1, "yes is 1": 1, "places": 1,
}

// A check is one row of a table of check values.
type check struct {
	checkstest.Row
	t    *testing.T
	size float64 // of the row's unit
}

// in returns an amount of the row's input in the program's own unit.
func (c check) in(key string) float64 {
	c.t.Helper()
	number, unit, _ := strings.Cut(c.text(key), " ")
	if unit == "" {
		unit = "-"
	}
	x, err := strconv.ParseFloat(number, 64)
	require.NoError(c.t, err, "%s: %s", c.ID, key)
	require.Contains(c.t, unitSize, unit, "%s: %s", c.ID, key)
	return x * unitSize[unit]
}

func (c check) text(key string) string {
	c.t.Helper()
	for _, part := range strings.Split(c.Input, "; ") {
		if value, found := strings.CutPrefix(part, key+"="); found {
			return value
		}
	}
	c.t.Fatalf("%s has no %s", c.ID, key)
	return ""
}

func (c check) convention() setup.MarkConvention {
	c.t.Helper()
	for _, conv := range conventions {
		if conv.String() == c.text("convention") {
			return conv
		}
	}
	c.t.Fatalf("%s names no convention", c.ID)
	return 0
}

func readChecks(t *testing.T, name string) []check {
	t.Helper()
	var out []check
	for _, r := range checkstest.Read(t, name) {
		require.Contains(t, unitSize, r.Unit, r.ID)
		out = append(out, check{Row: r, t: t, size: unitSize[r.Unit]})
	}
	return out
}

// must is for arithmetic whose input is known to be good.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

func sign(x float64) float64 {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// The tables themselves: every row says what it is and where it is from.
func TestTables(t *testing.T) {
	for _, name := range []string{"trade-practice", "measurement"} {
		seen := map[string]float64{}
		for _, c := range readChecks(t, name) {
			seen[c.ID] = c.Expected
			assert.Equal(t, c.Strength == "common practice, no source", strings.HasPrefix(c.Source, c.Strength),
				"%s: what has no source says so in both columns", c.ID)
			assert.Equal(t, c.Strength == "from memory" && strings.HasPrefix(c.Source, "TM "), false,
				"%s: a manual's page was read, not remembered", c.ID)
		}
		for id, least := range seen {
			if plunger, isLeast := strings.CutSuffix(id, "-least"); isLeast && assert.Contains(t, seen, plunger+"-most") {
				assert.Less(t, least, seen[plunger+"-most"], plunger)
			}
		}
	}
}

// Sources and strengths stand in the table's own columns.
func TestTradePractice(t *testing.T) {
	sides := must[setup.SideShims](t)
	number := must[float64](t)
	gains := must[setup.BacklashGain](t)

	table := func(c check) setup.SideShims {
		closed := setup.SideShims{RingGearMM: c.in("back"), OppositeMM: c.in("tooth")}
		return sides(setup.CloseBacklashTable(closed, c.in("open"), c.in("preload")))
	}
	moved := func(c check) (before, after setup.SideShims) {
		before = setup.SideShims{RingGearMM: c.in("back"), OppositeMM: c.in("tooth")}
		away := number(setup.ShimMoveForBacklashMM(c.in("wanted")-c.in("backlash"), c.in("gain")))
		return before, before.MoveRingAwayMM(away)
	}
	preloaded := func(c check) (before, after setup.SideShims) {
		before = setup.SideShims{RingGearMM: c.in("back"), OppositeMM: c.in("tooth")}
		return before, before.AddPreloadMM(c.in("each"))
	}
	back := func(c check) float64 { b, a := moved(c); return a.RingGearMM - b.RingGearMM }
	tooth := func(c check) float64 { b, a := moved(c); return a.OppositeMM - b.OppositeMM }
	total := func(c check) float64 { b, a := moved(c); return a.TotalMM() - b.TotalMM() }
	change := func(c check) float64 {
		const oldShimMM = 0.75 // any shim: the change does not depend on it
		return setup.DepthShimMM(c.convention(), oldShimMM, c.in("old"), c.in("new")) - oldShimMM
	}
	gauge := func(c check) float64 { return setup.GaugeShimMM(c.convention(), c.in("reading"), c.in("mark")) }
	fromGauge := func(c check) float64 { return gauge(c) - c.in("reading") }
	twoMarks := func(c check) float64 {
		return setup.DepthShimMM(c.convention(), c.in("shim"), c.in("old"), c.in("new"))
	}
	height := func(c check) float64 {
		return setup.DepthShimFromHeightMM(c.convention(), c.in("mock-up"), c.in("measured"), c.in("wanted"))
	}
	shims := func(c check) float64 { return height(c) - c.in("mock-up") }
	stringScale := func(c check) float64 { return number(setup.StringTorqueNmm(c.in("pull"), c.in("radius"))) }
	// A gain is right when it turns the published backlash back into the published travel.
	gain := func(c check) float64 {
		travel := number(setup.ShimMoveForBacklashMM(c.in("backlash"), c.Expected))
		assert.InDelta(t, c.in("travel"), travel, 1e-9, c.ID)
		return c.in("backlash") / travel
	}
	torque := func(c check) float64 { return quantity.Torque(c.in("torque")).Nmm() }
	totalTorque := func(c check) float64 {
		return number(setup.TotalTorqueNmm(c.in("pinion"), c.in("side"), c.in("ratio")))
	}

	answers := map[string]func(check) float64{
		"1-back":       func(c check) float64 { return table(c).RingGearMM },
		"1-tooth":      func(c check) float64 { return table(c).OppositeMM },
		"2-back":       func(c check) float64 { return table(c).RingGearMM },
		"2-tooth":      func(c check) float64 { return table(c).OppositeMM },
		"3-gain-least": gain, "3-gain-most": gain,
		"5-back": back, "5-tooth": tooth, "5-total": total,
		"7-gauge": gauge, "8-gauge": gauge,
		"9-change": change, "10-change": change, "11-change": change,
		"12-change": change, "12-change-metric": change, "13-change": change,
		"14-plus": fromGauge, "14-minus": fromGauge,
		"16-metric-new-least": torque, "16-metric-new-most": torque,
		"16-metric-used-least": torque, "16-metric-used-most": torque,
		"17-cord": stringScale, "32-string": stringScale, "17-factor": stringScale,
		"18-spacer": func(c check) float64 {
			return number(setup.SpacerForTorqueMM(c.in("spacer1"), c.in("torque1"), c.in("spacer2"), c.in("torque2"), c.in("wanted"))) - c.in("spacer1")
		},
		"22-back": back, "22-tooth": tooth, "22-total": total,
		"25-cage": shims, "26-cage": shims,

		"w-shim-inside": twoMarks, "w-shim-inside-metric": twoMarks,
		"w-shim-cage": twoMarks, "w-shim-correction": twoMarks,
		"w-height-metric": height, "w-height-inch": height,
		"w-move-in": func(c check) float64 {
			s, err := setup.SpreadOf([]float64{c.in("reading1"), c.in("reading2"), c.in("reading3"), c.in("reading4")})
			require.NoError(t, err)
			return number(setup.ShimMoveForBacklashMM(c.in("wanted")-s.MeanMM, c.in("gain")))
		},
		"w-move-away":  func(c check) float64 { return number(setup.ShimMoveForBacklashMM(c.in("change"), c.in("gain"))) },
		"w-total-tall": totalTorque, "w-total-long": totalTorque,

		"p-total-kept": total,
		"p-both-sides": func(c check) float64 { b, a := preloaded(c); return a.TotalMM() - b.TotalMM() },
		"p-both-sides-gear": func(c check) float64 {
			b, a := preloaded(c)
			return (a.RingGearMM - a.OppositeMM) - (b.RingGearMM - b.OppositeMM)
		},
	}
	for _, c := range readChecks(t, "trade-practice") {
		if strings.HasPrefix(c.ID, "w-gain-") {
			answers[c.ID] = func(c check) float64 {
				g := gains(setup.BacklashPerTravel(c.in("ratio"), c.in("pressure"), c.in("spiral")))
				switch {
				case strings.HasSuffix(c.ID, "-ring-normal"):
					return g.RingNormal
				case strings.HasSuffix(c.ID, "-ring-circle"):
					return g.RingCircle
				}
				return g.PinionNormal
			}
		}
	}

	answered, ledger := 0, checkstest.Given(t)
	for _, c := range readChecks(t, "trade-practice") {
		if c.Limit() {
			continue // a published limit; TestPublishedLimits
		}
		answer, known := answers[c.ID]
		if !assert.True(t, known, "%s has nothing to answer it", c.ID) {
			continue
		}
		got := answer(c) / c.size
		if c.Unit == "sign" {
			got = sign(got)
		}
		ledger.Gives(t, c.ID, got)
		assert.InDelta(t, c.Expected, got, c.Tolerance, c.ID)
		answered++
	}
	assert.Equal(t, len(answers), answered, "every answer belongs to a row")
}

// Limits that a manual or the trade gives, against this package's arithmetic. Source
// and strength of each stand in the table.
func TestPublishedLimits(t *testing.T) {
	number := must[float64](t)
	limits := map[string]float64{} // in the program's own units
	for _, c := range readChecks(t, "trade-practice") {
		limits[c.ID] = c.Expected * c.size
	}
	at := func(id string) float64 {
		require.Contains(t, limits, id)
		return limits[id]
	}

	t.Run("the hand gain lies where the manual's table puts it", func(t *testing.T) {
		for _, ratio := range []float64{3.08, 3.73, 4.10, 4.56} {
			g, err := setup.BacklashPerTravel(ratio, 20, 33)
			require.NoError(t, err)
			assert.GreaterOrEqual(t, g.RingNormal, at("3-gain-least"))
			assert.LessOrEqual(t, g.RingNormal, at("3-gain-most"))
		}
		assert.GreaterOrEqual(t, at("p-gain"), at("3-gain-least"))
		assert.LessOrEqual(t, at("p-gain"), at("3-gain-most"))
	})

	t.Run("readings inside the light window can still fail on variation", func(t *testing.T) {
		s, err := setup.SpreadOf([]float64{at("4-backlash-least"), at("4-backlash-most")})
		require.NoError(t, err)
		assert.Greater(t, s.SpreadMM, at("4-investigate"))
		assert.Greater(t, at("4-investigate"), at("4-variation"))
	})

	t.Run("a move from over the window comes to its middle", func(t *testing.T) {
		middle := (at("4-backlash-least") + at("4-backlash-most")) / 2
		reading := at("4-backlash-most") + quantity.Thou(2).MM()
		for _, gain := range []float64{at("3-gain-least"), at("3-gain-most")} {
			// worked with the trade's gain, on an axle whose own gain is at either end
			away := number(setup.ShimMoveForBacklashMM(middle-reading, at("p-gain")))
			after := reading + gain*away
			assert.GreaterOrEqual(t, after, at("4-backlash-least"))
			assert.LessOrEqual(t, after, at("4-backlash-most"))
		}
	})

	t.Run("side drag at the ring gear meets the rise at the pinion through the ratio", func(t *testing.T) {
		// The two come from different machines, so the ratio is chosen here: at 6:1
		// the ranges have to overlap, undivided they must not.
		low := number(setup.TotalTorqueNmm(0, at("24-side-drag-least"), 6))
		high := number(setup.TotalTorqueNmm(0, at("24-side-drag-most"), 6))
		assert.Less(t, low, at("23b-rise-most"))
		assert.Greater(t, high, at("23b-rise-least"))
		assert.Greater(t, number(setup.TotalTorqueNmm(0, at("24-side-drag-least"), 1)), at("23b-rise-most"))
	})

	t.Run("the cord reaches the whole drag window", func(t *testing.T) {
		radius := quantity.Inches(2).MM()
		lowPull, highPull := quantity.PoundsForce(2.5).N(), quantity.PoundsForce(22.5).N()
		assert.InDelta(t, at("16-drag-new-least"), number(setup.StringTorqueNmm(lowPull, radius)), 1e-6)
		assert.InDelta(t, at("16-drag-new-most"), number(setup.StringTorqueNmm(highPull, radius)), 1e-6)
	})

	t.Run("published and trade figures for a light axle agree", func(t *testing.T) {
		assert.InDelta(t, at("4-backlash-least"), at("p-backlash-light-least"), 1e-9)
		assert.InDelta(t, at("4-backlash-most"), at("p-backlash-light-most"), 1e-9)
	})
}

// Adapters and indicators; sources and strengths stand in the table's own columns.
// Rows whose id begins with G belong to sim/uncertaintytest.
func TestMeasurement(t *testing.T) {
	number := must[float64](t)
	setting := func(c check) float64 {
		return number(setup.WrenchSettingNmm(c.in("wanted"), c.in("wrench"), c.in("adapter"), c.in("angle")))
	}
	lever := func(c check) float64 { return number(setup.LeverIndicatorTrueMM(c.in("reading"), c.in("angle"))) }
	plunger := func(c check) float64 { return number(setup.PlungerReadingMM(c.in("true"), c.in("angle"))) }
	families := map[string]func(check) float64{
		"A1-applied": func(c check) float64 {
			return c.in("set") * number(setup.AdapterFactor(c.in("wrench"), c.in("adapter"), c.in("angle")))
		},
		"A2-set": setting, "A3-set": setting, "A4-set": setting, "A5-set": setting, "A6-set": setting, "A7-set": setting,
		"K1-true": lever, "K2-factor": lever, "K3-plunger": plunger,
	}
	ledger := checkstest.Given(t)
	for _, c := range readChecks(t, "measurement") {
		if strings.HasPrefix(c.ID, "G") {
			continue
		}
		family := c.ID
		if strings.HasPrefix(family, "K") {
			family = family[:strings.LastIndex(family, "-")]
		}
		answer, known := families[family]
		if assert.True(t, known, "%s has nothing to answer it", c.ID) {
			got := answer(c) / c.size
			ledger.Gives(t, c.ID, got)
			assert.InDelta(t, c.Expected, got, c.Tolerance, c.ID)
		}
	}
}
