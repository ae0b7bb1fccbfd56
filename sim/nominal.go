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
	mean := set.Blank().RingMeanRadiusMM
	f := 1.0
	switch place {
	case act.Middle:
		f = mean / heelMM
	case act.Toe:
		f = (2*mean - heelMM) / heelMM
	}
	switch plunger {
	case act.Along:
		f *= heelMM / set.HeelArmMM()
	case act.Tilted:
		f /= math.Cos(30 * math.Pi / 180)
	}
	return f
}
