package explore_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/carrier/axletest"
	"shimwright/sim/datasheet"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/solve"
)

// caseText reads a file of testdata/cases.
func caseText(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "cases", name))
	require.NoError(t, err)
	return string(text)
}

// changed replaces what stands at one place of a text; the places are pairs of old
// and new.
func changed(t testing.TB, text string, places ...string) string {
	t.Helper()
	for i := 0; i < len(places); i += 2 {
		require.Equal(t, 1, strings.Count(text, places[i]), "the test changes one place: %s", places[i])
		text = strings.Replace(text, places[i], places[i+1], 1)
	}
	return text
}

func gearCase(t testing.TB, text string) explore.GearCase {
	t.Helper()
	c, problems := explore.ReadGearCase([]byte(text), "x.yaml")
	require.Empty(t, problems)
	return c
}

func partsCase(t testing.TB, text string) explore.Parts {
	t.Helper()
	p, problems := explore.ReadParts([]byte(text), "x.yaml")
	require.Empty(t, problems)
	return p
}

// A gearCheck is one row of testdata/checks/gear-mesh.csv.
type gearCheck struct {
	id, source, strength string
	in                   map[string]string
	expected, tolerance  float64
}

func gearChecks(t testing.TB) []gearCheck {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "checks", "gear-mesh.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []gearCheck
	for _, r := range rows[1:] {
		c := gearCheck{id: r[0], source: r[5], strength: r[6], in: map[string]string{}}
		for part := range strings.SplitSeq(r[1], ";") {
			name, value, _ := strings.Cut(strings.TrimSpace(part), "=")
			c.in[name] = value
		}
		c.expected, err = strconv.ParseFloat(r[2], 64)
		require.NoError(t, err, c.id)
		c.tolerance, err = strconv.ParseFloat(r[3], 64)
		require.NoError(t, err, c.id)
		out = append(out, c)
	}
	return out
}

// moved returns the settings of a row's move.
func (c gearCheck) moved(t testing.TB, way float64) explore.Settings {
	t.Helper()
	s := explore.Settings{FilmMM: 0.009} // the film the table's figures belong to
	if c.in["move"] == "" {
		return s
	}
	by, err := strconv.ParseFloat(c.in["by"], 64)
	require.NoError(t, err, c.id)
	by *= way
	switch c.in["move"] {
	case "pinion out":
		s.PinionOutMM = by
	case "pinion in":
		s.PinionOutMM = -by
	case "ring gear away":
		s.RingAwayMM = by
	case "ring gear toward":
		s.RingAwayMM = -by
	case "more offset":
		s.OffsetMM = by
	case "shaft open":
		s.ShaftAngleRad = by
	default:
		require.Fail(t, "no such move", "%s: %s", c.id, c.in["move"])
	}
	return s
}

// value reads off a state what a row is about.
func (c gearCheck) value(t testing.TB, g explore.GearState) float64 {
	t.Helper()
	p := g.Drive
	if c.in["flank"] == "coast" {
		p = g.Coast
	}
	what := strings.TrimSuffix(strings.TrimSuffix(c.in["value"], " change"), " per move")
	switch what {
	case "pattern along":
		return p.CenterS
	case "pattern up":
		return p.CenterT
	case "pattern length":
		return p.MaxS - p.MinS
	case "pattern height":
		return p.MaxT - p.MinT
	case "pattern area":
		return p.AreaShare
	case "dial backlash":
		return g.BacklashMeanMM
	case "dial backlash ripple":
		return g.BacklashMaxMM - g.BacklashMinMM
	}
	require.Fail(t, "no answer", "%s: %s", c.id, what)
	return 0
}

// The gear files in testdata/cases against every row of gear-mesh.csv about their sets
// that a dial or an eye could answer; source and strength stand in the rows. Rows of
// one sign are published directions.
func TestGearFilesAgainstTheCheckTable(t *testing.T) {
	const noticeable = 0.003 // a share of the tooth that counts as a direction, as in sim/mesh
	for set, file := range map[string]string{"A": "hypoid-11x41.yaml", "B": "spiral-bevel-11x41.yaml"} {
		b, err := explore.NewGearBench(gearCase(t, caseText(t, file)))
		require.NoError(t, err)
		at := func(s explore.Settings) explore.GearState {
			g, err := b.At(s)
			require.NoError(t, err)
			return g
		}
		seen := 0
		for _, c := range gearChecks(t) {
			group, _, _ := strings.Cut(c.id, "-")
			if c.in["set"] != set || group != "answer" && group != "lash" && group != "way" || strings.HasPrefix(c.in["value"], "ring travel") {
				continue
			}
			seen++
			got := c.value(t, at(c.moved(t, 1)))
			switch {
			case strings.HasSuffix(c.in["value"], " per move"):
				got = (got - c.value(t, at(c.moved(t, -1)))) / 2
			case strings.HasSuffix(c.in["value"], " change"):
				got -= c.value(t, at(c.moved(t, 0)))
			}
			if group == "way" {
				assert.Greater(t, c.expected*got, noticeable, "%s: %s (%s)", c.id, c.source, c.strength)
				continue
			}
			assert.InDelta(t, c.expected, got, c.tolerance, "%s: %s (%s)", c.id, c.source, c.strength)
		}
		assert.Greater(t, seen, 10, "set %s", set)
	}
}

// A ring gear's spiral finds the pinion's: rows blank-A-ring-spiral and
// blank-B-ring-spiral, computed independently. The pinion spiral is the table's 50
// within what a ring spiral of four decimals leaves open.
func TestRingSpiral(t *testing.T) {
	for _, c := range gearChecks(t) {
		if c.id != "blank-A-ring-spiral" {
			continue
		}
		spiral := strconv.FormatFloat(c.expected, 'f', -1, 64)
		set := gearCase(t, changed(t, caseText(t, "hypoid-11x41.yaml"), "pinion_spiral_deg: 50", "ring_spiral_deg: "+spiral)).Set
		assert.InDelta(t, 50, set.SpiralDeg, 0.001)
		blank, err := mesh.NewBlank(set)
		require.NoError(t, err)
		assert.InDelta(t, c.expected, blank.RingSpiralRad*180/3.141592653589793, c.tolerance)
	}
	assert.Equal(t, 35.0, gearCase(t, caseText(t, "spiral-bevel-11x41.yaml")).Set.SpiralDeg, "without an offset the two are one")
}

// turnedTo turns the nut until a figure has a value.
func turnedTo(t testing.TB, p explore.Parts, s explore.Settings, value float64, figure func(explore.PinionState) float64) explore.PinionState {
	t.Helper()
	state := func(deg float64) explore.PinionState {
		s.NutDeg = deg
		pin, _, err := explore.MechanicsOnly(p, s)
		require.NoError(t, err)
		return pin
	}
	const leastDeg, mostDeg, closeDeg = 0, 260, 1e-9
	root, err := solve.Bracketed(func(deg float64) float64 { return figure(state(deg)) - value }, leastDeg, mostDeg, closeDeg)
	require.NoError(t, err)
	return state(root.X)
}

// The parts files in testdata/cases against the rows of mechanics.csv about the
// default axle; all were computed independently and are not published. A drag in those
// rows has the seal in it.
func TestPartsFilesAgainstTheCheckTable(t *testing.T) {
	type in = func(string) float64
	axle := caseText(t, "default-axle.yaml")
	p := partsCase(t, axle)
	lbin := func(nmm float64) float64 { return nmm / axletest.LbInNmm }
	sides := func(p explore.Parts, s explore.Settings) explore.SideState {
		_, sd, err := explore.MechanicsOnly(p, s)
		require.NoError(t, err)
		return sd
	}
	for _, c := range axletest.Checks(t, "DP-set-", "DC-force-", "DC-spread-", "DC-added-", "DP-solid-drag-", "DB-running-", "DC-unequal-shift") {
		torque := func(v in) explore.PinionState {
			pin, _, err := explore.MechanicsOnly(p, explore.Settings{TorqueTargetNmm: v("rotating")*axletest.LbInNmm - p.SealNmm})
			require.NoError(t, err)
			return pin
		}
		fitted := func(v in) explore.SideState { return sides(p, explore.Settings{SideFitMM: v("total")}) }
		running := func(v in, used bool) float64 {
			pin := turnedTo(t, p, explore.Settings{UsedBearings: used}, v("preload"), func(s explore.PinionState) float64 { return s.PreloadN - s.EndPlayMM })
			return lbin(pin.PinionTorqueNmm)
		}
		answer := map[string]func(in) float64{
			"DP-set-angle":    func(v in) float64 { return torque(v).NutDeg },
			"DP-set-torque":   func(v in) float64 { return torque(v).NutTorqueNmm / axletest.LbFtNmm },
			"DP-set-preload":  func(v in) float64 { return torque(v).PreloadN },
			"DP-set-crush":    func(v in) float64 { return torque(v).SpacerSetMM },
			"DP-set-stem":     func(v in) float64 { return torque(v).StemN },
			"DC-force":        func(v in) float64 { return fitted(v).SidePreloadN },
			"DC-spread":       func(v in) float64 { return fitted(v).SpreadMM },
			"DC-added":        func(v in) float64 { return lbin(fitted(v).SideRiseNmm) },
			"DB-running-new":  func(v in) float64 { return running(v, false) },
			"DB-running-used": func(v in) float64 { return running(v, true) },
			"DP-solid-drag": func(v in) float64 {
				shims := strconv.FormatFloat(1+v("gap"), 'f', -1, 64)
				p := partsCase(t, changed(t, caseText(t, "default-axle-solid.yaml"), "preload_shims_mm: 0.98", "preload_shims_mm: "+shims))
				pin := turnedTo(t, p, explore.Settings{}, v("torque")*axletest.LbFtNmm, func(s explore.PinionState) float64 { return s.NutTorqueNmm })
				return lbin(pin.PinionTorqueNmm)
			},
			"DC-unequal": func(v in) float64 {
				p := partsCase(t, changed(t, axle, "ring_gear_side_pedestal_n_per_mm: 90000", "ring_gear_side_pedestal_n_per_mm: "+strconv.FormatFloat(v("back"), 'f', -1, 64),
					"opposite_side_pedestal_n_per_mm: 90000", "opposite_side_pedestal_n_per_mm: "+strconv.FormatFloat(v("tooth"), 'f', -1, 64)))
				return sides(p, explore.Settings{SideFitMM: 2 * v("shim")}).ShiftToPinionMM
			},
		}[rowKind(c.ID)]
		require.NotNil(t, answer, c.ID)
		assert.InDelta(t, c.Expected, answer(func(name string) float64 { return c.In(t, name) }), c.Tolerance, "%s: %s (%s)", c.ID, c.Source, c.Strength)
	}
}

// rowKind is a row's id without its last part, which tells the rows of a kind apart.
func rowKind(id string) string {
	id = strings.ReplaceAll(id, "--", "-") // a gap below zero
	return id[:strings.LastIndex(id, "-")]
}

// The mechanics alone are those of the whole axle: the middle of a family, once as a
// bench and once as parts, differs only by what its teeth drag and by the preload that
// the pinion's place is counted from.
func TestPartsAgreeWithTheBench(t *testing.T) {
	fam := family.Beech()
	m := fam.Model
	p := explore.Parts{Pinion: fam.Params(), Sides: fam.Sides(), Film: fam.Film(false),
		UsedFriction: fam.Film(true).BoundaryFriction, SealNmm: (m.SealNmm.Low + m.SealNmm.High) / 2, Ratio: fam.Sheet.Ratio(), Efficiency: m.MeshEfficiency}
	p.Pinion.UnseatedRollersMM, p.Breakaway = m.UnseatedRollersMM, (m.Breakaway.Low+m.Breakaway.High)/2
	b := bench(t)
	const partsPlaceN = 7000
	giveMM := m.Inner.DeflectionMM(fam.ReferencePreloadN()) - m.Inner.DeflectionMM(partsPlaceN)
	for _, s := range []explore.Settings{
		{}, explore.Finished(fam, false), explore.Finished(fam, true), {NutDeg: 150, Greased: true, CapsSnug: true, SideFitMM: 0.2, ShimToRingGearMM: 0.05},
		{NutDeg: 400, InnerCupGapMM: 0.05}, {SideFitMM: -0.1, OuterCupGapMM: 0.02, NutDeg: 30},
		{NutNmm: 300e3, NotchNmm: 300, SealExtraNmm: 500, NutGripGone: true}, {TorqueTargetNmm: 2500, SpacerCrushedMM: 0.6, NotchNmm: 300},
		{SideFitMM: 0.2, RingGearConeGapMM: 0.1, HousingGrowthMM: 0.15, BrakeNmm: 4000},
	} {
		whole := at(t, b, s)
		pin, sides, err := explore.MechanicsOnly(p, s)
		require.NoError(t, err)
		for _, counted := range []*float64{&pin.PinionOutMM, &pin.InnerGiveMM} {
			*counted -= giveMM
		}
		assert.InDelta(t, whole.Pinion.PinionOutMM, pin.PinionOutMM, sameMM)
		assert.InDelta(t, whole.Pinion.InnerGiveMM, pin.InnerGiveMM, sameMM)
		pin.PinionOutMM, pin.InnerGiveMM = whole.Pinion.PinionOutMM, whole.Pinion.InnerGiveMM
		assert.InEpsilon(t, 1+whole.Pinion.BreakawayTorqueNmm, 1+pin.BreakawayTorqueNmm, 1e-12)
		pin.BreakawayTorqueNmm = whole.Pinion.BreakawayTorqueNmm
		assert.Equal(t, whole.Pinion, pin)
		more := whole.Sides.MeshDragNmm - sides.MeshDragNmm
		assert.GreaterOrEqual(t, more, 0.0, "free teeth drag least")
		sides.MeshDragNmm += more
		sides.SideRiseNmm += more
		sides.TotalTorqueNmm += more
		assert.InDelta(t, whole.Sides.TotalTorqueNmm, sides.TotalTorqueNmm, sameNmm)
		assert.InDelta(t, whole.Sides.SideRiseNmm, sides.SideRiseNmm, sameNmm)
		sides.TotalTorqueNmm, sides.SideRiseNmm = whole.Sides.TotalTorqueNmm, whole.Sides.SideRiseNmm
		assert.Equal(t, whole.Sides, sides)
	}
}

func TestGearBenchIsMeshOnly(t *testing.T) {
	c := gearCase(t, caseText(t, "hypoid-11x41.yaml"))
	b, err := explore.NewGearBench(c)
	require.NoError(t, err)
	s := explore.Settings{PinionOutMM: -0.1, RingAwayMM: 0.05, OffsetMM: 0.02, ShaftAngleRad: 0.0005, FilmMM: 0.009, RunoutTIRMM: 0.04}
	want, patterns, err := explore.MeshOnly(c.Set, c.Drive, c.Coast, c.BacklashMM,
		mesh.Position{PinionOutMM: -0.1, RingAwayMM: 0.05, OffsetMM: 0.02, ShaftAngleRad: 0.0005}, 0.009, 0.04)
	require.NoError(t, err)
	got, err := b.At(s)
	require.NoError(t, err)
	assert.Equal(t, want, got)
	drawn, err := b.Patterns(s)
	require.NoError(t, err)
	assert.Equal(t, patterns, drawn)
	_, err = b.At(explore.Settings{PinionOutMM: 9})
	assert.ErrorIs(t, err, explore.ErrSetting)
	_, err = b.Patterns(explore.Settings{FilmMM: -1})
	assert.ErrorIs(t, err, explore.ErrSetting)
	c.Set.PinionTeeth = 0
	_, err = explore.NewGearBench(c)
	assert.Error(t, err)
}

// Each flank has its own ease-off where the file says so, and a lean of it moves the
// pattern's ends apart.
func TestEaseOffOfEachFlank(t *testing.T) {
	const both = "ease_off: {length_mm: 0.060, profile_mm: 0.025, center_along: 0.45, center_up: 0.50}"
	c := gearCase(t, changed(t, caseText(t, "hypoid-11x41.yaml"), both,
		"drive_ease_off: {length_in: 0.002, profile_mm: 0.025, center_along: 0.3, center_up: 0.50}\ncoast_ease_off: {length_mm: 0.06, profile_mm: 0.025, center_along: 0.6, center_up: 0.4, twist_mm: -0.01}"))
	assert.Equal(t, mesh.EaseOff{LengthMM: 0.0508, ProfileMM: 0.025, CenterS: 0.3, CenterT: 0.5}, c.Drive) // 25.4 mm to the inch, exact
	assert.Equal(t, mesh.EaseOff{LengthMM: 0.06, ProfileMM: 0.025, CenterS: 0.6, CenterT: 0.4, TwistMM: -0.01}, c.Coast)
	assert.Contains(t, c.Source, "not published")
}

func TestMechanicsOnlyRefuses(t *testing.T) {
	p := partsCase(t, caseText(t, "default-axle.yaml"))
	for _, c := range []struct {
		s    explore.Settings
		what string
	}{
		{explore.Settings{NutDeg: -1}, "the nut is turned"},
		{explore.Settings{SideFitMM: 9}, "side bearing preload over zero end play"},
		{explore.Settings{InnerCupGapMM: 0.1}, "cup_hold_n"},
		{explore.Settings{TorqueTargetNmm: 100, Greased: true}, "packing grease or rough rollers alone"},
	} {
		_, _, err := explore.MechanicsOnly(p, c.s)
		require.ErrorIs(t, err, explore.ErrSetting)
		says(t, err, c.what)
	}
	p.UsedFriction = 0
	_, _, err := explore.MechanicsOnly(p, explore.Settings{UsedBearings: true})
	require.ErrorIs(t, err, explore.ErrSetting)
	says(t, err, "used_friction")
	_, _, err = explore.MechanicsOnly(p, explore.Settings{PinionOutMM: 99, FilmMM: -1})
	assert.NoError(t, err, "settings of the teeth are not looked at")
}

// Nothing between the cones: the nut carries the bearings alone.
func TestMockUpBuild(t *testing.T) {
	text := changed(t, caseText(t, "default-axle.yaml"), "between_cones: collapsible-spacer", "between_cones: nothing")
	p := partsCase(t, text[:strings.Index(text, "collapsible_spacer:\n")])
	pin, _, err := explore.MechanicsOnly(p, explore.Settings{TorqueTargetNmm: 2000})
	require.NoError(t, err)
	assert.InDelta(t, pin.StemN, pin.PreloadN, 1e-6)
	assert.Zero(t, pin.SpacerN)
	assert.InDelta(t, 2000, pin.PinionBearingTorqueNmm, 1e-3)
}

func TestFilesToStartFrom(t *testing.T) {
	for _, kind := range explore.StartKinds() {
		text, err := explore.StartFile(strings.ToUpper(kind))
		require.NoError(t, err)
		if kind == "gears" {
			_, err = explore.NewGearBench(gearCase(t, string(text)))
		} else {
			p := partsCase(t, string(text))
			assert.Positive(t, p.UsedFriction)
			assert.Positive(t, p.Pinion.InnerCupHoldN)
			_, _, err = explore.MechanicsOnly(p, explore.Settings{TorqueTargetNmm: 2500, SideFitMM: 0.2})
			// What a remark says to write instead is right.
			solid := changed(t, string(text), "#   solid_spacer:", "solid_spacer:")
			solid = changed(t, solid[:strings.Index(solid, "collapsible_spacer:\n  stiff")], "  end_play_at_contact_mm: 0.70      # when the nut is finger tight\n", "", "collapsible-spacer", "solid-spacer")
			assert.Equal(t, 0.98, partsCase(t, solid).Pinion.PreloadShimMM)
		}
		require.NoError(t, err)
	}
	_, err := explore.StartFile("axle")
	says(t, err, "gears and parts")
}

// A mistake made in a good file, where it is named and in what words.
func TestMistakesInCases(t *testing.T) {
	const ease = "ease_off: {length_mm: 0.060"
	const flank = "ease_off: {length_mm: 0.1, profile_mm: 0.1, center_along: 0.5, center_up: 0.5}\n"
	const flanks = "drive_" + flank + "coast_" + flank
	for _, c := range []struct {
		name, file, old, new string
		line                 string // what the line that is named holds
		what, want           string
	}{
		{"missing", "hypoid-11x41.yaml", "backlash_mm: 0.150\n", "", "# Set A", "the file has no backlash_mm or backlash_in", "between 0 and 2 mm"},
		{"no spiral", "hypoid-11x41.yaml", "pinion_spiral_deg: 50\n", "", "# Set A", "has no pinion_spiral_deg or ring_spiral_deg", "mean spiral angle"},
		{"both spirals", "hypoid-11x41.yaml", "pinion_spiral_deg: 50", "pinion_spiral_deg: 50\nring_spiral_deg: 29", "ring_spiral", "ring_spiral_deg repeats what pinion_spiral_deg", "one of the two"},
		{"slip", "hypoid-11x41.yaml", "offset_mm", "ofset_mm", "ofset_mm", "ofset_mm is not a key", "offset_mm"},
		{"no unit", "hypoid-11x41.yaml", "offset_mm", "offset", "offset", "offset is not a key", "offset_mm"},
		{"ease-off twice", "hypoid-11x41.yaml", "backlash_mm: 0.150\n", "backlash_mm: 0.150\n" + flanks, "ease_off: {length_mm: 0.060", "ease_off does not belong here", "ease_off alone"},
		{"one flank", "hypoid-11x41.yaml", ease, "drive_" + ease, "# Set A", "has no coast_ease_off", "the coast side"},
		{"no pitch design", "hypoid-11x41.yaml", "cutter_radius_mm: 114.3", "cutter_radius_mm: 25", "pinion_spiral", "these gears cannot mesh", "go together"},
		{"no teeth", "spiral-bevel-11x41.yaml", "pressure_angle_deg: 20", "pressure_angle_deg: 10", "ring_teeth", "these gears cannot mesh", "takes over"},
		{"more pinion", "hypoid-11x41.yaml", "pinion_teeth: 11", "pinion_teeth: 41", "ring_teeth", "the ring gear has 41 teeth and the pinion 41", "more teeth"},
		{"ring spiral out of reach", "hypoid-11x41.yaml", "pinion_spiral_deg: 50", "ring_spiral_deg: 69", "ring_spiral", "no pinion spiral gives the ring gear 69 degrees", "the spiral of the pinion instead"},
		{"key of the other kind", "hypoid-11x41.yaml", "offset_mm: 35", "offset_mm: 35\nnut: {a: 1}", "nut:", "nut is not a key", "explore start gears"},
		{"reference", "hypoid-11x41.yaml", "offset_mm: 35", "offset_mm: &o 35", "&o", "a reference, which these files do not use", "a number"},

		{"unknown design", "default-axle.yaml", "between_cones: collapsible-spacer", "between_cones: rubber", "rubber", `between_cones is "rubber"`, "collapsible-spacer, solid-spacer or nothing"},
		{"spacer of another design", "default-axle.yaml", "between_cones: collapsible-spacer", "between_cones: nothing", "collapsible_spacer:", "collapsible_spacer does not belong here: between_cones is nothing", "no group collapsible_spacer"},
		{"pack of another design", "default-axle-solid.yaml", "solid_spacer: {", "collapsible_spacer: {a: 1}\nsolid_spacer: {", "collapsible_spacer:", "collapsible_spacer does not belong here", "no group collapsible_spacer"},
		{"end play with a pack", "default-axle-solid.yaml", "between_cones: solid-spacer", "between_cones: solid-spacer\n  end_play_at_contact_in: 0.02", "end_play", "does not belong here: with a solid spacer the preload shims decide it", "preload_shims and zero_end_play"},
		{"bearing that cannot be", "default-axle.yaml", "bore_mm: 30.162", "bore_mm: 70", "outer:", "larger than the bore", "one bearing"},
		{"spacer that snaps", "default-axle.yaml", "peak_load_n: 88000", "peak_load_n: 200000", "collapsible_spacer:", "too fast for this spacer", "can be assembled"},
		{"peak below the crush", "default-axle.yaml", "peak_load_n: 88000", "peak_load_n: 8000", "collapsible_spacer:", "must not be below the crush load", "can be assembled"},
		{"ratio", "default-axle.yaml", "pinion_teeth: 11", "pinion_teeth: 50", "ring_teeth", "the ring gear has 41 teeth", "more teeth"},
		{"unit", "default-axle.yaml", "prevailing_lb_ft: 20", "prevailing_kg: 20", "prevailing_kg", "not a key", "prevailing_"},
		{"specification", "default-axle.yaml", "thread_friction: 0.14", "thread_friction: {low: 0.1, high: 0.15}", "thread_friction", "holds a group of keys", "between 0.03 and 0.5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := changed(t, caseText(t, c.file), c.old, c.new)
			_, problems := explore.ReadGearCase([]byte(bad), "mine.yaml")
			if strings.HasPrefix(c.file, "default") {
				_, problems = explore.ReadParts([]byte(bad), "mine.yaml")
			}
			require.Len(t, problems, 1, "%v", problems)
			assert.Contains(t, words(problems[0].What), c.what)
			assert.Contains(t, words(problems[0].Want), c.want)
			assert.Contains(t, strings.Split(bad, "\n")[problems[0].Line-1], c.line)
			assert.Equal(t, "mine.yaml", problems[0].File)
			assert.NotErrorIs(t, problems, explore.ErrNotGears)
		})
	}
}

// Mistakes in different places are all named at once, in the order of the file.
func TestAllMistakesOfACaseAtOnce(t *testing.T) {
	ordered := func(problems datasheet.Problems, n int) {
		t.Helper()
		require.Len(t, problems, n, "%v", problems)
		for i, p := range problems[1:] {
			assert.LessOrEqual(t, problems[i].Line, p.Line)
		}
	}
	_, problems := explore.ReadGearCase([]byte(changed(t, caseText(t, "hypoid-11x41.yaml"),
		"name: Hypoid, 11 by 41", "name:", "ring_teeth: 41", "ring_teeth: 41.5", "offset_mm", "ofset_mm", "face_width_mm: 32", "face_width_mm: 3.2e9",
		"pinion_spiral_deg: 50", "pinion_spiral_deg: fifty", "center_up: 0.50", "center_up: 50", "backlash_mm: 0.150", "backlash_mm: 0,150\nbacklash_in: 0.006")), "x")
	ordered(problems, 8)
	_, problems = explore.ReadParts([]byte(changed(t, caseText(t, "default-axle.yaml"),
		"end_play_at_contact_mm: 0.70", "end_play_at_contact_mm: -1", "efficiency: 0.97", "efficiency: 97", "rollers: 19", "rollers: many",
		"viscosity_cst: 200", "viscosity: 200", "threads_per_inch: 14", "threads_per_inch: 1400", "housing_n_per_mm: 600000\n", "housing_n_per_mm: soft\n",
		"bore_mm: 30.162", "bore_mm: 70", "usable_crush_mm: 2.5", "usable_crush_mm: 2.5 mm")), "x")
	ordered(problems, 8)
}

func TestWhatIsNoCase(t *testing.T) {
	for _, text := range []string{"", "shopping: bread\n", "- 1\n", "\xff", "a: [", "shimwright_gears: 2\nring_teeth: 41\n", caseText(t, "default-axle.yaml")} {
		_, problems := explore.ReadGearCase([]byte(text), "x")
		require.Len(t, problems, 1, text)
		assert.ErrorIs(t, problems, explore.ErrNotGears)
		assert.NotErrorIs(t, problems, explore.ErrNotParts)
		assert.Contains(t, words(problems[0].Tell()), "; needed: ")
	}
	for _, text := range []string{"", "shimwright_parts: 9\n", caseText(t, "hypoid-11x41.yaml")} {
		_, problems := explore.ReadParts([]byte(text), "x")
		require.Len(t, problems, 1, text)
		assert.ErrorIs(t, problems, explore.ErrNotParts)
	}
}

// FuzzCases hands any bytes to both readers. What is read without a mistake can be
// shown.
func FuzzCases(f *testing.F) {
	for _, name := range []string{"hypoid-11x41.yaml", "spiral-bevel-11x41.yaml", "default-axle.yaml", "default-axle-solid.yaml"} {
		f.Add([]byte(caseText(f, name)))
	}
	for _, s := range []string{"", "a", "a: b", "shimwright_gears: 1", "shimwright_parts: 1\nassembly: {between_cones: nothing}", "ring_teeth: {a: [1, {b: c}]}", "ease_off: 3\npinion_teeth: 11",
		"shimwright_gears: 1\ndrive_ease_off:\ncoast_ease_off: {}", "bearings: {inner: 1, outer: [], side: }\nstiffness: !!x 3"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, wrong := explore.ReadGearCase(data, "x")
		if len(wrong) == 0 {
			if _, err := explore.NewGearBench(c); err != nil {
				t.Fatal(err)
			}
		}
		p, more := explore.ReadParts(data, "x")
		if len(more) == 0 {
			if _, _, err := explore.MechanicsOnly(p, explore.Settings{NutDeg: 90, SideFitMM: 0.1}); err != nil {
				t.Fatal(err)
			}
		}
		for _, q := range append(wrong, more...) {
			if q.Line < 1 || q.Column < 1 || words(q.What) == "" || words(q.Want) == "" {
				t.Fatalf("%#v", q)
			}
		}
	})
}
