package exercise

import (
	"embed"
	"sync"
)

//go:embed data/*.yaml
var files embed.FS

// names lists the ready exercises, from a first lesson to a last examination.
func names() []string {
	return []string{"first-depth", "first-preload", "first-sides", "first-pattern", "first-axle", "mock-up-first", "metric-depth", "no-marks", "cup-and-preload-shims", "cage-and-adjusters",
		"inspect-before-building", "doubt-the-tools", "no-depth-gauge", "used-set", "case-to-reject", "stretched-housing", "aluminum-carrier", "previous-technicians", "against-the-clock", "all-designs", "hard-cases", "half-way-check", "final-examination"}
}

// ready holds the exercises, read once.
var ready = sync.OnceValue(func() []Exercise {
	var out []Exercise
	for _, name := range names() {
		file := "data/" + name + ".yaml"
		written, err := files.ReadFile(file)
		if err != nil {
			panic(err) // they are part of the program, and the tests look for mistakes in them
		}
		e, err := Parse(written, file)
		if err != nil {
			panic(err)
		}
		out = append(out, e)
	}
	return out
})

// All lists the ready exercises, in the order to work them in.
func All() []Exercise { return append([]Exercise(nil), ready()...) }
