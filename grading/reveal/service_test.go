package reveal

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim/bearing"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/service"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// finished is an axle of a job and a finish in the middle of its sheet.
func finished(t *testing.T, seed uint64) (family.Family, truth.Axle, truth.Finish) {
	t.Helper()
	j, err := scenariostest.Generate(family.Beech(), seed)
	require.NoError(t, err)
	x, _ := truth.Open(j.Sealed())
	x.InnerCupGapMM, x.OuterCupGapMM, x.RingGearConeGapMM, x.OppositeConeGapMM = 0.1, 0.1, 0.1, 0.1
	parts, err := partsOf(j.Card.Family, x)
	require.NoError(t, err)
	s, err := rightSetting(j.Card.Family, x, parts)
	require.NoError(t, err)
	f := truth.Finish{SignedOff: true, PinionFitted: true, CaseFitted: true, CapsTight: true,
		PinionPreloadN: s.PinionPreloadN, ClampN: s.StemN, SpacerN: s.SpacerN,
		SidePreloadN: s.SidePreloadN, SideFitMM: j.Card.Family.Sheet.SidePreload.Mid(), RunoutTIRMM: x.GearTIRMM}
	return j.Card.Family, x, f
}

const jobs = 8

// An axle in the middle of its sheet gets one sentence, and so does one at the limit
// of any one line.
func TestAxleWithinItsSheetGetsOneSentence(t *testing.T) {
	for seed := uint64(1); seed <= jobs; seed++ {
		fam, x, mid := finished(t, seed)
		sh := fam.Sheet
		parts, err := partsOf(fam, x)
		require.NoError(t, err)
		preload := func(nmm float64) float64 {
			at := fam
			at.Sheet.PinionTorqueNew, at.Sheet.PinionTorqueUsed = family.TorqueSpec{LowNmm: nmm, HighNmm: nmm}, family.TorqueSpec{LowNmm: nmm, HighNmm: nmm}
			s, err := rightSetting(at, x, parts)
			require.NoError(t, err)
			return s.PinionPreloadN
		}
		torque := sh.PinionTorque(x.UsedBearings)
		for what, put := range map[string]func(*truth.Finish){
			"middle":       func(*truth.Finish) {},
			"out":          func(f *truth.Finish) { f.DepthErrorMM = sh.DepthToleranceMM },
			"deep":         func(f *truth.Finish) { f.DepthErrorMM = -sh.DepthToleranceMM },
			"most preload": func(f *truth.Finish) { f.PinionPreloadN = preload(torque.HighNmm) },
			"least":        func(f *truth.Finish) { f.PinionPreloadN = preload(torque.LowNmm) },
			"close":        func(f *truth.Finish) { f.RingAwayMM = -sh.Backlash.Half() },
			"wide":         func(f *truth.Finish) { f.RingAwayMM = sh.Backlash.Half() },
			"runout":       func(f *truth.Finish) { f.RunoutTIRMM = sh.RunoutMM },
		} {
			f := mid
			put(&f)
			got := inService(fam, x, f)
			assert.Len(t, got.Says, 1, "job %d, %s: %s", seed, what, said(got, quantity.Inch))
			assert.NotNil(t, got.Worked)
			assert.Contains(t, said(got, quantity.Inch), "no forecast for a real axle")
		}
	}
}

// said is what a service tells, as a person reads it.
func said(s Service, units quantity.System) string {
	var out []string
	for _, m := range s.Says {
		out = append(out, text.NewPrinter(units, text.Overlay{}).Print(m))
	}
	return strings.Join(out, " ")
}

// What is wrong is said, with the numbers of the model and no more than three things.
func TestWhatIsWrongIsSaid(t *testing.T) {
	fam, x, mid := finished(t, 1)
	for what, c := range map[string]struct {
		put  func(*truth.Finish)
		want string
	}{
		"play":         {func(f *truth.Finish) { f.PinionPreloadN, f.PinionEndPlayMM = 0, 0.1 }, `With 0\.100 mm of pinion end play the outer pinion bearing would carry on \d+ of 360 degrees`},
		"much preload": {func(f *truth.Finish) { f.PinionPreloadN *= 3 }, `pinion bearings would make \d+ W of heat against \d+, with \d+ % of the rating life`},
		"no preload":   {func(f *truth.Finish) { f.PinionPreloadN = 100 }, `so little pinion bearing preload would leave one bearing carrying on \d+ of 360`},
		"deep":         {func(f *truth.Finish) { f.DepthErrorMM = -0.35 }, `pattern runs off the tooth on \w+: the (toe end|root edge)`},
		"high":         {func(f *truth.Finish) { f.DepthErrorMM = 0.3 }, `pattern runs off the tooth on \w+: the (heel end|face edge)`},
		"floats":       {func(f *truth.Finish) { f.SidePreloadN, f.SideFitMM = 0, -0.2 }, `case would float`},
		"binds":        {func(f *truth.Finish) { f.RingAwayMM = -0.4 }, `no backlash at all`},
		"slack":        {func(f *truth.Finish) { f.RingAwayMM = 0.4 }, `pinion turns \d\.\d degrees before the teeth meet`},
		"runs out":     {func(f *truth.Finish) { f.RunoutTIRMM = 0.15 }, `Runout would vary`},
		"loose stack":  {func(f *truth.Finish) { f.SpacerN, f.ClampN = 2000, 10_000 }, `nothing would hold the parts on the pinion`},
		"little clamp": {func(f *truth.Finish) { f.SpacerN, f.ClampN = 25_000, 33_000 }, `the spacer would hold \d+ % of what a new one does`},
		"cup": {func(f *truth.Finish) { f.Remaining = []fault.ID{fault.InnerCupHigh} },
			`When the pinion bearing cup seats, the preload falls: 0\.\d+ mm of pinion end play is left, and the pinion comes out by 0\.\d+ mm`},
		"cone": {func(f *truth.Finish) { f.Remaining = []fault.ID{fault.RingGearConeHigh} },
			`When the side bearing cone seats, the ring gear moves away by 0\.\d+ mm`},
		"other cone": {func(f *truth.Finish) { f.Remaining = []fault.ID{fault.OppositeConeHigh} },
			`When the side bearing cone seats, the ring gear moves nearer by 0\.\d+ mm`},
		"caps":   {func(f *truth.Finish) { f.Remaining = []fault.ID{fault.CapsSwapped} }, `Left out of this: side bearing caps changed over`},
		"apart":  {func(f *truth.Finish) { f.CaseFitted = false }, `not together`},
		"astray": {func(f *truth.Finish) { f.DepthErrorMM = 6 }, `not worked out`},
	} {
		f := mid
		c.put(&f)
		got := inService(fam, x, f)
		assert.Regexp(t, c.want, said(got, quantity.Metric), what)
		assert.LessOrEqual(t, len(got.Says), 1+most, what)
		assert.Equal(t, got, inService(fam, x, f), "%s: twice the same", what)
		assert.NotRegexp(t, `\d (in|lb-ft|mph)\b`, said(got, quantity.Metric), what)
		assert.NotRegexp(t, `\d (mm|N·m|km/h)\b`, said(got, quantity.Inch), what)
	}
}

// In an aluminium housing a preload that a rightly set axle keeps warm can go; what
// even a rightly set one loses is the design's affair and not said.
func TestWarmPreload(t *testing.T) {
	fam, x, f := finished(t, 1)
	f.PinionPreloadN = 1
	parts, err := partsOf(fam, x)
	require.NoError(t, err)
	soft := tale{fam: fam, later: settingOf(x, f)}
	soft.right.Warm = service.Warm{PinionPreloadN: 1000}
	soft.is.Warm = service.Warm{ChangeMM: 0.02, PinionEndPlayMM: 0.02}
	soft.is.Duty.RiseDegC = 60
	assert.Contains(t, said(Service{Says: []text.Message{soft.warm()}}, quantity.Metric), "0.020 mm of end play")
	soft.right.Warm = service.Warm{PinionEndPlayMM: 0.01}
	assert.True(t, soft.warm().IsZero())
	assert.Equal(t, bearing.IronPerDegC, parts.HousingPerDegC)
	fam.Design.Housing = family.Aluminum
	parts, err = partsOf(fam, x)
	require.NoError(t, err)
	assert.Equal(t, bearing.AluminiumPerDegC, parts.HousingPerDegC)
}

// The place of the ring gear that the bench reports is the one its backlash is for.
func TestFinishKnowsWhereTheRingGearStands(t *testing.T) {
	const runoutMean = 0.002 // a mean of twelve places against the mean place
	for seed := uint64(1); seed <= jobs; seed++ {
		j, err := scenariostest.Generate(family.Beech(), seed)
		require.NoError(t, err)
		s, err := j.Stand()
		require.NoError(t, err)
		require.NoError(t, technician.Work(s, j.Card.Known, technician.Competent()))
		x, f := truth.Open(s.Sealed())
		set, err := mesh.NewSet(j.Card.Family.Model.Gears, x.Drive, x.Coast, x.DesignLashMM)
		require.NoError(t, err)
		c := set.NewContact()
		require.NoError(t, c.Move(settingOf(x, f).At))
		b := c.Backlash()
		assert.InDelta(t, f.BacklashMeanMM, (b.MinMM+b.MaxMM)/2, runoutMean, "job %d", seed)
	}
}

// Every name in the JSON says its unit, or is a count, a share or words.
func TestServiceNamesEndInUnits(t *testing.T) {
	fam, x, f := finished(t, 1)
	text, err := json.Marshal(inService(fam, x, f))
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(text, &got))
	units := []string{"_nm", "_rpm", "_km_per_h", "_hz", "_n", "_mm", "_deg", "_c", "_share", "_urad", "_ratio", "_w"}
	numbers := 0
	var walk func(string, any)
	walk = func(name string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, inner := range v {
				walk(k, inner)
			}
		case float64:
			numbers++
			assert.False(t, math.IsNaN(v))
			ends := false
			for _, u := range units {
				ends = ends || strings.HasSuffix(name, u)
			}
			assert.True(t, ends, name)
		}
	}
	walk("", got)
	assert.Greater(t, numbers, 40)
}

// What lies close to a limit is said to.
func TestNearWords(t *testing.T) {
	assert.True(t, near(verdict.NotNear).IsZero())
	assert.Equal(t, "reveal.just-inside", near(verdict.JustInside).Code())
	assert.Equal(t, "reveal.just-outside", near(verdict.JustOutside).Code())
}

// Every family that comes with the program can be worked out, and set to the middle
// of its sheet carries its stated duty with the print clear of both ends.
func TestEveryFamilyCarriesItsDuty(t *testing.T) {
	mid := func(r family.Range) float64 { return (r.Low + r.High) / 2 }
	for _, fam := range family.Shelf() {
		m := fam.Model
		x := truth.Axle{Drive: m.EaseOff, Coast: m.EaseOff, DesignLashMM: fam.Sheet.Backlash.Mid(),
			HouseNPerMM: mid(m.HouseNPerMM), NutNPerMM: mid(m.NutNPerMM), BoundaryFriction: mid(m.NewFriction),
			RingGearPedestalNPerMM: mid(m.PedestalNPerMM), OppositePedestalNPerMM: mid(m.PedestalNPerMM),
			Spacers: []truth.Spacer{{StiffnessNPerMM: 500_000, YieldN: 80_000}}}
		parts, err := partsOf(fam, x)
		require.NoError(t, err, fam.Code)
		s, err := rightSetting(fam, x, parts)
		require.NoError(t, err, fam.Code)
		r, err := service.Run(parts, s, service.StatedDuty(m.Gears.RingDiameterMM, fam.Sheet.Ratio()))
		require.NoError(t, err, fam.Code)
		for _, f := range []service.Flank{r.Drive, r.Coast} {
			assert.Zero(t, f.Toe+f.Heel, fam.Code)
			assert.Greater(t, f.Loaded.AreaShare, f.Free.AreaShare, fam.Code)
			assert.Positive(t, f.MovesMM, "%s: toward the heel", fam.Code)
		}
		f := truth.Finish{PinionFitted: true, CaseFitted: true, CapsTight: true, PinionPreloadN: s.PinionPreloadN,
			ClampN: s.StemN, SpacerN: s.SpacerN, SidePreloadN: s.SidePreloadN, SideFitMM: fam.Sheet.SidePreload.Mid()}
		assert.Len(t, inService(fam, x, f).Says, 1, fam.Code)
	}
}
