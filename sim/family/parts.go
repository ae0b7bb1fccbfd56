package family

import (
	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/mesh"
	"shimwright/sim/text"
)

// The groups below stand in a family file and, under the same keys and limits, in
// other files that describe gears or bearings. Each function reads what is in one
// block and leaves Done to its caller, who may ask for more.

// ReadGears reads the drawing of a gear set but for its spiral.
func ReadGears(b *datasheet.Block) mesh.SetData {
	return mesh.SetData{
		RingTeeth:         b.Whole("ring_teeth", text.Say("family.want.ring-gear-teeth", "teeth of the ring gear"), 10, 400),
		PinionTeeth:       b.Whole("pinion_teeth", text.Say("family.want.pinion-teeth", "teeth of the pinion"), 3, 60),
		OffsetMM:          b.Number("offset", text.Say("family.want.offset", "offset of the pinion from the ring gear centerline"), datasheet.Lengths(), datasheet.Between(0, 200)),
		RingDiameterMM:    b.Number("ring_diameter", text.Say("family.want.ring-diameter", "outside diameter of the ring gear"), datasheet.Lengths(), datasheet.Between(80, 800)),
		FaceWidthMM:       b.Number("face_width", text.Say("family.want.face-width", "face width of the ring gear teeth"), datasheet.Lengths(), datasheet.Between(5, 200)),
		CutterRadiusMM:    b.Number("cutter_radius", text.Say("family.want.cutter-radius", "radius of the cutter"), datasheet.Lengths(), datasheet.Between(20, 600)),
		PressureAngleDeg:  b.Number("pressure_angle", text.Say("family.want.pressure-angle", "mean pressure angle"), datasheet.Degrees(), datasheet.Between(10, 30)),
		DepthFactor:       b.Spare("depth_factor", text.Say("family.want.depth-factor", "working depth in normal modules"), datasheet.Plain(), datasheet.Between(0.5, 3)),
		RingAddendumShare: b.Spare("ring_addendum_share", text.Say("family.want.ring-addendum-share", "the ring gear's share of the working depth"), datasheet.Plain(), datasheet.Between(0.02, 0.9)),
		SlotFactor:        b.Spare("tooth_space_factor", text.Say("family.want.tooth-space-factor", "how much wider than half the pitch the tooth space of the ring gear is, in pitches"), datasheet.Plain(), datasheet.Between(-0.3, 0.3)),
	}
}

// ReadEaseOff reads the ease-off of a flank, without twist.
func ReadEaseOff(b *datasheet.Block) mesh.EaseOff {
	return mesh.EaseOff{
		LengthMM:  b.Number("length", text.Say("family.want.ease-off-length", "relief toward toe and heel"), datasheet.Lengths(), datasheet.Between(0.001, 1)),
		ProfileMM: b.Number("profile", text.Say("family.want.ease-off-profile", "relief toward root and tip"), datasheet.Lengths(), datasheet.Between(0.001, 1)),
		CenterS:   b.Number("center_along", text.Say("family.want.center-along", "where the relief is zero along the face width, from toe 0 to heel 1"), datasheet.Plain(), datasheet.Between(0, 1)),
		CenterT:   b.Number("center_up", text.Say("family.want.center-up", "where the relief is zero up the profile, from root 0 to tip 1"), datasheet.Plain(), datasheet.Between(0, 1)),
	}
}

// ReadBearing reads one tapered bearing.
func ReadBearing(b *datasheet.Block) bearing.Tapered {
	return bearing.Tapered{
		BoreMM:              b.Number("bore", text.Say("family.want.bearing-bore", "bore"), datasheet.Lengths(), datasheet.Between(10, 400)),
		OutsideMM:           b.Number("outside", text.Say("family.want.bearing-outside", "outside diameter"), datasheet.Lengths(), datasheet.Between(20, 600)),
		WidthMM:             b.Number("width", text.Say("family.want.bearing-width", "width"), datasheet.Lengths(), datasheet.Between(5, 200)),
		ContactAngleDeg:     b.Number("contact_angle", text.Say("family.want.bearing-contact-angle", "contact angle"), datasheet.Degrees(), datasheet.Between(5, 45)),
		Y:                   b.Number("axial_factor", text.Say("family.want.bearing-axial-factor", "axial factor, near 0.4 divided by the tangent of the contact angle"), datasheet.Plain(), datasheet.Between(0.1, 10)),
		Rollers:             b.Whole("rollers", text.Say("family.want.bearing-rollers", "number of rollers"), 5, 200),
		RollerLengthMM:      b.Number("roller_length", text.Say("family.want.bearing-roller-length", "effective length of a roller"), datasheet.Lengths(), datasheet.Between(2, 200)),
		R1:                  b.Number("rolling_constant", text.Say("family.want.bearing-rolling-constant", "rolling friction constant"), datasheet.Plain(), datasheet.Between(1e-8, 1e-4)),
		S1:                  b.Number("sliding_constant", text.Say("family.want.bearing-sliding-constant", "sliding friction constant"), datasheet.Plain(), datasheet.Between(1e-4, 0.5)),
		RingStiffnessNPerMM: b.Number("race_stiffness", text.Say("family.want.bearing-race-stiffness", "stiffness of cup, cone and their seats"), datasheet.Stiffness(), datasheet.Between(1e4, 1e8)),
	}
}

// ReadOil reads viscosity and pinion speed; the boundary friction is left at zero.
func ReadOil(b *datasheet.Block) bearing.Film {
	return bearing.Film{
		ViscosityCst: b.Number("viscosity", text.Say("family.want.oil-viscosity", "viscosity of the oil at shop temperature"), datasheet.Only("_cst", text.Verbatim("mm²/s")), datasheet.Between(1, 5000)),
		SpeedRPM:     b.Number("speed", text.Say("family.want.oil-speed", "pinion speed when turned by hand"), datasheet.Only("_rpm", text.Say("family.unit.rpm", "rev/min")), datasheet.Between(0.5, 120)),
	}
}

// ReadThreadPitchMM reads the pitch of the nut's thread, in millimetres.
func ReadThreadPitchMM(b *datasheet.Block) float64 {
	e := b.Find(false, text.Say("family.want.thread-pitch", "pitch of the thread: threads_per_inch or thread_pitch_mm"), "threads_per_inch", "thread_pitch_mm")
	switch {
	case e == nil:
		return 0
	case e.Key == "thread_pitch_mm":
		x, _ := b.Value(e, text.Say("family.want.thread-pitch-mm", "pitch of the thread"), datasheet.Millimeters(), datasheet.Between(0.3, 6))
		return x
	}
	x, ok := b.Value(e, text.Say("family.want.threads-per-inch", "threads per inch"), datasheet.Plain()[0], datasheet.Between(4, 80))
	if !ok {
		return 0
	}
	return 25.4 / x
}
