package sim

import (
	"math"

	"shimwright/sim/mesh"
)

// How readings are taken on the bench, for an axle that is shown openly too; estimates
// from common practice, no source.
const (
	ThinFilmMM   = 0.009 // compound that a thin coat leaves when the gear is braked
	LooseArmMM   = 0.03  // standard deviation that a loose indicator arm adds
	FreePinionMM = 0.06  // least that a pinion which is not held adds to backlash; up to twice that
)

// FilmShare returns the compound film that a way of taking a print leaves, over that of
// a thin coat and a braked gear.
func FilmShare(thick, free bool) float64 {
	share := 1.0
	if thick {
		share = thickFilmMM / thinFilmMM
	}
	if free {
		share *= freeFilm
	}
	return share
}

// StemShare returns what an indicator's stem sees of a movement square to the tooth at
// the heel, as a share: where is "heel", "middle" or "toe", stem "square", "along" (the
// ring gear's travel) or "tilted" (by 30 degrees). heelMM is the ring gear's outer
// radius, mm.
func PlungerShare(set *mesh.Set, heelMM float64, where, plunger string) float64 {
	mean := set.Blank().RingMeanRadiusMM
	f := 1.0
	switch where {
	case "middle":
		f = mean / heelMM
	case "toe":
		f = (2*mean - heelMM) / heelMM
	}
	switch plunger {
	case "along":
		f *= heelMM / set.HeelArmMM()
	case "tilted":
		f /= math.Cos(30 * math.Pi / 180)
	}
	return f
}
