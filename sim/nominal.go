package sim

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/mesh"
)

// How readings are taken on the bench, for an axle that is shown openly too; estimates
// from common practice, no source.
const (
	ThinFilmMM   = 0.009 // compound that a thin coat leaves when the gear is braked
	LooseArmMM   = 0.03  // standard deviation that a loose indicator arm adds
	FreePinionMM = 0.06  // least that a pinion which is not held adds to backlash; up to twice that
)

// FilmShare returns the compound film that a way of taking a pattern leaves, over that of
// a thin coat and a braked gear.
func FilmShare(thick, free bool) float64 {
	share := 1.0
	if thick {
		share = thickFilmMM / ThinFilmMM
	}
	if free {
		share *= freeFilm
	}
	return share
}

// PlungerShare returns what an indicator's plunger sees of a movement square to the tooth at
// the heel, as a share: place is act.Heel, Middle or Toe, plunger act.Square, Along (the
// ring gear's travel) or Tilted (by 30 degrees). heelMM is the ring gear's outer radius, mm.
func PlungerShare(set *mesh.Set, heelMM float64, place, plunger act.Option) float64 {
	return plungerShare(set.Blank().RingMeanRadiusMM/heelMM, heelMM/set.HeelArmMM(), place, plunger)
}

// PlungerShare is the share of the function of that name on gears of the family.
func (g Gains) PlungerShare(place, plunger act.Option) float64 {
	return plungerShare(g.RingMeanShare, g.TravelShare, place, plunger)
}

func plungerShare(meanShare, travelShare float64, place, plunger act.Option) float64 {
	f := 1.0
	switch place {
	case act.Middle:
		f = meanShare
	case act.Toe:
		f = 2*meanShare - 1
	}
	switch plunger {
	case act.Along:
		f *= travelShare
	case act.Tilted:
		f /= math.Cos(30 * math.Pi / 180)
	}
	return f
}
