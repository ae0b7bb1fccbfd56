package exercise

import (
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// ErrNotExercise marks a file that cannot be read as an exercise at all.
var ErrNotExercise error = text.Fail(nil, text.Say("exercise.not-an-exercise", "this cannot be read as an exercise"))

// A Chosen family is one that an exercise names.
type Chosen struct {
	Name   string // as the exercise names it: a code, or a file
	Family family.Family
	Text   string // what its file said; "" for one that comes with the program
}

// An Exercise is a set of jobs and the terms they are worked on.
type Exercise struct {
	Name     string // how it is asked for; not written in the file
	Title    string
	About    string
	Families []Chosen
	Kinds    []scenarios.Kind
	Faults   scenarios.FaultRule
	Units    quantity.System
	Off      []sim.LeftOff
	Budget   scenarios.Budget
	Weights  map[string]scenarios.Weight // of scenarios.Points, where they are not the usual ones
	Band     string                      // of Bands; "" for jobs of any difficulty
	Help     attempt.Help
	Mode     attempt.Mode
	Open     attempt.OpenJob
	Tasks    []string // ids of Tasks
	Note     string   // free text: numbers of the instructor's own task list, say
	Seeds    []uint64 // the job numbers, or
	First    uint64   // the first of a row, where there are no Seeds
	Count    int      // how long the row is; 0 for a row without end
}

// Bands lists how hard jobs can be asked to be. How hard one is, is for whoever measures it
// to say.
func Bands() []string { return []string{"easy", "medium", "hard"} }

// A Task is something that a trade's task lists ask for, in words of our own.
type Task struct {
	ID   string
	Does text.Message
}

// Tasks lists what an exercise can be about, in the order of the work.
func Tasks() []Task {
	return []Task{
		{"find-fault", text.Say("task.find-fault", "diagnose a drive axle from what you measure")},
		{"inspect-parts", text.Say("task.inspect-parts", "inspect bearings, gears, seal, spacer and bearing caps before you use them")},
		{"gear-runout", text.Say("task.gear-runout", "measure the runout of ring gear and case flange")},
		{"pinion-depth", text.Say("task.pinion-depth", "select the depth shim and verify the pinion depth")},
		{"pinion-preload", text.Say("task.pinion-preload", "set the pinion bearing preload")},
		{"side-preload", text.Say("task.side-preload", "set the side bearing preload")},
		{"backlash", text.Say("task.backlash", "measure the backlash and adjust it to its spec")},
		{"contact-pattern", text.Say("task.contact-pattern", "read the contact pattern on drive side and coast side, and make the correction that it asks for")},
		{"instruments", text.Say("task.instruments", "check an instrument before you rely on it")},
		{"records", text.Say("task.records", "keep a build sheet and sign off the work")},
	}
}

func taskIDs() []string {
	var out []string
	for _, t := range Tasks() {
		out = append(out, t.ID)
	}
	return out
}

// Terms are what attempts of the exercise are made on.
func (e Exercise) Terms() attempt.Terms {
	return attempt.Terms{Exercise: e.Name, Digest: attempt.DigestOf(e.Encode()), Mode: e.Mode, Help: e.Help, Open: e.Open}
}

// Order returns what a job number asks for, and the family it falls to.
func (e Exercise) Order(seed uint64) (scenarios.Order, Chosen) {
	kinds, families := uint64(len(e.Kinds)), uint64(len(e.Families))
	chosen := e.Families[seed/kinds%families]
	return e.on(chosen, e.Kinds[seed%kinds]), chosen
}

func (e Exercise) on(c Chosen, k scenarios.Kind) scenarios.Order {
	return scenarios.Order{Family: c.Family, Kind: k, Faults: e.Faults, Off: e.Off, Budget: e.Budget, Weights: e.Weights}
}

// Numbers returns the first so many job numbers of the exercise; fewer where it has no
// more.
func (e Exercise) Numbers(most int) []uint64 {
	if len(e.Seeds) > 0 {
		return e.Seeds[:min(most, len(e.Seeds))]
	}
	if e.Count > 0 {
		most = min(most, e.Count)
	}
	var out []uint64
	for i := range uint64(most) {
		out = append(out, e.First+i)
	}
	return out
}

// Holds tells whether a job number is one of the exercise's.
func (e Exercise) Holds(seed uint64) bool {
	if len(e.Seeds) > 0 {
		return slices.Contains(e.Seeds, seed)
	}
	return seed >= e.First && (e.Count == 0 || seed-e.First < uint64(e.Count))
}

// NumbersOn returns the first so many job numbers that fall to a kind of job on a family.
func (e Exercise) NumbersOn(family string, k scenarios.Kind, most int) []uint64 {
	var out []uint64
	if len(e.Seeds) == 0 {
		// Every pair comes once in a round.
		most *= len(e.Kinds) * len(e.Families)
	}
	for _, n := range e.Numbers(max(most, len(e.Seeds))) {
		if o, _ := e.Order(n); o.Kind == k && o.Family.Code == family {
			out = append(out, n)
		}
	}
	return out
}

// A Tried is how the reference technician fared at a job of an exercise.
type Tried struct {
	Order          scenarios.Order
	Minutes, Parts shop.Minutes
}

// Over says what of the budget the reference technician could not keep, or nothing.
func (t Tried) Over() text.Message {
	over := func(key string, spent, limit shop.Minutes) text.Message {
		if limit <= 0 || spent <= limit {
			return text.Message{}
		}
		return text.Say("exercise.over-budget", "an experienced technician needs {spent}, and {key} allows {limit}",
			text.Minutes("spent", float64(spent)), text.Typed("key", key), text.Minutes("limit", float64(limit)))
	}
	if m := over("minutes", t.Minutes, t.Order.Budget.Minutes); !m.IsZero() {
		return m
	}
	return over("parts_minutes", t.Parts, t.Order.Budget.Parts)
}

// Job makes a job of the exercise. Errors: those of scenarios.Order.Generate.
func (e Exercise) Job(seed uint64) (scenarios.Job, error) {
	o, _ := e.Order(seed)
	return o.Generate(seed)
}

// Try has the reference technician work a job of the exercise at its bench. Errors: a job that
// cannot be finished.
func (e Exercise) Try(j scenarios.Job) (Tried, error) {
	o, _ := e.Order(j.Card.Seed)
	s, err := j.Stand()
	if err != nil {
		return Tried{}, err
	}
	if err := technician.Work(s, j.Card.Known, technician.Competent()); err != nil {
		return Tried{}, err
	}
	st := s.Status()
	return Tried{o, st.Minutes, st.PartsMinutes}, nil
}

// NameOf is the name of the exercise in a file: the file's own, without its ending and
// without what does not print.
func NameOf(file string) string {
	base := filepath.Base(file)
	return strings.Map(func(c rune) rune {
		if !unicode.IsPrint(c) || c == unicode.ReplacementChar {
			return '_'
		}
		return c
	}, strings.TrimSuffix(base, filepath.Ext(base)))
}

// Read reads an exercise file. Errors: those of opening it, and datasheet.Problems with
// every mistake, which is ErrNotExercise when the file cannot be read as one at all.
func Read(file string) (Exercise, error) {
	written, err := datasheet.ReadFile(file)
	if err != nil {
		return Exercise{}, err
	}
	return Parse(written, file)
}

// An UnknownError is that of an exercise that there is not.
type UnknownError struct{ Name string }

// Tell says which exercises there are.
func (e *UnknownError) Tell() text.Message {
	return text.Say("exercise.unknown", "there is no exercise {name}: the exercises are {names}; the name of a file ends in .yaml",
		text.Quoted("name", e.Name), text.AllTyped("names", names()...))
}

func (e *UnknownError) Error() string { return "exercise.unknown: " + e.Name }

// metricName ends the name of a ready exercise in inch units to ask for its pair: the same
// jobs in metric units.
const metricName = "-metric"

// InMetric returns the metric pair of an exercise in inch units: the same jobs on the same
// terms. An exercise in metric units has none.
func (e Exercise) InMetric() (pair Exercise, ok bool) {
	if e.Units == quantity.Metric {
		return Exercise{}, false
	}
	e.Name, e.Units = e.Name+metricName, quantity.Metric
	return e, true
}

// Find returns the exercise of the program with a name, the metric pair of one, or the one
// in a file. Errors: those of Read, and a name that is none of these.
func Find(nameOrFile string) (Exercise, error) {
	for _, e := range All() {
		if strings.EqualFold(e.Name, nameOrFile) {
			return e, nil
		}
		if pair, ok := e.InMetric(); ok && strings.EqualFold(pair.Name, nameOrFile) {
			return pair, nil
		}
	}
	if filepath.Ext(nameOrFile) == "" && !strings.ContainsAny(nameOrFile, `/\`) {
		return Exercise{}, &UnknownError{nameOrFile}
	}
	return Read(nameOrFile)
}
