package service

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim/bearing"
	"shimwright/sim/checkstest"
	"shimwright/sim/mesh"
)

// A check is one row of testdata/checks/service.csv, where the source and the
// strength of every figure stand.
type check struct {
	checkstest.Row
	t *testing.T
}

func (c check) in(key string) string {
	for part := range strings.SplitSeq(c.Input, ";") {
		if k, v, ok := strings.Cut(strings.TrimSpace(part), "="); ok && k == key {
			return v
		}
	}
	require.Fail(c.t, c.ID+" has no input "+key)
	return ""
}

func (c check) number(key string) float64 {
	v, err := strconv.ParseFloat(c.in(key), 64)
	require.NoError(c.t, err, "%s: %s", c.ID, key)
	return v
}

// lineContact is a bearing without the give of its rings, for which the published
// integrals hold.
func lineContact(n int, deg float64) bearing.Tapered {
	return bearing.Tapered{BoreMM: 40, OutsideMM: 80, WidthMM: 20, ContactAngleDeg: deg, Y: bearing.AxialFactorY(deg),
		Rollers: n, RollerLengthMM: 14, R1: 2.3e-6, S1: 0.015, RingStiffnessNPerMM: math.Inf(1)}
}

func TestChecks(t *testing.T) {
	meets := checkstest.Given(t).Meets
	for _, row := range checkstest.Read(t, "service") {
		t.Run(row.ID, func(t *testing.T) {
			kind, _, _ := strings.Cut(row.ID, "-")
			meets(t, row, value(check{row, t}, kind[:1]))
		})
	}
}

func value(c check, kind string) float64 {
	switch kind {
	case "L":
		return rollerValue(c)
	case "P":
		return lifeValue(c)
	case "F":
		return thrustValue(c)
	case "M":
		return misalignmentValue(c)
	}
	p := beech(c.t)
	switch {
	case kind == "W":
		p.HousingPerDegC = map[string]float64{"iron": bearing.IronPerDegC, "aluminum": bearing.AluminiumPerDegC}[c.in("material")]
		return p.warm(right(c.t, p), c.number("rise")).ChangeMM
	case kind == "C":
		p.NutNPerMM, p.SpacerNPerMM = c.number("stem"), c.number("spacer")
		return p.clamp(Setting{SpacerN: 1e6}, Pair{}).BeddingN
	case kind == "D":
		d := Duty{RoadKmPerHour: c.number("speed"), RollingMM: c.number("rolling")}
		return d.wheelHz() * c.number("teeth")
	}
	require.Fail(c.t, "nothing reads "+c.ID)
	return 0
}

func rollerValue(c check) float64 {
	if strings.HasPrefix(c.ID, "L4") {
		// The thrust at which the second bearing just lets go.
		r := newRollers(lineContact(17, 20))
		p := pair{a: r, b: r, aSeat: math.Inf(1), bSeat: math.Inf(1), preloadN: c.number("preload")}
		low, high := p.preloadN, 4*p.preloadN
		for range 60 {
			mid := (low + high) / 2
			l, err := p.under(0, 0, mid)
			require.NoError(c.t, err)
			if l.b.AxialN > 1e-3 {
				low = mid
			} else {
				high = mid
			}
		}
		return low / p.preloadN
	}
	r := newRollers(lineContact(int(c.number("rollers")), c.number("angle")))
	z := float64(r.b.Rollers)
	if strings.HasPrefix(c.ID, "L3") {
		fa := c.number("thrust")
		s, err := r.under(0, r.ring.ApproachMM(fa))
		require.NoError(c.t, err)
		return s.HeaviestN * z * r.sin / fa
	}
	fr := c.number("radial")
	s, err := r.under(fr, 0)
	require.NoError(c.t, err)
	require.InDelta(c.t, 180, s.ZoneDeg, 1e-6, "no axial approach is half the rollers")
	if strings.HasPrefix(c.ID, "L1") {
		return s.AxialN / (fr * r.sin / r.cos)
	}
	return s.HeaviestN * z * r.cos / fr
}

func lifeValue(c check) float64 {
	switch c.ID[:2] {
	case "P3":
		return RelativeLife(c.number("ratio"), 1)
	case "P4":
		return SystemLife(c.number("lives"), c.number("lives"))
	}
	b := bearing.Tapered{ContactAngleDeg: c.number("angle"), Y: c.number("y")}
	return ISO281EquivalentN(b, c.number("radial"), c.number("axial"))
}

// thrustValue gives the thrust of a spiral bevel set over its tangential force, with
// the contact laid on the mean point. The cutter stands square to the root, which
// turns full-depth teeth's pressure angles 2.5 degrees apart from the textbook's; on
// teeth a quarter as deep that hardly shows.
func thrustValue(c check) float64 {
	data := mesh.SetData{PinionTeeth: 11, RingTeeth: 41, RingDiameterMM: 215, FaceWidthMM: 32, SpiralDeg: 35, CutterRadiusMM: 114.3, PressureAngleDeg: 20, DepthFactor: 0.5}
	set, err := mesh.NewSet(data, onPitchLine(c.t, data), onPitchLine(c.t, data), 0.15)
	require.NoError(c.t, err)
	f := mesh.Drive
	if c.in("flank") == "coast" {
		f = mesh.Coast
	}
	gain, err := leadGains(set.NewContact(), f, mesh.Position{})
	require.NoError(c.t, err)
	// Torque that makes the tangential force one.
	force := toothForce(gain, set.Blank().RingMeanRadiusMM)
	if c.in("member") == "ring" {
		return -force[2]
	}
	return force[0]
}

func misalignmentValue(c check) float64 {
	p := beech(c.t)
	d := duty(p)
	d.PinionNmm = 300_000
	r, err := Run(p, right(c.t, p), d)
	require.NoError(c.t, err)
	at := r.Drive.LoadedAt
	switch c.in("value") {
	case "pinion out":
		return at.PinionOutMM
	case "ring away":
		return at.RingAwayMM
	case "shaft angle":
		return at.ShaftAngleRad
	case "offset sign":
		return math.Copysign(1, at.OffsetMM)
	}
	require.Fail(c.t, "no such value: "+c.Input)
	return 0
}
