package mesh

import "testing"

func BenchmarkNewBlank(b *testing.B) {
	for b.Loop() {
		if _, err := NewBlank(setA); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewSet(b *testing.B) {
	for b.Loop() {
		if _, err := NewSet(setA, normal, normal, designLash); err != nil {
			b.Fatal(err)
		}
	}
}

// benchPositions are moved between so that no result can be kept.
var benchPositions = [2]Position{{PinionOutMM: 0.1, RingAwayMM: -0.05}, {PinionOutMM: -0.1, RingAwayMM: 0.05}}

func BenchmarkPatternBothFlanks(b *testing.B) {
	k := newSet(b, setA).NewContact()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := k.Move(benchPositions[i%2]); err != nil {
			b.Fatal(err)
		}
		k.Pattern(Drive, thinFilm)
		k.Pattern(Coast, thinFilm)
	}
}

func BenchmarkBacklash(b *testing.B) {
	k := newSet(b, setA).NewContact()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := k.Move(benchPositions[i%2]); err != nil {
			b.Fatal(err)
		}
		k.Backlash()
	}
}

func BenchmarkSeparation(b *testing.B) {
	k := newSet(b, setA).NewContact()
	var dst []float64
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := k.Move(benchPositions[i%2]); err != nil {
			b.Fatal(err)
		}
		dst = k.Separation(Drive, 48, 16, dst)
	}
}

func BenchmarkNewExactContact(b *testing.B) {
	s := newSet(b, setA)
	for b.Loop() {
		if _, err := s.NewExactContact(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkExactPatternBothFlanks(b *testing.B) {
	k, err := newSet(b, setA).NewExactContact()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := k.Move(benchPositions[i%2]); err != nil {
			b.Fatal(err)
		}
		k.Pattern(Drive, thinFilm)
		k.Pattern(Coast, thinFilm)
	}
}
