package sim

// ThinFilmMM is the compound film a thin coat leaves when the gear is braked, mm.
const ThinFilmMM = thinFilmMM
