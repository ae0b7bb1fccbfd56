package bearing_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/bearing"
	ax "shimwright/sim/carrier/axletest"
	"shimwright/sim/text"
)

// stiff is a bearing with rigid rings, so that the contact law shows alone.
func stiff(angleDeg float64, rollers int, lengthMM float64) bearing.Tapered {
	b := ax.Inner()
	b.ContactAngleDeg, b.Rollers, b.RollerLengthMM = angleDeg, rollers, lengthMM
	b.RingStiffnessNPerMM = math.Inf(1)
	return b
}

// Every row's source and strength stand in the file, testdata/checks/mechanics.csv.
func TestCheckValues(t *testing.T) {
	answers := map[string]func(in func(string) float64) float64{
		"B1-deflection":     deflection,
		"B2-deflection-kgf": deflection,
		"B3-deflection":     deflection,
		"B4-angle":          func(in func(string) float64) float64 { return bearing.ContactAngleFromEDeg(in("e")) },
		"B4-Y": func(in func(string) float64) float64 {
			return bearing.AxialFactorY(bearing.ContactAngleFromEDeg(in("e")))
		},
		"B4-Y0": func(in func(string) float64) float64 {
			return bearing.StaticAxialFactorY0(bearing.ContactAngleFromEDeg(in("e")))
		},
		"B5-angle": func(in func(string) float64) float64 { return bearing.ContactAngleFromEDeg(in("e")) },
		"B5-Y": func(in func(string) float64) float64 {
			return bearing.AxialFactorY(bearing.ContactAngleFromEDeg(in("e")))
		},
		"B6-rating-first":      func(in func(string) float64) float64 { return ax.Inner().BasicLoadRatingN(in("roller")) },
		"B6-rating-second":     func(in func(string) float64) float64 { return ax.Inner().BasicLoadRatingN(in("roller")) },
		"F1-rolling":           variable,
		"F1-rolling-alternate": variable,
		"F2-sliding":           variable,
		"F2-sliding-alternate": variable,
		"F3-rolling-torque": func(in func(string) float64) float64 {
			return bearing.RollingTorqueNmm(in("rolling"), in("viscosity"), in("speed"))
		},
		"F4-inlet": func(in func(string) float64) float64 {
			return bearing.InletShearFactor(in("speed"), in("dm"), in("viscosity"))
		},
		"F4-starvation": func(in func(string) float64) float64 {
			return bearing.StarvationFactor(in("krs"), in("kz"), in("viscosity"), in("speed"), in("bore"), in("outside"))
		},
		"F5-total": func(in func(string) float64) float64 {
			share := bearing.BoundaryShare(in("speed"), in("viscosity"), in("dm"))
			sliding := in("sliding") * bearing.SlidingFriction(share, ax.NewFriction, in("film"))
			return bearing.RunningMomentNmm(in("inlet"), in("starvation"), in("rolling"), sliding, in("oil drag"))
		},
		"F6-starting": func(in func(string) float64) float64 {
			return ax.Inner().StartingTorqueNmm(in("force"), in("friction"))
		},
		"F7-rib": func(in func(string) float64) float64 {
			return bearing.RibStartingTorqueNmm(in("height"), in("friction"), in("force"), in("halfangle"))
		},
		"F7-rib-pair": func(in func(string) float64) float64 {
			return in("bearings") * bearing.RibStartingTorqueNmm(in("height"), in("friction"), in("force"), in("halfangle"))
		},
		"F8-boundary-share": func(in func(string) float64) float64 {
			return bearing.BoundaryShare(in("speed"), in("viscosity"), in("dm"))
		},
		"P1-unload": func(in func(string) float64) float64 {
			return bearing.UnloadingThrustN(in("preload"), in("ka"), in("kb"))
		},
		"L1-pressure": func(in func(string) float64) float64 { return cone(in).PressureMPa },
		"L1-raceway":  func(in func(string) float64) float64 { return cone(in).RacewayMM },
		"L1-stress":   func(in func(string) float64) float64 { return cone(in).HoopStressMPa },
		"L2-pressure": func(in func(string) float64) float64 { return cup(in).PressureMPa },
		"L2-raceway":  func(in func(string) float64) float64 { return cup(in).RacewayMM },
		"L3-setting":  coneSetting,
		"L4-setting":  coneSetting,

		"E1-aluminium":  thermal,
		"E1-iron":       thermal,
		"E1-warm-shaft": thermal,
	}
	pair := bearing.InSeries(ax.Inner(), ax.Outer()).With(ax.Pinion().HouseStiffnessNPerMM)
	table := map[string]func(preloadN float64) float64{
		"approach":  pair.ApproachMM,
		"stiffness": pair.StiffnessNPerMM,
		"running-new": func(p float64) float64 {
			return (ax.Inner().RunningTorqueNmm(p, ax.NewFilm()) + ax.Outer().RunningTorqueNmm(p, ax.NewFilm()) + ax.SealNmm) / ax.LbInNmm
		},
		"running-used": func(p float64) float64 {
			return (ax.Inner().RunningTorqueNmm(p, ax.UsedFilm()) + ax.Outer().RunningTorqueNmm(p, ax.UsedFilm()) + ax.SealNmm) / ax.LbInNmm
		},
		"starting": func(p float64) float64 {
			return (ax.Inner().StartingTorqueNmm(p, ax.NewFriction) + ax.Outer().StartingTorqueNmm(p, ax.NewFriction) + ax.SealNmm) / ax.LbInNmm
		},
	}
	for what, f := range table {
		for _, kn := range []string{"2", "4", "6", "8", "10", "15"} {
			answers["DB-"+what+"-"+kn] = func(in func(string) float64) float64 { return f(in("preload")) }
		}
	}
	ax.Compare(t, answers, "B", "F", "P", "L", "E", "DB")
}

func deflection(in func(string) float64) float64 {
	return stiff(in("angle"), int(in("rollers")), in("length")).DeflectionMM(in("force"))
}

// variable combines the forces as a spherical roller bearing's formulas ask.
func variable(in func(string) float64) float64 {
	load := math.Pow(in("radial"), in("forcepower")) + in("axialfactor")*math.Pow(in("axial"), in("forcepower"))
	return bearing.FrictionVariable(in("constant"), in("dm"), in("dpower"), load, in("loadpower"))
}

func cone(in func(string) float64) bearing.RingFit {
	return bearing.ConeOnSolidShaft(in("bore"), in("raceway"), in("tight"))
}

func cup(in func(string) float64) bearing.RingFit {
	return bearing.CupInHousing(in("outside"), in("raceway"), in("housing"), in("tight"))
}

func coneSetting(in func(string) float64) float64 {
	return bearing.ConeSettingLossMM(in("angle"), in("bore"), in("raceway"), in("tight"))
}

func thermal(in func(string) float64) float64 {
	return bearing.BackToBackPair{
		InnerAngleDeg: in("angle"), OuterAngleDeg: in("angle"),
		InnerCupRacewayMM: in("head"), OuterCupRacewayMM: in("tail"), DistanceMM: in("distance"),
		HousingPerDegC: in("housing"), ShaftAndConesPerDegC: in("shaft"),
	}.EndPlayChangeMM(in("rise"), in("hotter"))
}

// The published cup formula is 0.5 cot α (Do/D) Δ: the raceway's change of
// diameter, half of it on the radius, turned into axial movement by the cone's
// slope. A cup in a very thick housing of the same material must agree with that
// chain (Bearing Engineering Manual p. 79 against Cat. E1102m p. A130).
func TestCupSettingAgreesWithRacewayChange(t *testing.T) {
	const angle, outside, raceway, tight = 20.1363, 72.233, 64.0, 0.038
	shrink := bearing.CupInHousing(outside, raceway, 1e6, tight).RacewayMM
	want := 0.5 * shrink / math.Tan(angle*math.Pi/180)
	assert.InDelta(t, want, bearing.CupSettingLossMM(angle, outside, raceway, tight), 1e-6)
	grow := bearing.ConeOnSolidShaft(34.925, 43, 0.0175).RacewayMM
	assert.InDelta(t, 0.5*grow/math.Tan(angle*math.Pi/180), bearing.ConeSettingLossMM(angle, 34.925, 43, 0.0175), 1e-12)
	assert.Zero(t, bearing.CupSettingLossMM(angle, outside, raceway, -tight), "a loose cup takes nothing away")
	assert.Zero(t, bearing.ConeOnSolidShaft(34.925, 43, -0.01).PressureMPa)
	assert.Zero(t, bearing.CupInHousing(outside, raceway, 100, -0.01).PressureMPa)
}

// A plain sleeve pressed from outside by p carries 2p/(1−h²) hoop compression at
// its bore (thick-ring solution, from memory).
func TestCupHoopStress(t *testing.T) {
	f := bearing.CupInHousing(72.233, 64, 100, 0.038)
	h := 64 / 72.233
	assert.InDelta(t, 2*f.PressureMPa/(1-h*h), f.HoopStressMPa, 1e-9)
	assert.Greater(t, f.HoopStressMPa, 2*f.PressureMPa)
}

// Mid fits hold a pinion cup by about 5 kN and a side cone by about 18 kN; computed
// independently, to the rounding of those words.
func TestPushOnForce(t *testing.T) {
	p := bearing.CupInHousing(72.233, 64, 100, 0.038).PressureMPa
	assert.InDelta(t, 5000, bearing.PushOnForceN(p, 72.233, 19, 0.125), 600)
	p = bearing.ConeOnSolidShaft(45.242, 54, 0.0765).PressureMPa
	assert.InDelta(t, 18000, bearing.PushOnForceN(p, 45.242, 20, 0.125), 2500)
}

// One roller's load is Fa/(Z sin α) and its approach 7.7e-5 Q^0.9/Le^0.8, resolved
// along the axis by 1/sin α (Technical Report E728g section 5.1 and Cat. E1102m
// p. A128): the closed form must equal the chain.
func TestDeflectionIsTheRollersApproachResolved(t *testing.T) {
	const angle, rollers, length, force = 15.9958, 19, 12.0, 6000.0
	sin := math.Sin(angle * math.Pi / 180)
	q := force / (rollers * sin)
	want := 7.7e-5 * math.Pow(q, 0.9) / math.Pow(length, 0.8) / sin
	assert.InDelta(t, want, stiff(angle, rollers, length).DeflectionMM(force), 1e-12)
}

func TestRingAddsALinearPart(t *testing.T) {
	b := ax.Inner()
	rigid := b
	rigid.RingStiffnessNPerMM = math.Inf(1)
	assert.InDelta(t, 8000/b.RingStiffnessNPerMM, b.DeflectionMM(8000)-rigid.DeflectionMM(8000), 1e-12)
}

func TestNothingWithoutLoad(t *testing.T) {
	b := ax.Inner()
	for _, f := range []float64{0, -1, -1e6, math.NaN()} {
		assert.Zero(t, b.DeflectionMM(f))
		assert.Zero(t, b.RunningTorqueNmm(f, ax.NewFilm()))
		assert.Zero(t, b.StartingTorqueNmm(f, 0.15))
		assert.Zero(t, bearing.InSeries(b).ForceN(f))
		k := b.StiffnessNPerMM(f)
		assert.True(t, k > 0 && !math.IsInf(k, 0), "stiffness %v at force %v", k, f)
	}
}

func anyForce(t *rapid.T) float64 {
	return math.Pow(10, rapid.Float64Range(-3, 6).Draw(t, "log force"))
}

func TestSeriesForceInvertsApproach(t *testing.T) {
	s := bearing.InSeries(ax.Inner(), ax.Outer()).With(600000)
	contacts := bearing.InSeries(stiff(20, 16, 15), stiff(16, 19, 12))
	rapid.Check(t, func(t *rapid.T) {
		f := anyForce(t)
		// The inverse stops when a step is below 1e-13 of the force.
		assert.InEpsilon(t, f, s.ForceN(s.ApproachMM(f)), 1e-11)
		assert.InEpsilon(t, f, contacts.ForceN(contacts.ApproachMM(f)), 1e-11)
	})
}

func TestStiffnessIsTheSlope(t *testing.T) {
	b := ax.Outer()
	rapid.Check(t, func(t *rapid.T) {
		f := anyForce(t)
		h := f * 1e-4
		slope := 2 * h / (b.DeflectionMM(f+h) - b.DeflectionMM(f-h))
		// A central difference of this width is good to about 1e-8.
		assert.InEpsilon(t, slope, b.StiffnessNPerMM(f), 1e-6)
	})
}

func TestTorqueRisesWithLoadAndFriction(t *testing.T) {
	b := ax.Side()
	rapid.Check(t, func(t *rapid.T) {
		f := anyForce(t)
		film := bearing.Film{
			BoundaryFriction: rapid.Float64Range(0.05, 0.18).Draw(t, "friction"),
			ViscosityCst:     rapid.Float64Range(20, 1000).Draw(t, "viscosity"),
			SpeedRPM:         rapid.Float64Range(0.1, 60).Draw(t, "speed"),
		}
		m := b.RunningTorqueNmm(f, film)
		assert.Greater(t, b.RunningTorqueNmm(1.01*f, film), m)
		back := film
		back.SpeedRPM = -film.SpeedRPM
		assert.Equal(t, m, b.RunningTorqueNmm(f, back), "either direction drags alike")
		film.BoundaryFriction += 0.01
		assert.Greater(t, b.RunningTorqueNmm(f, film), m)
		assert.Greater(t, b.StartingTorqueNmm(1.01*f, 0.15), b.StartingTorqueNmm(f, 0.15))
	})
}

// The catalogue's roller angles are too small to tell a cosine from one; 60 degrees
// is not a real roller but halves the torque.
func TestRibTorqueFollowsTheCosine(t *testing.T) {
	assert.InDelta(t, 500, bearing.RibStartingTorqueNmm(1, 0.2, 5000, 60), 1e-9)
	assert.Zero(t, bearing.RibStartingTorqueNmm(1, 0.2, -5000, 2))
}

// At rest the running law has no rolling part and full boundary friction, so it
// must meet the starting law (General Catalogue 6000 EN p. 103).
func TestRunningMeetsStartingAtRest(t *testing.T) {
	film := ax.NewFilm()
	film.SpeedRPM = 0
	assert.InDelta(t, ax.Inner().StartingTorqueNmm(6000, film.BoundaryFriction), ax.Inner().RunningTorqueNmm(6000, film), 1e-9)
}

// The factors left out of the torque must be too near one to matter at hand speed.
func TestFactorsLeftOutAreNearOne(t *testing.T) {
	const share = 0.005 // what the package comment promises
	for _, b := range []bearing.Tapered{ax.Inner(), ax.Outer(), ax.Side()} {
		assert.InDelta(t, 1, bearing.InletShearFactor(ax.PinionRPM, b.MeanDiameterMM(), ax.ViscosityCst), share)
		assert.InDelta(t, 1, bearing.StarvationFactor(3e-8, 6, ax.ViscosityCst, ax.PinionRPM, b.BoreMM, b.OutsideMM), share)
	}
}

func TestValidate(t *testing.T) {
	require.NoError(t, ax.Inner().Validate())
	cases := map[string]func(b *bearing.Tapered){
		"bore":              func(b *bearing.Tapered) { b.BoreMM = 0 },
		"outside diameter":  func(b *bearing.Tapered) { b.OutsideMM = b.BoreMM },
		"width":             func(b *bearing.Tapered) { b.WidthMM = math.NaN() },
		"contact angle":     func(b *bearing.Tapered) { b.ContactAngleDeg = 60 },
		"axial factor Y":    func(b *bearing.Tapered) { b.Y = -1 },
		"number of rollers": func(b *bearing.Tapered) { b.Rollers = 0 },
		"roller length":     func(b *bearing.Tapered) { b.RollerLengthMM = math.Inf(1) },
		"rolling constant":  func(b *bearing.Tapered) { b.R1 = 0 },
		"sliding constant":  func(b *bearing.Tapered) { b.S1 = 2 },
		"race stiffness":    func(b *bearing.Tapered) { b.RingStiffnessNPerMM = 0 },
	}
	for word, spoil := range cases {
		b := ax.Inner()
		spoil(&b)
		assert.Contains(t, text.Printer{}.Error(b.Validate()), word)
	}
}
