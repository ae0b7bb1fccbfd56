package scenarios_test

import (
	"testing"

	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/sim/family"
)

// BenchmarkGenerate makes finished jobs: a draw, and the competent hand's proof that
// it can be brought home.
func BenchmarkGenerate(b *testing.B) {
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := scenariostest.Generate(family.Beech(), uint64(i%16)+1); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSketch makes cards and hidden states without that proof.
func BenchmarkSketch(b *testing.B) {
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := scenariostest.Sketch(family.Beech(), uint64(i%1024)+1); err != nil {
			b.Fatal(err)
		}
	}
}

// A class or a report makes many jobs of one order: the gears are worked out once.
func BenchmarkMaker(b *testing.B) {
	m, err := scenarios.Order{Family: family.Beech()}.Maker()
	if err != nil {
		b.Fatal(err)
	}
	for i := 0; b.Loop(); i++ {
		if _, err := m.Generate(uint64(i%16) + 1); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLoneJob makes a job as who practices does: gears, draw, and the proof that it can
// be finished.
func BenchmarkLoneJob(b *testing.B) {
	order := scenarios.Order{Family: family.Beech()}
	for i := 0; b.Loop(); i++ {
		if _, err := order.Generate(uint64(i%16) + 1); err != nil {
			b.Fatal(err)
		}
	}
}
