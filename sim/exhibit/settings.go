package exhibit

import (
	"errors"
	"fmt"
	"math"

	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// Settings are what the demonstrator turns. The zero value is an axle at its design
// place with a finger-tight nut and line-to-line side shims; a film of zero takes no
// print.
type Settings struct {
	PinionOutMM   float64 // of its place, at the reference preload; ±5
	RingAwayMM    float64 // beyond what the side shims give; ±5
	OffsetMM      float64 // ±5
	ShaftAngleRad float64 // ±0.03

	SideFitMM    float64 // both side shims together, over line-to-line; ±4
	ShimToBackMM float64 // moved across from the tooth side, beyond an equal split; ±2
	CapsSnug     bool    // cap bolts only snug, not torqued

	NutDeg        float64 // from finger tight, 0 to 3600; not used with a drag target
	DragTargetNmm float64 // pinion bearings alone; 0: the nut angle, or the pack, counts
	PackMM        float64 // solid spacer without a drag target: the pack; the nut then stands at its torque
	UsedBearings  bool
	Greased       bool // pinion bearings packed with grease
	HeadCupGapMM  float64
	TailCupGapMM  float64
	NotchNmm      float64 // worn rollers: swing of the torque within a turn; 0 to 5000
	SealExtraNmm  float64 // seal drag above a good seal's; 0 to 5000
	BackConeGapMM float64
	CapsSwapped   bool    // side-bearing caps changed over
	CapRotated    bool    // one end for end
	BrakeNmm      float64 // at the ring gear, from shafts and brakes left on; 0 to 50 000
	WarmK         float64 // everything warmer than the shop; -60 to 120

	FilmMM      float64 // of marking compound, usually 0.006 to 0.025; 0 to 1
	RunoutTIRMM float64 // ring gear, total indicated, once a turn; 0 to 2
	WarpTIRMM   float64 // and twice a turn; 0 to 2

	Seed   uint64 // 0: instruments without error
	Repeat uint64 // which time of reading; counts with a seed only
}

// Finished returns the settings of a finished axle of the family: everything at its
// place, side interference and pinion drag in the middle of the sheet's windows, and
// a thin coat of compound.
func Finished(fam family.Family, used bool) Settings {
	return Settings{
		SideFitMM:     fam.Sheet.SidePreload.Mid(),
		DragTargetNmm: fam.Sheet.PinionDrag(used).Mid(),
		UsedBearings:  used,
		FilmMM:        sim.ThinFilmMM,
	}
}

// ErrSetting marks settings that cannot be shown.
var ErrSetting = errors.New("this cannot be shown")

// Validate says in plain words which setting is out of range, or returns nil. The
// error is ErrSetting.
func (s Settings) Validate() error {
	for _, l := range []struct {
		what            string
		value, low, top float64
	}{
		{"pinion out of its place", s.PinionOutMM, -5, 5},
		{"ring gear away", s.RingAwayMM, -5, 5},
		{"offset error", s.OffsetMM, -5, 5},
		{"side shim interference", s.SideFitMM, -4, 4},
		{"shim moved to the back side", s.ShimToBackMM, -2, 2},
		{"gap under the head cup", s.HeadCupGapMM, 0, 0.3},
		{"gap under the tail cup", s.TailCupGapMM, 0, 0.3},
		{"compound film", s.FilmMM, 0, 1},
		{"gap behind the back cone", s.BackConeGapMM, 0, 0.5},
		{"pack", s.PackMM, 0, 100},
		{"ring gear runout", s.RunoutTIRMM, 0, 2},
		{"ring gear warp", s.WarpTIRMM, 0, 2},
	} {
		if !(l.value >= l.low && l.value <= l.top) {
			low, top := quantity.Millimetres(l.low), quantity.Millimetres(l.top)
			return fmt.Errorf("%w: %s is %s (%s); it goes from %s to %s (%s to %s)", ErrSetting, l.what,
				quantity.Millimetres(l.value).Show(quantity.Inch), quantity.Millimetres(l.value).Show(quantity.Metric),
				low.Show(quantity.Inch), top.Show(quantity.Inch), low.Show(quantity.Metric), top.Show(quantity.Metric))
		}
	}
	const mostRad = 0.03
	switch {
	case !(math.Abs(s.ShaftAngleRad) <= mostRad):
		return fmt.Errorf("%w: the shaft angle is out by %.3g degrees; up to %.2f either way is taken", ErrSetting, s.ShaftAngleRad*180/math.Pi, mostRad*180/math.Pi)
	case !(s.NutDeg >= 0 && s.NutDeg <= 3600):
		return fmt.Errorf("%w: the nut is turned %.6g degrees; it goes from 0 (finger tight) to 3600", ErrSetting, s.NutDeg)
	case !(s.WarmK >= -60 && s.WarmK <= 120):
		return fmt.Errorf("%w: the axle is %.6g degrees Celsius warmer than the shop; it goes from -60 to 120", ErrSetting, s.WarmK)
	}
	for _, t := range []struct {
		what      string
		nmm, most float64
	}{
		{"a pinion drag", s.DragTargetNmm, 20_000},
		{"a roughness of the pinion bearings", s.NotchNmm, 5_000},
		{"an extra seal drag", s.SealExtraNmm, 5_000},
		{"a brake drag", s.BrakeNmm, 50_000},
	} {
		if !(t.nmm >= 0 && t.nmm <= t.most) {
			v, top := quantity.Torque(t.nmm), quantity.Torque(t.most)
			return fmt.Errorf("%w: %s of %s (%s) is asked for; it goes up to %s (%s)", ErrSetting, t.what,
				v.ShowDrag(quantity.Inch), v.ShowDrag(quantity.Metric), top.ShowDrag(quantity.Inch), top.ShowDrag(quantity.Metric))
		}
	}
	return nil
}
