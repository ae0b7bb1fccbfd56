package lessons

import (
	"embed"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// A Lesson is one short text for the trainee.
type Lesson struct {
	ID        string // names the lesson on the command line and in a debrief
	Group     string // the part of the job it belongs to
	Title     string
	About     string // one line: the subject
	Idea      string // one line: the tempting idea that the lesson answers
	Body      string // Markdown from second-level headings down, without the title
	TryFamily string // code of the axle family of an exercise in which the subject comes up
	TrySeed   uint64 // and its number
}

// usualFamily is the family of a lesson's exercise where its file names none.
const usualFamily = "BEECH"

//go:embed text/*.md
var files embed.FS

// A group is the lessons on one part of the job.
type group struct {
	name string
	ids  []string
}

// teachingOrder runs from what costs least to find out to what needs all the
// rest. Later lessons lean on words explained in earlier ones.
func teachingOrder() []group {
	return []group{
		{"Before anything is turned", []string{"inspect-first", "preload-design"}},
		{"Pinion depth and preload", []string{"depth-mark", "depth-gauge", "depth-height", "cage-shim", "cup-shim",
			"crush-spacer", "solid-spacer", "rotating-torque"}},
		{"Ring gear and side bearings", []string{"side-shims", "adjuster-rings", "backlash-reading", "used-gears", "runout", "total-torque"}},
		{"Proving it", []string{"trust-instruments", "check-again"}},
	}
}

var loaded = sync.OnceValue(func() []Lesson {
	var all []Lesson
	for _, g := range teachingOrder() {
		for _, id := range g.ids {
			name := "text/" + id + ".md"
			src, err := files.ReadFile(name)
			if err != nil {
				panic(fmt.Sprintf("built without its lessons: %v", err))
			}
			l, err := parse(name, string(src))
			if err != nil {
				panic(fmt.Sprintf("built with a faulty lesson: %v", err))
			}
			l.Group = g.name
			all = append(all, l)
		}
	}
	return all
})

// All returns every lesson in the order they are best taken, those of a group
// together. The slice is the caller's own.
func All() []Lesson {
	return slices.Clone(loaded())
}

// Find returns the lesson with the given id. The error for an unknown id offers
// the nearest one and says how to see them all.
func Find(id string) (Lesson, error) {
	all := loaded()
	for _, l := range all {
		if l.ID == id {
			return l, nil
		}
	}
	if strings.TrimSpace(id) == "" {
		return Lesson{}, errors.New(`no lesson named: give its id, or run "shimwright lesson" to see them all`)
	}
	return Lesson{}, fmt.Errorf(`no lesson is called %q: the nearest is %q; run "shimwright lesson" to see them all`,
		id, nearest(id, all))
}

// nearest is the id that shares a word with what was asked for, or failing that
// the one reached with the fewest changed letters; the earlier lesson wins a tie.
func nearest(asked string, all []Lesson) string {
	asked = strings.Join(strings.FieldsFunc(strings.ToLower(asked), func(r rune) bool {
		return r == ' ' || r == '_' || r == '-'
	}), "-")
	best, bestCost := "", 0
	for _, l := range all {
		cost := editDistance(asked, l.ID)
		if strings.Contains(l.ID, asked) || strings.Contains(asked, l.ID) {
			cost = 0
		}
		if best == "" || cost < bestCost {
			best, bestCost = l.ID, cost
		}
	}
	return best
}

// editDistance counts the letters to insert, delete or replace to turn a into b.
func editDistance(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	row := make([]int, len(rb)+1)
	for j := range row {
		row[j] = j
	}
	for i, ca := range ra {
		diagonal := row[0]
		row[0] = i + 1
		for j, cb := range rb {
			cost := diagonal
			if ca != cb {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, diagonal+1, row[j]+1)
		}
	}
	return row[len(rb)]
}

const fenceLine = "---"

// parse reads a lesson file. It is strict, so that a mistyped key is found when
// the program is tested and not by a trainee.
func parse(name, src string) (Lesson, error) {
	at := func(line int, format string, args ...any) error {
		return fmt.Errorf("%s:%d: %s", name, line, fmt.Sprintf(format, args...))
	}
	lines := strings.Split(src, "\n")
	if lines[0] != fenceLine {
		return Lesson{}, at(1, "a lesson starts with a line %q", fenceLine)
	}
	end := slices.Index(lines[1:], fenceLine) + 1
	if end == 0 {
		return Lesson{}, at(len(lines), "the opening block has no closing line %q", fenceLine)
	}
	l := Lesson{TryFamily: usualFamily}
	text := map[string]*string{"id": &l.ID, "title": &l.Title, "about": &l.About, "idea": &l.Idea, "try_family": &l.TryFamily}
	seen := make(map[string]bool)
	for i, line := range lines[1:end] {
		n := i + 2 // lines count from 1 and the fence is the first
		key, value, ok := strings.Cut(line, ": ")
		value = strings.TrimSpace(value)
		switch {
		case !ok || value == "":
			return Lesson{}, at(n, `%q is not "key: value"`, line)
		case seen[key]:
			return Lesson{}, at(n, "%s is given twice", key)
		case text[key] != nil:
			*text[key] = value
		case key == "try_seed":
			seed, err := strconv.ParseUint(value, 10, 64)
			if err != nil || seed == 0 {
				return Lesson{}, at(n, "try_seed %q is not a whole number from 1 up", value)
			}
			l.TrySeed = seed
		default:
			return Lesson{}, at(n, "%q is not a known key: use id, title, about, idea, try_family or try_seed", key)
		}
		seen[key] = true
	}
	for _, key := range []string{"id", "title", "about", "idea", "try_seed"} {
		if !seen[key] {
			return Lesson{}, at(end+1, "%s is missing", key)
		}
	}
	if name != "text/"+l.ID+".md" {
		return Lesson{}, at(1, "id %q does not match the file's name", l.ID)
	}
	l.Body = strings.TrimSpace(strings.Join(lines[end+1:], "\n")) + "\n"
	if l.Body == "\n" {
		return Lesson{}, at(end+2, "nothing follows the opening block")
	}
	return l, nil
}
