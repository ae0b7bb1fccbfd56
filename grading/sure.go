package grading

import (
	"math"

	"shimwright/sim/text"
)

// A Surety says how sure scores are, as the panel of simulated technicians shows it.
type Surety struct {
	// JobSD is how far one job's score lies from a person's mean over many, as a standard
	// deviation, points: pooled over the panel of package validity but those who work at
	// random, which holds it against its own figure.
	JobSD float64 `json:"job_sd"`
	// What twelve stations with people reach, as a reliability from 0 to 1. Published: 18
	// stations 0.93 (Med. Educ. Online 21:31650, 2016) and 14 stations 0.72 (Innov. Pharm.
	// 12(1), 2021), brought to twelve by Spearman-Brown.
	PeopleLow  float64 `json:"people_low"`
	PeopleHigh float64 `json:"people_high"`
}

// TheSurety is the program's own.
func TheSurety() Surety { return Surety{JobSD: 22, PeopleLow: 0.7, PeopleHigh: 0.9} }

// PlusMinus is the half width, in points, of the range that holds a person's mean with 95 %
// confidence after so many jobs: 1.96 standard errors. 0 jobs tell nothing: 100.
func (s Surety) PlusMinus(jobs int) float64 {
	if jobs < 1 {
		return 100
	}
	return math.Min(100, 1.96*s.JobSD/math.Sqrt(float64(jobs)))
}

// Messages say it, a sentence each.
func (s Surety) Messages() []text.Message {
	pm := func(name string, jobs int) text.Arg { return text.Number(name, s.PlusMinus(jobs), 0) }
	return []text.Message{
		text.Say("sure.jobs", "One score tells what a person does on other jobs to about ±{one} points; the mean of two to ±{two}, of six to ±{six}, of twelve to ±{twelve}.", pm("one", 1), pm("two", 2), pm("six", 6), pm("twelve", 12)),
		text.Say("sure.people", "That is from simulated technicians. Twelve stations with people reach a reliability of {low} to {high} where that was studied: let a mark hang on several jobs.",
			text.Number("low", s.PeopleLow, 1), text.Number("high", s.PeopleHigh, 1)),
	}
}
