package family

import "shimwright/sim/mesh"

// A PreloadDesign is what stands between the pinion bearing cones.
type PreloadDesign string

// The pinion preload designs.
const (
	CollapsibleSpacer PreloadDesign = "collapsible-spacer"
	SolidSpacer       PreloadDesign = "solid-spacer"
)

// A DepthShimPlace is where the depth shim lies.
type DepthShimPlace string

// The places of a depth shim. Behind the cup it also moves the pinion bearings
// together or apart, so that depth and preload are not independent.
const (
	UnderInnerCone  DepthShimPlace = "under-inner-cone"
	BehindInnerCup  DepthShimPlace = "behind-inner-cup"
	UnderCageFlange DepthShimPlace = "under-cage-flange"
)

// A SideAdjust is how the ring gear is placed and its side bearings are preloaded.
type SideAdjust string

// The ways of side adjustment.
const (
	OutsideShims     SideAdjust = "outside-shims" // between cup and housing
	InsideShims      SideAdjust = "inside-shims"  // behind the cones, on the case
	BearingAdjusters SideAdjust = "bearing-adjusters"
)

// A DriveFlank is the ring gear flank that is pushed when the vehicle drives forward.
type DriveFlank string

// The flanks by shape.
const (
	Convex  DriveFlank = "convex"
	Concave DriveFlank = "concave"
)

// A Material is what the housing is cast of.
type Material string

// The materials.
const (
	Iron     Material = "iron"
	Aluminum Material = "aluminum"
)

// A CaseEntry is how the case with its side bearings is taken in and out.
type CaseEntry string

// The ways of entry. A spreader opens the housing by a screw while a dial shows how
// far; without one the last shim is driven in, or the adjusters are run up.
const (
	ByHand   CaseEntry = "by-hand"
	Spreader CaseEntry = "spreader"
)

// A ToothForm is how the gears are cut.
type ToothForm string

// The tooth forms. Only face-milled gears can be modelled: face-hobbed ones are
// stood in for by face-milled ones of the same sizes.
const (
	FaceMilled ToothForm = "face-milled"
	FaceHobbed ToothForm = "face-hobbed"
)

// A Design is how an axle of the family is built, apart from its sizes.
type Design struct {
	Preload    PreloadDesign
	DepthShim  DepthShimPlace
	SideAdjust SideAdjust
	DriveFlank DriveFlank
	Housing    Material
	ToothForm  ToothForm
	Entry      CaseEntry
	Solid      Solid // only with SolidSpacer
	Rings      Rings // only with BearingAdjusters
}

// ThickerIsDeeper reports whether a thicker depth shim brings the pinion nearer the
// ring gear centerline.
func (d Design) ThickerIsDeeper() bool { return d.DepthShim != UnderCageFlange }

// A Solid is a solid spacer and what sets its length: preload shims, or the
// spacer itself in steps. Thicker shims give less preload.
type Solid struct {
	StiffnessNPerMM Range
	PreloadShims    Stock
	ZeroEndPlayMM   Range // the shims at zero end play, which differ from axle to axle
}

// Rings are the bearing adjusters at the side bearings.
type Rings struct {
	Notches int // around one adjuster
	PitchMM float64
}

// NotchTravelMM returns how far one notch moves a bearing cup, in millimeters; zero
// where there are no adjusters.
func (r Rings) NotchTravelMM() float64 {
	if r.Notches <= 0 {
		return 0
	}
	return r.PitchMM / float64(r.Notches)
}

// Flanks lists the flanks of the ring gear, the one that drives first.
func (d Design) Flanks() [2]mesh.Flank {
	if d.DriveFlank == Concave {
		return [2]mesh.Flank{mesh.Coast, mesh.Drive}
	}
	return [2]mesh.Flank{mesh.Drive, mesh.Coast}
}

// FlankName returns what the bench calls a flank of the ring gear: "drive" for the one
// that is pushed when the vehicle drives forward, "coast" for the other.
func (d Design) FlankName(f mesh.Flank) string {
	if f == d.Flanks()[0] {
		return mesh.Drive.String()
	}
	return mesh.Coast.String()
}
