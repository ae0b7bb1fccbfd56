package family

import (
	"shimwright/sim/bearing"
	"shimwright/sim/datasheet"
	"shimwright/sim/mesh"
)

// The groups below stand in a family file and, under the same keys and limits, in
// other files that describe gears or bearings. Each function reads what is in one
// block and leaves Done to its caller, who may ask for more.

// ReadGears reads the drawing of a gear set but for its spiral.
func ReadGears(b *datasheet.Block) mesh.SetData {
	return mesh.SetData{
		RingTeeth:         b.Whole("ring_teeth", "teeth of the ring gear", 10, 400),
		PinionTeeth:       b.Whole("pinion_teeth", "teeth of the pinion", 3, 60),
		OffsetMM:          b.Number("offset", "distance of pinion and ring gear axis", datasheet.Lengths(), datasheet.Between(0, 200)),
		RingDiameterMM:    b.Number("ring_diameter", "outside diameter of the ring gear", datasheet.Lengths(), datasheet.Between(80, 800)),
		FaceWidthMM:       b.Number("face_width", "width of the ring gear's teeth", datasheet.Lengths(), datasheet.Between(5, 200)),
		CutterRadiusMM:    b.Number("cutter_radius", "radius of the cutter", datasheet.Lengths(), datasheet.Between(20, 600)),
		PressureAngleDeg:  b.Number("pressure_angle", "mean pressure angle", datasheet.Only("_deg", "degrees"), datasheet.Between(10, 30)),
		DepthFactor:       b.Spare("depth_factor", "working depth in normal modules", datasheet.Plain(), datasheet.Between(0.5, 3)),
		RingAddendumShare: b.Spare("ring_addendum_share", "the ring gear's part of the working depth", datasheet.Plain(), datasheet.Between(0.02, 0.9)),
		SlotFactor:        b.Spare("slot_factor", "how much the ring gear's tooth space is wider than half the pitch, in pitches", datasheet.Plain(), datasheet.Between(-0.3, 0.3)),
	}
}

// ReadEaseOff reads the ease-off of a flank, without twist.
func ReadEaseOff(b *datasheet.Block) mesh.EaseOff {
	return mesh.EaseOff{
		LengthMM:  b.Number("length", "relief toward toe and heel", datasheet.Lengths(), datasheet.Between(0.001, 1)),
		ProfileMM: b.Number("profile", "relief toward root and top", datasheet.Lengths(), datasheet.Between(0.001, 1)),
		CenterS:   b.Number("center_along", "where the relief is nil, toe 0 to heel 1", datasheet.Plain(), datasheet.Between(0, 1)),
		CenterT:   b.Number("center_up", "where the relief is nil, root 0 to top 1", datasheet.Plain(), datasheet.Between(0, 1)),
	}
}

// ReadBearing reads one tapered bearing.
func ReadBearing(b *datasheet.Block) bearing.Tapered {
	return bearing.Tapered{
		BoreMM:              b.Number("bore", "bore", datasheet.Lengths(), datasheet.Between(10, 400)),
		OutsideMM:           b.Number("outside", "outside diameter", datasheet.Lengths(), datasheet.Between(20, 600)),
		WidthMM:             b.Number("width", "width", datasheet.Lengths(), datasheet.Between(5, 200)),
		ContactAngleDeg:     b.Number("contact_angle", "contact angle", datasheet.Only("_deg", "degrees"), datasheet.Between(5, 45)),
		Y:                   b.Number("axial_factor", "axial factor, near 0.4 over the tangent of the contact angle", datasheet.Plain(), datasheet.Between(0.1, 10)),
		Rollers:             b.Whole("rollers", "number of rollers", 5, 200),
		RollerLengthMM:      b.Number("roller_length", "working length of a roller", datasheet.Lengths(), datasheet.Between(2, 200)),
		R1:                  b.Number("rolling_constant", "rolling friction constant", datasheet.Plain(), datasheet.Between(1e-8, 1e-4)),
		S1:                  b.Number("sliding_constant", "sliding friction constant", datasheet.Plain(), datasheet.Between(1e-4, 0.5)),
		RingStiffnessNPerMM: b.Number("ring_stiffness", "rings and seats", datasheet.Only("_n_per_mm", "N/mm"), datasheet.Between(1e4, 1e8)),
	}
}

// ReadOil reads viscosity and pinion speed; the boundary friction is left at zero.
func ReadOil(b *datasheet.Block) bearing.Film {
	return bearing.Film{
		ViscosityCst: b.Number("viscosity", "oil at the temperature of the bench", datasheet.Only("_cst", "mm²/s"), datasheet.Between(1, 5000)),
		SpeedRPM:     b.Number("speed", "pinion speed of a hand-turned check", datasheet.Only("_rpm", "rev/min"), datasheet.Between(0.5, 120)),
	}
}

// ReadThreadPitchMM reads the pitch of the nut's thread, in millimetres.
func ReadThreadPitchMM(b *datasheet.Block) float64 {
	e := b.Find(false, "pitch of the thread: threads_per_inch, or thread_pitch_mm", "threads_per_inch", "thread_pitch_mm")
	switch {
	case e == nil:
		return 0
	case e.Key == "thread_pitch_mm":
		x, _ := b.Value(e, "pitch of the thread", datasheet.Lengths()[0], datasheet.Between(0.3, 6))
		return x
	}
	x, ok := b.Value(e, "threads per inch", datasheet.Plain()[0], datasheet.Between(4, 80))
	if !ok {
		return 0
	}
	return 25.4 / x
}
