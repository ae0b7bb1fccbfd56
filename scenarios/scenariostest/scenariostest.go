// Package scenariostest deals whole jobs to tests. Only tests import it.
//
// A test deals many jobs of few families. What all jobs of a family have in common, above
// all its gears, is worked out once in a test run; the jobs are those of scenarios.Order.
package scenariostest

import (
	"reflect"
	"sync"

	"shimwright/scenarios"
	"shimwright/sim/family"
)

// makers holds what makes the jobs of each family, by code. A Maker does not change, so a
// job does not depend on which tests ran before.
var makers sync.Map

// maker returns the maker of a family's jobs.
func maker(fam family.Family) (*scenarios.Maker, error) {
	type made struct {
		family family.Family
		maker  *scenarios.Maker
	}
	if m, ok := makers.Load(fam.Code); ok && reflect.DeepEqual(m.(made).family, fam) {
		return m.(made).maker, nil
	}
	m, err := scenarios.Order{Family: fam}.Maker()
	if err == nil {
		makers.Store(fam.Code, made{fam, m})
	}
	return m, err
}

// Generate returns the whole job of a seed for a family. Errors: those of
// scenarios.Order.Generate.
func Generate(fam family.Family, seed uint64) (scenarios.Job, error) {
	m, err := maker(fam)
	if err != nil {
		return scenarios.Job{}, err
	}
	return m.Generate(seed)
}

// Sketch returns the first draw of a seed for a family without proving that it can be
// finished. Errors: those of scenarios.Maker.Sketch.
func Sketch(fam family.Family, seed uint64) (scenarios.Job, error) {
	m, err := maker(fam)
	if err != nil {
		return scenarios.Job{}, err
	}
	return m.Sketch(seed)
}
