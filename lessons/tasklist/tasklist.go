// Package tasklist holds as data which tasks of the trade lessons and drills train, and which
// published task lists ask for them. Numbers belong to the lists and change with their
// editions: the current one is to be checked before a number is printed for a class. What
// they ask for is told in our own words. A row is verified if its number or title was read
// in a public copy, else from memory.
package tasklist

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
)

// A Training is what trains one task, by its id.
type Training struct {
	Task            string
	Lessons, Drills []string
}

// An Entry is one line of a published list.
type Entry struct {
	Place, List string
	Code        string // "-" where the list gives none
	About       string
	Verified    bool // else from memory
	Tasks       []string
}

//go:embed tasks.csv
var tasks string

//go:embed lists.csv
var lists string

var loaded = sync.OnceValue(func() (out struct {
	trainings []Training
	entries   []Entry
}) {
	for _, row := range rows(tasks, 3) {
		out.trainings = append(out.trainings, Training{row[0], list(row[1]), list(row[2])})
	}
	for _, row := range rows(lists, 6) {
		if row[4] != "verified" && row[4] != "from memory" {
			panic(fmt.Sprintf("built with a faulty task list: %q is neither verified nor from memory", row[4]))
		}
		out.entries = append(out.entries, Entry{row[0], row[1], row[2], row[3], row[4] == "verified", list(row[5])})
	}
	return out
})

// rows reads a table without its head.
func rows(text string, columns int) [][]string {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = ';', columns, true
	all, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("built with a faulty task list: %v", err))
	}
	return all[1:]
}

func list(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, ", ")
}

// Trainings lists what trains each task, in the order of the work.
func Trainings() []Training { return append([]Training(nil), loaded().trainings...) }

// Entries lists the lines of published lists.
func Entries() []Entry { return append([]Entry(nil), loaded().entries...) }
