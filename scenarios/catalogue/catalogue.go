package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/scenarios/fault"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
)

// A Kind says how a thing comes to be wrong.
type Kind string

// The kinds of entry.
const (
	FaultState Kind = "fault" // the axle came with it
	Mistake    Kind = "slip"  // another hand did it, on a finished axle
)

// An Entry is one thing that can be wrong.
type Entry struct {
	Kind       Kind
	ID, Name   string
	Area       string // of the job
	Cause      string // fault states only
	Shows      string
	TakenFor   string // in words; fault states only
	LookAlikes []string
	Told       string   // the test that separates it, in words
	Test, Cure act.Form // fault states only
	Remedy     string
	Missed     string
	Lesson     string
	Difficulty int // 1 one odd reading that points at itself, to 5 nothing on the bench cures it
	Strength   fault.Strength
	Source     string
	Often      float64 // fault state: of the jobs that can bring it; slip: of the previous-work axles of its design, on average over the shelf
	Low, High  float64 // size, in Unit, on a light axle; fault states only
	Unit       string
	On         string // which axles or jobs, "" for all
}

// All lists every entry, fault states before slips, each in the order of the job.
func All() []Entry {
	var out []Entry
	for _, f := range fault.All() {
		out = append(out, Entry{Kind: FaultState, ID: string(f.ID), Name: f.Name, Area: string(f.Area), Cause: f.Cause, Shows: f.Shows,
			TakenFor: f.TakenFor, LookAlikes: alikes(string(f.ID)), Told: f.Told, Test: f.Test, Cure: f.Cure, Remedy: f.Remedy,
			Missed: f.Missed, Lesson: f.Lesson, Difficulty: f.Difficulty, Strength: f.Strength, Source: f.Source,
			Often: f.BaseRate, Low: f.Low, High: f.High, Unit: f.Unit, On: faultOn(f)})
	}
	for _, s := range technician.Mistakes() {
		often, on := mistakeOn(s)
		out = append(out, Entry{Kind: Mistake, ID: s.ID, Name: s.Name, Area: s.Stage, Shows: s.Shows, LookAlikes: alikes(s.ID), Told: s.Told,
			Remedy: s.Remedy, Missed: s.Missed, Lesson: s.Lesson, Difficulty: s.Difficulty, Strength: s.Strength, Source: s.Source,
			Often: often, On: on})
	}
	return out
}

// Find returns the entry with an id. Errors: one that there is not, with what is near it.
func Find(id string) (Entry, error) {
	var near []string
	for _, e := range All() {
		if e.ID == id {
			return e, nil
		}
		for _, word := range strings.Split(id, "-") {
			if word != "" && strings.Contains(e.ID, word) && !slices.Contains(near, e.ID) {
				near = append(near, e.ID)
			}
		}
	}
	if len(near) == 0 {
		return Entry{}, fmt.Errorf("%q is not in the catalogue: its list has the names", id)
	}
	return Entry{}, fmt.Errorf("%q is not in the catalogue: did you mean %s?", id, strings.Join(near, ", "))
}

// Areas lists the areas of the job that entries of a kind stand in, in their order.
func Areas(k Kind) []string {
	var out []string
	for _, e := range All() {
		if e.Kind == k && !slices.Contains(out, e.Area) {
			out = append(out, e.Area)
		}
	}
	return out
}

// faultOn says which axles and jobs can bring a fault, by trying them.
func faultOn(f fault.Fault) string {
	var limits []string
	codes := codesWhere(func(fam family.Family) bool { return f.Has == nil || f.Has(fam.Design) })
	if codes != "" {
		limits = append(limits, codes)
	}
	if f.Needs != nil {
		whole := fault.Job{}
		switch {
		case !f.Needs(whole):
			limits = append(limits, "jobs that begin with the case in")
		case !f.Needs(fault.Job{UsedBearings: true}):
			limits = append(limits, "new pinion bearings, depth not yet chosen")
		case !f.Needs(fault.Job{UsedGears: true}):
			limits = append(limits, "new gears")
		}
	}
	return strings.Join(limits, "; ")
}

// slipOn returns how many of the previous-work axles have a slip, over the shelf, and on
// which families. One such axle in a few is right.
func mistakeOn(s technician.Mistake) (often float64, on string) {
	can := func(fam family.Family, used bool) (int, bool) {
		k := technician.Known{Sheet: fam.Sheet, Design: fam.Design, UsedGears: used, OldMark: 0, NewMark: 1}
		mistakes := technician.MistakesOn(k)
		return len(mistakes), slices.ContainsFunc(mistakes, func(o technician.Mistake) bool { return o.ID == s.ID })
	}
	n := 0
	for _, fam := range family.Shelf() {
		mistakes, yes := can(fam, false)
		if !yes {
			mistakes, yes = can(fam, true)
		}
		if yes {
			often += 1 / float64(mistakes+max(1, mistakes/5))
			n++
		}
	}
	if n > 0 {
		often /= float64(n)
	}
	on = codesWhere(func(fam family.Family) bool { _, yes := can(fam, false); return yes })
	if s.Has != nil && s.Has(technician.Known{UsedGears: true}) && !s.Has(technician.Known{}) {
		on = "jobs with used gears"
	}
	return often, on
}

// codesWhere names the shelf's families for which something holds; "" for all.
func codesWhere(holds func(family.Family) bool) string {
	var codes []string
	for _, fam := range family.Shelf() {
		if holds(fam) {
			codes = append(codes, fam.Code)
		}
	}
	if len(codes) == len(family.Shelf()) {
		return ""
	}
	return strings.Join(codes, ", ")
}
