package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

func main() {
	log.SetFlags(log.Ltime)
	n := flag.Int("n", 500, "how many mutants")
	seed := flag.Uint64("seed", 1, "which mutants are drawn")
	pkg := flag.String("package", "", "all mutants of this package, as sim/mesh")
	slow := flag.Duration("slow", 5*time.Second, "a test that takes longer takes no part")
	limit := flag.Duration("limit", 15*time.Second, "how long the tests that a mutant meets may take in all")
	callers := flag.String("callers", "sim,scenarios,grading", "the folders of the packages whose tests are asked beside a package's own")
	workers := flag.Int("workers", 2, "tests at a time")
	list := flag.String("csv", "", "write the mutants and what became of them to this file, and keep the reasons that stand there")
	again := flag.Bool("again", false, "those of the list that no test noticed, once more, in place of a sample")
	var at lines
	flag.Var(&at, "at", "all mutants of a line, as sim/mesh/contact.go:10; may be given more than once, and beside a sample")
	flag.Parse()
	if err := mutate(*n, *seed, *pkg, at, *list, *again, &run{in: ".", out: os.Stdout, callers: strings.Split(*callers, ","), slow: *slow, limit: *limit, workers: *workers}); err != nil {
		log.Fatal(err)
	}
}

type lines []string

func (l *lines) String() string     { return strings.Join(*l, ",") }
func (l *lines) Set(s string) error { *l = append(*l, s); return nil }

// mutate does one round.
func mutate(n int, seed uint64, pkg string, at []string, list string, again bool, r *run) error {
	var err error
	if r.folder, err = os.MkdirTemp("", "mutate"); err != nil {
		return err
	}
	defer os.RemoveAll(r.folder)
	if r.m, err = load(r.in); err != nil {
		return err
	}
	before, err := read(list)
	if err != nil {
		return err
	}
	known, open := map[string]string{}, map[string]bool{}
	for _, row := range before {
		if row.reason != "" {
			known[row.key()] = row.reason
		} else if again && row.end != string(killed) {
			open[row.key()] = true
		}
	}
	if again {
		n = 0
	} else {
		before = nil
	}
	us, err := choose(r.m, n, seed, pkg, at, open)
	if err != nil {
		return err
	}
	number(us)
	if r.overlay, err = r.m.overlay(r.folder, us); err != nil {
		return err
	}
	var testers []string // the quick to build first
	for _, u := range us {
		testers = append(testers, r.m.testers(u.pkg, r.callers)...)
	}
	slices.Sort(testers)
	testers = slices.Compact(testers)
	log.Printf("%d mutants; the tests of %d packages are built", len(us), len(testers))
	for _, p := range testers {
		if err := r.build(p); err != nil {
			return err
		}
	}
	log.Print("every test is run once without a mutant")
	var mu sync.Mutex
	tests := map[string][]test{}
	each(r.workers, testers, func(p string) {
		found := r.survey(p)
		mu.Lock()
		defer mu.Unlock()
		tests[p] = found
	})
	for _, l := range r.left {
		log.Print("left out: ", l)
	}
	log.Print("the mutants are woken")
	var rows []row
	var saved error
	each(r.workers, us, func(u mutant) {
		var meets []test
		for _, p := range r.m.testers(u.pkg, r.callers) {
			meets = append(meets, tests[p]...)
		}
		end, by := r.try(u, meets)
		now := r.m.row(u)
		now.end, now.by = string(end), by
		if end != killed {
			now.reason = known[now.key()]
			log.Print(now)
		}
		mu.Lock()
		defer mu.Unlock()
		rows = append(rows, now)
		if list != "" && saved == nil { // a round that is broken off has its list
			saved = save(list, merge(before, rows))
		}
	})
	sum(r.out, merge(before, rows))
	return saved
}

// choose draws the mutants of a round.
func choose(m *module, n int, seed uint64, pkg string, at []string, open map[string]bool) ([]mutant, error) {
	folders := []string{"sim", "scenarios", "grading"}
	all := map[string][]mutant{}
	for _, p := range m.under(folders...) {
		us, err := m.mutants(p)
		if err != nil {
			return nil, err
		}
		all[p] = us
	}
	var chosen []mutant
	switch {
	case pkg != "":
		us, ok := all[m.path+"/"+strings.Trim(pkg, "./")]
		if !ok {
			return nil, fmt.Errorf("no package %s in %s: want a folder, as sim/mesh", pkg, strings.Join(folders, ", "))
		}
		chosen = us
	case n > 0:
		chosen = sample(all, n, seed)
	}
	wanted := func(is func(row) bool) (found bool) {
		for _, us := range all {
			for _, u := range us {
				if !is(m.row(u)) {
					continue
				}
				found = true
				if !slices.ContainsFunc(chosen, u.same) {
					chosen = append(chosen, u)
				}
			}
		}
		return found
	}
	wanted(func(r row) bool { return open[r.key()] })
	for _, line := range at {
		if !wanted(func(r row) bool { return fmt.Sprintf("%s:%d", r.file, r.line) == line }) {
			return nil, fmt.Errorf("nothing to change at %s: want FILE:LINE with a sum, a sign or a comparison", line)
		}
	}
	return chosen, nil
}

// row is a mutant as the list has it, before it is tried.
func (m *module) row(u mutant) row {
	file, _ := filepath.Rel(m.root, u.file)
	return row{file: filepath.ToSlash(file), line: u.site.line, kind: string(u.kind), code: short(u.site.code), becomes: u.site.become(u.kind)}
}

// same reports whether two mutants are one.
func (u mutant) same(v mutant) bool {
	return u.file == v.file && u.kind == v.kind && u.site.from == v.site.from && u.site.to == v.site.to && u.site.call == v.site.call
}
