package gauge

// Shown returns what an instrument of the class without any error of its own shows
// for a value, in the class's base unit: the nearest whole step.
func (c Class) Shown(value float64) float64 { return roundTo(value, c.Step) }

// Ink returns how far compound is rubbed where the teeth come within separationMM
// of each other under a film of filmMM, both mm: 0 where it is just not touched, 1
// and more where it is rubbed bright, below 0 further off. The edge of a print
// fades over a third of the film (an estimate). A film must be above zero.
func Ink(separationMM, filmMM float64) float64 {
	return (filmMM - separationMM) / (filmMM / 3)
}
