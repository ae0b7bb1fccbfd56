package lessons

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"shimwright/lessons/figure"
)

// A Lesson is one short text for the trainee. Its lists are shared by all who hold the
// lesson and must not be changed.
type Lesson struct {
	ID             string // names the lesson on the command line and in a debrief
	Title          string
	About          string   // one line: the subject
	Idea           string   // one line: the tempting idea that the lesson answers
	Group          string   // the part of the job it belongs to
	Order          int      // its place in the course, from 1 up
	Skills         []string // what it trains, of the codes that Skills lists
	Misconceptions []string // ids of package misconception that it answers
	Designs        []string // codes of the families it is about; empty means all
	TryFamily      string   // code of the axle family of a job in which the subject comes up
	TrySeed        uint64   // and its number
	See            []string // ids of related lessons
	Body           string   // Markdown from second-level headings down, without the title, with blocks of package figure
}

// Skills lists the codes that a lesson may give as what it trains.
func Skills() []string {
	return []string{"assemble", "backlash", "depth", "design", "diagnose", "inspect", "measure", "pattern", "preload",
		"records", "runout", "side-preload", "teardown"}
}

//go:embed text/*.md
var files embed.FS

var loaded = sync.OnceValue(func() []Lesson {
	all, err := load(files)
	if err != nil {
		panic(fmt.Sprintf("built with a faulty course: %v", err))
	}
	return all
})

// All returns every lesson in the order of the course, those of a group together. The
// slice is the caller's own.
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
		return Lesson{}, errors.New("no lesson named: give its name")
	}
	return Lesson{}, fmt.Errorf(`no lesson is called %q: the nearest is %q`,
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

// load reads every lesson of a file system and puts them in the order of the course.
// Errors: a faulty file; orders that do not run from 1 up without a gap; a group whose
// lessons do not stand together; a related lesson that does not exist.
func load(fsys fs.FS) ([]Lesson, error) {
	names, err := fs.Glob(fsys, "text/*.md")
	if err != nil {
		return nil, err
	}
	all := make([]Lesson, 0, len(names))
	for _, name := range names {
		src, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, err
		}
		l, err := parse(name, string(src))
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	slices.SortStableFunc(all, func(a, b Lesson) int { return a.Order - b.Order })
	ended := make(map[string]bool)
	for i, l := range all {
		if l.Order != i+1 {
			return nil, fmt.Errorf("lesson %s has order %d where %d is next: give each lesson one number, without a gap", l.ID, l.Order, i+1)
		}
		if i > 0 && all[i-1].Group != l.Group {
			ended[all[i-1].Group] = true
		}
		if ended[l.Group] {
			return nil, fmt.Errorf("lesson %s is of group %q, which has ended before: give it an order beside the others of its group", l.ID, l.Group)
		}
		for _, id := range l.See {
			if !slices.ContainsFunc(all, func(o Lesson) bool { return o.ID == id }) {
				return nil, fmt.Errorf("lesson %s: no lesson is called %q; the nearest is %q", l.ID, id, nearest(id, all))
			}
		}
	}
	return all, nil
}

const (
	fenceLine = "---"
	anyDesign = "all"
)

var (
	idShape     = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	familyShape = regexp.MustCompile(`^[A-Z]+$`)
)

// A header is the opening block of a lesson file as it is read.
type header struct {
	name string
	line map[string]int // where each key stood
	text map[string]string
}

func (h header) at(key, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s %s", h.name, h.line[key], key, fmt.Sprintf(format, args...))
}

// list splits a value at its commas and checks each entry.
func (h header) list(key string, allowed func(string) bool, right string) ([]string, error) {
	if h.text[key] == "" {
		return nil, nil
	}
	var out []string
	for entry := range strings.SplitSeq(h.text[key], ",") {
		entry = strings.TrimSpace(entry)
		switch {
		case slices.Contains(out, entry):
			return nil, h.at(key, "names %q twice", entry)
		case !allowed(entry):
			return nil, h.at(key, "has %q: %s", entry, right)
		}
		out = append(out, entry)
	}
	return out, nil
}

// number reads a whole number from 1 up.
func (h header) number(key string) (uint64, error) {
	n, err := strconv.ParseUint(h.text[key], 10, 64)
	if err != nil || n == 0 {
		return 0, h.at(key, "%q is not a whole number from 1 up", h.text[key])
	}
	return n, nil
}

// needed lists the keys that every lesson has; optional, those that may be missing.
func needed() []string {
	return []string{"id", "title", "about", "idea", "group", "order", "skills", "misconceptions", "designs", "try_family", "try_seed"}
}

func optional() []string { return []string{"see"} }

// readHeader reads the opening block and returns what follows it.
func readHeader(name, src string) (h header, body string, err error) {
	lines := strings.Split(src, "\n")
	if lines[0] != fenceLine {
		return h, "", fmt.Errorf("%s:1: a lesson starts with a line %q", name, fenceLine)
	}
	end := slices.Index(lines[1:], fenceLine) + 1
	if end == 0 {
		return h, "", fmt.Errorf("%s:%d: the opening block has no closing line %q", name, len(lines), fenceLine)
	}
	h = header{name: name, line: make(map[string]int), text: make(map[string]string)}
	known := append(needed(), optional()...)
	for i, line := range lines[1:end] {
		n := i + 2 // lines count from 1 and the fence is the first
		key, value, ok := strings.Cut(line, ": ")
		value = strings.TrimSpace(value)
		switch {
		case !ok || value == "":
			return h, "", fmt.Errorf(`%s:%d: %q is not "key: value"`, name, n, line)
		case !slices.Contains(known, key):
			return h, "", fmt.Errorf("%s:%d: %q is not a known key: use %s", name, n, key, strings.Join(known, ", "))
		case h.line[key] > 0:
			return h, "", fmt.Errorf("%s:%d: %s is given twice", name, n, key)
		}
		h.line[key], h.text[key] = n, value
	}
	for _, key := range needed() {
		if h.line[key] == 0 {
			return h, "", fmt.Errorf("%s:%d: %s is missing", name, end+1, key)
		}
	}
	body = strings.TrimSpace(strings.Join(lines[end+1:], "\n")) + "\n"
	if body == "\n" {
		return h, "", fmt.Errorf("%s:%d: nothing follows the opening block", name, end+2)
	}
	return h, body, nil
}

// parse reads a lesson file. It is strict, so that a mistyped key or value is found when
// the program is tested and not by a trainee.
func parse(name, src string) (Lesson, error) {
	h, body, err := readHeader(name, src)
	if err != nil {
		return Lesson{}, err
	}
	if _, err := figure.Split(body); err != nil {
		return Lesson{}, fmt.Errorf("%s: below the opening block, %w", name, err)
	}
	l := Lesson{ID: h.text["id"], Title: h.text["title"], About: h.text["about"], Idea: h.text["idea"], Group: h.text["group"],
		TryFamily: h.text["try_family"], Body: body}
	if file := strings.TrimSuffix(path.Base(name), ".md"); l.ID != file {
		return Lesson{}, h.at("id", "%q does not match the file's name, %q", l.ID, file)
	}
	order, err := h.number("order")
	if err != nil {
		return Lesson{}, err
	}
	const mostLessons = 1000
	if order > mostLessons {
		return Lesson{}, h.at("order", "%d is above %d", order, mostLessons)
	}
	l.Order = int(order)
	if l.TrySeed, err = h.number("try_seed"); err != nil {
		return Lesson{}, err
	}
	isSkill := func(s string) bool { return slices.Contains(Skills(), s) }
	if l.Skills, err = h.list("skills", isSkill, "use "+strings.Join(Skills(), ", ")); err != nil {
		return Lesson{}, err
	}
	const idRight = "an id is of small letters, its words joined by hyphens"
	if l.Misconceptions, err = h.list("misconceptions", idShape.MatchString, idRight); err != nil {
		return Lesson{}, err
	}
	if l.See, err = h.list("see", func(s string) bool { return idShape.MatchString(s) && s != l.ID }, idRight+" and not the lesson's own"); err != nil {
		return Lesson{}, err
	}
	if h.text["designs"] != anyDesign {
		if l.Designs, err = h.list("designs", familyShape.MatchString, "a family's code is of capital letters; or say "+anyDesign); err != nil {
			return Lesson{}, err
		}
	}
	switch {
	case !familyShape.MatchString(l.TryFamily):
		return Lesson{}, h.at("try_family", "%q is no family's code, which is of capital letters", l.TryFamily)
	case len(l.Designs) > 0 && !slices.Contains(l.Designs, l.TryFamily):
		return Lesson{}, h.at("try_family", "%s is not of the designs that the lesson is about: %s", l.TryFamily, strings.Join(l.Designs, ", "))
	}
	return l, nil
}
