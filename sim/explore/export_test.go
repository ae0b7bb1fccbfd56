package explore

import (
	"shimwright/sim/assembly"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
)

// MeshOnly shows a gear set alone: backlash at four places and both flanks'
// patterns, for a set, the ease-off of both flanks, the backlash at the design
// position, a position, a film of compound and a runout of the ring gear (total
// indicated), lengths in mm. The patterns are drive and coast.
//
// Errors: those of mesh.NewSet, and ErrSetting for a position, film or runout that
// cannot be shown. Film 0 to 1 mm, runout 0 to 2 mm; positions as in mesh.Move.
func MeshOnly(set mesh.SetData, drive, coast mesh.EaseOff, designBacklashMM float64, at mesh.Position, filmMM, runoutTIRMM float64) (GearState, []gauge.ToothPattern, error) {
	taken := Settings{FilmMM: filmMM, RunoutTIRMM: runoutTIRMM}
	if err := taken.Validate(); err != nil {
		return GearState{}, nil, err
	}
	var axle assembly.Axle
	swings(&axle, taken)
	g, err := newGears(set, drive, coast, designBacklashMM, convexDrives)
	if err != nil {
		return GearState{}, nil, err
	}
	s, err := g.at(at, filmMM, &axle)
	if err != nil {
		return GearState{}, nil, err
	}
	return s, g.toothPatterns(s, filmMM), nil
}
