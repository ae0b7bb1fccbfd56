package reveal

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/mesh"
	"shimwright/sim/service"
	"shimwright/sim/solve"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// A Service is what would have happened to the axle in service: figures, each beside
// that of the same parts set in the middle of the sheet, and the few sentences that
// matter. An axle that is not together has only the sentences.
type Service struct {
	Notice text.Message   `json:"notice"`
	Says   []text.Message `json:"says"`
	Worked *Worked        `json:"worked,omitempty"`
}

// Worked holds the figures of a Service. Shares run from 0 at the toe or root to 1 at
// the heel or top; an end's load share is a part of the greatest load on the tooth.
type Worked struct {
	PinionTorqueNm float64 `json:"pinion_torque_nm"`
	PinionRPM      float64 `json:"pinion_speed_rpm"`
	RoadKmPerHour  float64 `json:"road_speed_km_per_h"`
	MeshHz         float64 `json:"tooth_mesh_hz"`
	RingHz         float64 `json:"ring_gear_turns_hz"`

	Drive  FlankFigures `json:"drive"`
	Coast  FlankFigures `json:"coast"`
	Pinion PairFigures  `json:"pinion_bearings"`
	Sides  PairFigures  `json:"side_bearings"`

	LeastBacklashMM float64 `json:"least_backlash_mm"`
	FreeTurnDeg     float64 `json:"pinion_free_turn_deg"`

	PinionPreloadN      float64 `json:"pinion_preload_n"`
	RightPreloadN       float64 `json:"pinion_preload_right_n"`
	PinionEndPlayMM     float64 `json:"pinion_end_play_mm"`
	WarmRiseC           float64 `json:"warm_rise_c"`
	WarmPinionPreloadN  float64 `json:"warm_pinion_preload_n"`
	WarmPinionEndPlayMM float64 `json:"warm_pinion_end_play_mm"`
	ClampLeftN          float64 `json:"spacer_force_left_n"`
	RightClampLeftN     float64 `json:"spacer_force_left_right_n"`
	Seated              bool    `json:"after_a_part_went_home"`
}

// FlankFigures are those of one side of the teeth.
type FlankFigures struct {
	OppositeN      float64 `json:"tooth_force_n"`
	PrintMovesMM   float64 `json:"pattern_moves_to_heel_mm"`
	LoadedFrom     float64 `json:"loaded_pattern_from_share"`
	LoadedTo       float64 `json:"loaded_pattern_to_share"`
	Toe            float64 `json:"toe_load_share"`
	Heel           float64 `json:"heel_load_share"`
	Root           float64 `json:"root_load_share"`
	Top            float64 `json:"top_load_share"`
	ErrorMicroRad  float64 `json:"transmission_error_urad"`
	RightErrMicro  float64 `json:"transmission_error_right_urad"`
	OncePerTurnMM  float64 `json:"once_per_turn_error_mm"`
	LosesEachOther bool    `json:"teeth_lose_each_other"`
}

// PairFigures are those of two opposed bearings on drive.
type PairFigures struct {
	LifeRatio    float64 `json:"rating_life_ratio"`
	HeatW        float64 `json:"heat_w"`
	RightHeatW   float64 `json:"heat_right_w"`
	ZoneDeg      float64 `json:"narrowest_load_zone_deg"`
	RightZoneDeg float64 `json:"narrowest_load_zone_right_deg"`
}

// inService tells the service of a finished axle. A state that the model cannot work
// out is said to be one: the rest of the answer stands without it.
func inService(fam family.Family, x truth.Axle, f truth.Finish) Service {
	out := Service{Notice: text.Say("service.notice", "Worked out by a teaching model under an assumed duty; no forecast for any real axle.")}
	if !f.PinionFitted || !f.CaseFitted || !f.CapsTight {
		out.Says = []text.Message{text.Say("service.not-together", "In service: not worked out, because the axle is not together.")}
		return out
	}
	t, err := taleOf(fam, x, f)
	switch {
	case errors.Is(err, mesh.ErrPosition):
		out.Says = []text.Message{text.Say("service.out-of-place", "In service: not worked out, because pinion and ring gear stand too far from their places for one pair of teeth to hand over to the next.")}
	case err != nil:
		out.Says = []text.Message{text.Say("service.not-worked-out", "In service: not worked out: {why}.", text.Of("why", text.Reason(err)))}
	default:
		out.Says, out.Worked = t.tell(), t.figures()
	}
	return out
}

// taleOf works out both axles: the finished one and the same parts rightly set.
func taleOf(fam family.Family, x truth.Axle, f truth.Finish) (tale, error) {
	parts, err := partsOf(fam, x)
	if err != nil {
		return tale{}, err
	}
	t := tale{fam: fam, signed: settingOf(x, f)}
	if t.unseen, err = unseen(f); err != nil {
		return tale{}, err
	}
	if t.target, err = rightSetting(fam, x, parts); err != nil {
		return tale{}, err
	}
	if t.later, err = whenSeated(parts, t.signed, x, f); err != nil {
		return tale{}, err
	}
	duty := service.StatedDuty(fam.Model.Gears.RingDiameterMM, fam.Sheet.Ratio())
	if t.right, err = service.Run(parts, t.target, duty); err != nil {
		return tale{}, err
	}
	t.is, err = service.Run(parts, t.later, duty)
	return t, err
}

// unseen names what is still in the axle that the model of its service leaves out.
func unseen(f truth.Finish) ([]text.Message, error) {
	var out []text.Message
	for _, id := range f.Remaining {
		entry, err := fault.Find(id)
		if err != nil {
			return nil, err
		}
		if entry.Unmodeled {
			out = append(out, entry.Name)
		}
	}
	return out, nil
}

// partsOf gathers what the axle is made of.
func partsOf(fam family.Family, x truth.Axle) (service.Parts, error) {
	m := fam.Model
	set, err := mesh.NewSet(m.Gears, x.Drive, x.Coast, x.DesignLashMM)
	if err != nil {
		return service.Parts{}, err
	}
	p := service.Parts{
		Gears: set, Inner: m.Inner, Outer: m.Outer, Back: m.Side, Tooth: m.Side,
		HouseNPerMM: x.HouseNPerMM, NutNPerMM: x.NutNPerMM,
		RingGearPedestalNPerMM: x.RingGearPedestalNPerMM, OppositePedestalNPerMM: x.OppositePedestalNPerMM,
		SpacerLengthMM: fam.Sheet.SpacerLengthMM, BoundaryFriction: x.BoundaryFriction,
		HousingPerDegC: bearing.IronPerDegC,
	}
	if fam.Design.Housing == family.Aluminum {
		p.HousingPerDegC = bearing.AluminiumPerDegC
	}
	p.SpacerNPerMM, p.SpacerCrushN = lastSpacer(x).StiffnessNPerMM, lastSpacer(x).YieldN
	return p, nil
}

// lastSpacer is the spacer that every later build of the axle repeats: a new one.
func lastSpacer(x truth.Axle) truth.Spacer {
	if len(x.Spacers) == 0 {
		return truth.Spacer{}
	}
	return x.Spacers[len(x.Spacers)-1]
}

func settingOf(x truth.Axle, f truth.Finish) service.Setting {
	return service.Setting{
		At:             mesh.Position{PinionOutMM: f.DepthErrorMM, RingAwayMM: f.RingAwayMM, OffsetMM: x.OffsetErrMM, ShaftAngleRad: x.ShaftErrRad},
		PinionPreloadN: f.PinionPreloadN, PinionEndPlayMM: f.PinionEndPlayMM,
		SidePreloadN: f.SidePreloadN, SideEndPlayMM: math.Max(0, -f.SideFitMM),
		StemN: f.ClampN, SpacerN: f.SpacerN, RunoutTIRMM: f.RunoutTIRMM,
	}
}

// mostPreloadN bounds the search for the preload of a torque.
const mostPreloadN = 100_000

// rightSetting is the same axle set up in the middle of its sheet: both members in
// place, pinion and sides at the middle of their windows, a new spacer, and no
// runout but the gear's own.
func rightSetting(fam family.Family, x truth.Axle, p service.Parts) (service.Setting, error) {
	film := fam.Model.Film
	film.BoundaryFriction = x.BoundaryFriction
	want := fam.Sheet.PinionTorque(x.UsedBearings).Mid()
	preload, err := solve.Bracketed(func(n float64) float64 {
		return p.Inner.RunningTorqueNmm(n, film) + p.Outer.RunningTorqueNmm(n, film) - want
	}, 0, mostPreloadN, 0.1)
	if err != nil {
		return service.Setting{}, fmt.Errorf("preload for the middle of the sheet's rotating torque: %w", err)
	}
	fit := fam.Sheet.SidePreload.Mid()
	sides, err := carrier.Solve(carrier.Params{Back: p.Back, Tooth: p.Tooth, RingGearPedestalNPerMM: p.RingGearPedestalNPerMM,
		OppositePedestalNPerMM: p.OppositePedestalNPerMM, CapsTight: true}, fit/2, fit/2)
	if err != nil {
		return service.Setting{}, err
	}
	crush := lastSpacer(x).YieldN
	return service.Setting{
		At:             mesh.Position{OffsetMM: x.OffsetErrMM, ShaftAngleRad: x.ShaftErrRad},
		PinionPreloadN: preload.X, SidePreloadN: sides.ForceN,
		StemN: crush + preload.X, SpacerN: crush, RunoutTIRMM: x.GearTIRMM,
	}, nil
}

// whenSeated is the setting after cups and cones that still stood off have gone home.
func whenSeated(p service.Parts, s service.Setting, x truth.Axle, f truth.Finish) (service.Setting, error) {
	gap := func(id fault.ID, mm float64) float64 {
		if slices.Contains(f.Remaining, id) {
			return mm
		}
		return 0
	}
	s = p.CupsSeated(s, gap(fault.InnerCupHigh, x.InnerCupGapMM), gap(fault.OuterCupHigh, x.OuterCupGapMM))
	return p.ConesSeated(s, f.SideFitMM, gap(fault.RingGearConeHigh, x.RingGearConeGapMM), gap(fault.OppositeConeHigh, x.OppositeConeGapMM))
}
