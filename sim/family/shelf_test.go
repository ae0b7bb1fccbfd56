package family_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// beechAsWritten is BEECH as it stood in Go before families became files. Recorded
// jobs depend on every bit of it.
func beechAsWritten() family.Family {
	nm := func(low, high float64) family.TorqueSpec {
		return family.TorqueSpec{LowNmm: low * 1000, HighNmm: high * 1000}
	}
	thou := func(x float64) float64 { return quantity.Thou(x).MM() }
	return family.Family{
		Code: "BEECH",
		Name: "Beech, half-ton rear, semi-floating",
		Use:  "pickup or large sedan; cast-iron carrier, not spread; drive the last side shim in with a soft-faced hammer",
		Sheet: family.Sheet{
			RingTeeth: 41, PinionTeeth: 12,
			CheckingDistanceMM: 62.58,
			DepthToleranceMM:   thou(2.5),
			PatternHeight:      family.Spec{LowMM: 0.47, HighMM: 0.53},
			Marks:              setup.PlusAddsShim,
			DepthShims:         family.Stock{LowMM: thou(20), HighMM: thou(40), StepMM: thou(1)},
			SideShims:          family.Stock{LowMM: thou(40), HighMM: thou(100), StepMM: thou(2)},
			Backlash:           family.Spec{LowMM: thou(5), HighMM: thou(8)},
			BacklashSpreadMM:   thou(2),
			RunoutMM:           thou(2.5),
			CaseFlangeRunoutMM: thou(2),
			PinionTorqueNew:    nm(2.3, 3.4),
			PinionTorqueUsed:   nm(0.9, 1.7),
			SealDrag:           nm(0.3, 0.5),
			SideRiseNew:        nm(0.4, 0.9),
			SideRiseUsed:       nm(0.2, 0.6),
			SidePreload:        family.Spec{LowMM: thou(6), HighMM: thou(10)},
			SpreadLimitMM:      thou(15),
			NutLow:             quantity.FootPounds(200),
			NutHigh:            quantity.FootPounds(450),
			CapTorque:          quantity.FootPounds(55),
			SpacerLengthMM:     12.70,
		},
		Model: family.Model{
			Gears: mesh.SetData{PinionTeeth: 12, RingTeeth: 41, OffsetMM: 38, RingDiameterMM: 216, FaceWidthMM: 33.5,
				SpiralDeg: 54.25, CutterRadiusMM: 114, PressureAngleDeg: 20},
			EaseOff: mesh.EaseOff{LengthMM: 0.060, ProfileMM: 0.025, CenterS: 0.45, CenterT: 0.50},
			Inner: bearing.Tapered{BoreMM: 41, OutsideMM: 90, WidthMM: 29, ContactAngleDeg: 20.1363, Y: 1.10,
				Rollers: 17, RollerLengthMM: 18, R1: 2.27e-6, S1: 0.018, RingStiffnessNPerMM: 1_000_000},
			Outer: bearing.Tapered{BoreMM: 32, OutsideMM: 73, WidthMM: 24, ContactAngleDeg: 20.1363, Y: 1.10,
				Rollers: 16, RollerLengthMM: 14, R1: 2.27e-6, S1: 0.017, RingStiffnessNPerMM: 780_000},
			Side: bearing.Tapered{BoreMM: 45, OutsideMM: 82, WidthMM: 21, ContactAngleDeg: 15.9958, Y: 1.41,
				Rollers: 19, RollerLengthMM: 12.5, R1: 2.25e-6, S1: 0.011, RingStiffnessNPerMM: 400_000},
			Film:               bearing.Film{ViscosityCst: 200, SpeedRPM: 20},
			NewFriction:        family.Range{Low: 0.13, High: 0.17},
			UsedFriction:       family.Range{Low: 0.05, High: 0.09},
			Breakaway:          family.Range{Low: 1.2, High: 1.6},
			ThreadPitchMM:      25.4 / 14,
			ThreadDiameterMM:   21.047,
			FaceDiameterMM:     31,
			ThreadFriction:     family.Range{Low: 0.10, High: 0.15},
			PrevailingLbFt:     family.Range{Low: 12, High: 30},
			HouseNPerMM:        family.Range{Low: 450_000, High: 800_000},
			NutNPerMM:          family.Range{Low: 550_000, High: 800_000},
			PedestalNPerMM:     family.Range{Low: 75_000, High: 115_000},
			SpacerNPerMM:       family.Range{Low: 400_000, High: 700_000},
			SpacerYieldN:       family.Range{Low: 62_000, High: 90_000},
			SpacerPeakPart:     family.Range{Low: 1.02, High: 1.12},
			SpacerPeakDecayMM:  family.Range{Low: 0.08, High: 0.16},
			SpacerHardening:    family.Range{Low: 2_000, High: 16_000},
			SpacerUsableMM:     2.5,
			EndPlayAtContactMM: family.Range{Low: 0.30, High: 0.90},
			CupHoldN:           family.Range{Low: 3_500, High: 7_500},
			SealNmm:            family.Range{Low: 300, High: 500},
			MeshEfficiency:     0.97,
			UnseatedRollersMM:  0.035,
		},
	}
}

func TestBeechIsWhatItWas(t *testing.T) {
	want, got := beechAsWritten(), family.Beech()
	// What the files brought is not part of the comparison.
	want.Design, want.Notes, want.Invented = got.Design, got.Notes, got.Invented
	require.Equal(t, want, got)
	assert.True(t, want == got, "to the last bit")
	assert.Equal(t, family.Design{Preload: family.CollapsibleSpacer, DepthShim: family.UnderInnerCone, SideAdjust: family.OutsideShims,
		DriveFlank: family.Convex, Housing: family.Iron, Entry: family.ByHand, ToothForm: family.FaceMilled}, got.Design)
}

// Inches of a file are the thousandths of the rest of the program, bit for bit.
func TestInchesAreThousandths(t *testing.T) {
	mine := strings.Replace(beechText(t), "code: BEECH", "code: MINE", 1)
	for tenths := 2; tenths <= 190; tenths++ {
		in := fmt.Sprintf("%.4f", float64(tenths)/10_000)
		f, err := family.Parse([]byte(strings.Replace(mine, "depth_tolerance_in: 0.0025", "depth_tolerance_in: "+in, 1)), "x")
		if tenths < 5 {
			require.Error(t, err, "below half a step of the shims")
			continue
		}
		require.NoError(t, err, in)
		assert.True(t, f.Sheet.DepthToleranceMM == quantity.Thou(float64(tenths)/10).MM(), in)
	}
	f, err := family.Parse([]byte(strings.Replace(mine, "depth_tolerance_in: 0.0025", "depth_tolerance_mm: 0.0635", 1)), "x")
	require.NoError(t, err)
	assert.InDelta(t, family.Beech().Sheet.DepthToleranceMM, f.Sheet.DepthToleranceMM, 1e-12, "either unit will do")
}

func fileOf(t testing.TB, code string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("data", strings.ToLower(code)+".yaml"))
	require.NoError(t, err)
	return string(b)
}

func beechText(t testing.TB) string { return fileOf(t, "BEECH") }

// Every family that comes with the program stands the same check as a person's own,
// meshes with backlash at both ends of its spec, and can be finished at the middle
// of its spreads: torque reached inside the nut's spec, the rise inside its own.
func TestShelf(t *testing.T) {
	// Mean spiral of the ring gear that the pinion's was chosen for, degrees. Invented
	// with the sheets.
	spiral := map[string]float64{"ALDER": 31, "BEECH": 32, "CEDAR": 33, "DOGWOOD": 33, "ELM": 34, "FIR": 33, "GORSE": 32, "HAZEL": 33, "IRONBARK": 35, "JUNIPER": 30}
	const spiralTolDeg = 0.25 // one step of the pinion's spiral
	all := family.Shelf()
	require.Len(t, all, 10)
	for i, f := range all {
		t.Run(f.Code, func(t *testing.T) {
			assert.Empty(t, family.Check([]byte(fileOf(t, f.Code)), f.Code))
			if i > 0 {
				assert.Less(t, all[i-1].Code, f.Code, "in order")
			}
			m, s := f.Model, f.Sheet
			for _, lash := range []float64{s.Backlash.LowMM, s.Backlash.Mid(), s.Backlash.HighMM} {
				set, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, lash)
				require.NoError(t, err)
				assert.Positive(t, set.NewContact().Backlash().MinMM)
				require.Contains(t, spiral, f.Code)
				assert.InDelta(t, spiral[f.Code], set.Blank().RingSpiralRad*180/math.Pi, spiralTolDeg)
			}
			for _, used := range []bool{false, true} {
				r, err := f.Reach(used)
				require.NoError(t, err)
				assert.True(t, r.Nut.Mid() >= s.NutLow.Nmm() && r.Nut.Mid() <= s.NutHigh.Nmm(), "nut %v", r.Nut)
				rise, err := f.Rise(used)
				require.NoError(t, err)
				assert.True(t, s.SideRise(used).Holds(rise.Mid()), "rise %v", rise)
			}
			for _, b := range []bearing.Tapered{m.Inner, m.Outer, m.Side} {
				assert.NoError(t, b.Validate())
			}
			assert.Contains(t, strings.ToLower(f.Invented), "invented")
			assert.Equal(t, f.Code != "JUNIPER", s.Marks.Known(), "most sets of one family carry no marks")
		})
	}
	all[0].Code = "CHANGED"
	assert.Equal(t, "ALDER", family.Shelf()[0].Code, "the shelf is the caller's copy")
}

// The worked sum behind Reach: at the pack it names, a nut tightened to the middle of
// its window gives the drag of the window's ends. The assembly is turned step by
// step by package pinion, which shares no formula with it but the bearings'.
func TestReachAgreesWithTheBench(t *testing.T) {
	const tolNmm = 2.0 // the nut is stopped at a torque, not at a drag
	for _, f := range family.Shelf() {
		r, err := f.Reach(false)
		require.NoError(t, err)
		film := f.Model.Film
		film.BoundaryFriction = f.Model.NewFriction.Mid()
		if f.Design.Preload != family.SolidSpacer {
			continue
		}
		for shims, want := range map[float64]float64{r.PreloadShimMM.LowMM: f.Sheet.PinionTorqueNew.HighNmm, r.PreloadShimMM.HighMM: f.Sheet.PinionTorqueNew.LowNmm} {
			p := f.Params()
			p.PreloadShimMM = shims
			b := build(t, p)
			b.RollPinion(30)
			pull := b.TurnNutToTorque(r.Nut.Mid(), 720)
			require.True(t, pull.Reached, f.Code)
			assert.InDelta(t, want, b.RunningTorqueNmm(film), tolNmm, f.Code)
		}
	}
}

// The collapsible families reach their drag at the torque the bench's own sum gives.
func TestReachAgreesWithGains(t *testing.T) {
	const share = 0.02 // the gains turn the nut a degree at a time
	for _, f := range family.Shelf() {
		if f.Design.Preload != family.CollapsibleSpacer {
			continue
		}
		for _, used := range []bool{false, true} {
			g, err := sim.NominalGains(f, used)
			require.NoError(t, err, f.Code)
			r, err := f.Reach(used)
			require.NoError(t, err)
			assert.InEpsilon(t, r.Nut.Mid(), g.NutAtTargetNmm, share, f.Code)
			assert.True(t, f.Sheet.SideRise(used).Holds(g.ReferenceRiseNmm), f.Code)
		}
	}
}

func TestDesigns(t *testing.T) {
	for _, f := range family.Shelf() {
		if f.Design.Entry == family.Spreader {
			assert.NotEqual(t, family.BearingAdjusters, f.Design.SideAdjust, "%s: rings need no spreader", f.Code)
		}
		assert.Equal(t, f.Design.DepthShim != family.UnderCageFlange, f.Design.ThickerIsDeeper(), f.Code)
		if f.Sheet.Marks == setup.PlusThickensCageShim {
			assert.False(t, f.Design.ThickerIsDeeper(), f.Code)
		}
	}
	assert.InDelta(t, 0.0625, family.Rings{Notches: 24, PitchMM: 1.5}.NotchTravelMM(), 1e-12)
	assert.Zero(t, family.Rings{}.NotchTravelMM())
}

func TestFindAny(t *testing.T) {
	f, err := family.FindAny("Juniper")
	require.NoError(t, err)
	assert.Equal(t, "JUNIPER", f.Code)
	f, err = family.FindAny(filepath.Join("data", "beech.yaml"))
	require.NoError(t, err)
	assert.Equal(t, family.Beech(), f)

	beechFile := beechText(t)
	dir := t.TempDir()
	t.Chdir(dir)
	require.NoError(t, os.WriteFile("mine", []byte(strings.Replace(beechFile, "code: BEECH", "code: MINE", 1)), 0o644))
	f, err = family.FindAny("mine")
	require.NoError(t, err, "a file without an ending")
	assert.Equal(t, "MINE", f.Code)

	_, err = family.FindAny("OAK")
	assert.Equal(t, &family.UnknownError{Code: "OAK", OrFile: true}, err)
	assert.Contains(t, text.Printer{}.Error(err), `"OAK"`)
	assert.Contains(t, text.Printer{}.Error(err), "JUNIPER")
	_, err = family.FindAny("oak.yaml")
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = family.FindAny(dir + string(filepath.Separator))
	assert.ErrorIs(t, err, datasheet.ErrNotAFile)
	require.NoError(t, os.WriteFile("bad.yaml", []byte("hello: there\n"), 0o644))
	_, err = family.FindAny("bad.yaml")
	assert.ErrorIs(t, err, family.ErrNotFamily)
	require.NoError(t, os.WriteFile("big.yaml", []byte(strings.Repeat("# nothing\n", 20_000)), 0o644))
	_, err = family.FindAny("big.yaml")
	assert.ErrorIs(t, err, family.ErrNotFamily)
}

// BenchmarkLoad reads all ten families as FindAny reads a file, without and with what
// Check asks of the physics.
func BenchmarkLoad(b *testing.B) {
	var texts [][]byte
	for _, f := range family.Shelf() {
		texts = append(texts, []byte(fileOf(b, f.Code)))
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, t := range texts {
			if p := family.Check(t, "x"); len(p) > 0 {
				b.Fatal(p)
			}
		}
	}
}

func build(t *testing.T, p pinion.Params) *pinion.Build {
	t.Helper()
	b, err := pinion.New(p)
	require.NoError(t, err)
	return b
}
