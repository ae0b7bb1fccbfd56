// Package glossary holds the words of the trade as one table, terms.csv: the word that the
// program uses, other words of the shop, words of the United Kingdom, words that are
// understood in an act as it is typed, the lessons that treat it, and what it means. Lists
// within a cell are parted by commas.
//
// The sentences are our own. What a word means is common practice of the trade, without a
// single source.
package glossary

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// A Term is one entry. Its lists are shared and must not be changed.
type Term struct {
	Word    string
	Also    []string // other words of the shop
	UK      []string // words of the United Kingdom
	Typed   []string // understood at the bench in its place
	Lessons []string // ids of lessons that treat it; none for a word that is met in manuals only
	Meaning string
}

//go:embed terms.csv
var table string

var loaded = sync.OnceValue(func() []Term {
	all, err := read(table)
	if err != nil {
		panic(fmt.Sprintf("built with a faulty glossary: %v", err))
	}
	return all
})

// All returns every term in the order of the alphabet. The slice is the caller's own.
func All() []Term { return slices.Clone(loaded()) }

// read reads the table. It is strict, so that a mistake is found when the program is tested.
func read(text string) ([]Term, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.LazyQuotes = ';', true
	rows, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	const heads = "term;also;uk;typed;lessons;meaning"
	if len(rows) == 0 || strings.Join(rows[0], ";") != heads {
		return nil, fmt.Errorf("the first line is not %q", heads)
	}
	var all []Term
	for i, row := range rows[1:] {
		t := Term{Word: row[0], Also: list(row[1]), UK: list(row[2]), Typed: list(row[3]), Lessons: list(row[4]), Meaning: row[5]}
		switch {
		case t.Word == "" || t.Meaning == "":
			return nil, fmt.Errorf("line %d: a term has a word and a meaning", i+2)
		case i > 0 && all[i-1].Word >= t.Word:
			return nil, fmt.Errorf("line %d: %q does not follow %q in the alphabet", i+2, t.Word, all[i-1].Word)
		}
		all = append(all, t)
	}
	return all, nil
}

func list(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, ", ")
}

// Names lists every word for the term, its own first.
func (t Term) Names() []string {
	out := []string{t.Word}
	for _, more := range [][]string{t.Also, t.UK, t.Typed} {
		for _, name := range more {
			if !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// plain brings a word to the form in which words are compared.
func plain(word string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(word), "-", " ")), " ")
}

// Find returns the terms that a word names, or failing that those whose names hold it, in
// the order of the alphabet. Plural and singular are the same. The error offers the whole
// list.
func Find(word string) ([]Term, error) {
	asked := plain(word)
	if asked == "" {
		return nil, fmt.Errorf("no word is given")
	}
	match := func(same func(name string) bool) (found []Term) {
		for _, t := range loaded() {
			if slices.ContainsFunc(t.Names(), func(n string) bool { return same(plain(n)) }) {
				found = append(found, t)
			}
		}
		return found
	}
	one := func(s string) string { return strings.TrimSuffix(strings.TrimSuffix(s, "s"), "e") }
	found := match(func(n string) bool { return n == asked || one(n) == one(asked) })
	if len(found) == 0 {
		found = match(func(n string) bool { return strings.Contains(n, asked) })
	}
	if len(found) == 0 {
		return nil, fmt.Errorf("the glossary has no word like %q", word)
	}
	return found, nil
}

// Of lists the terms that a lesson treats.
func Of(lesson string) []Term {
	var out []Term
	for _, t := range loaded() {
		if slices.Contains(t.Lessons, lesson) {
			out = append(out, t)
		}
	}
	return out
}
