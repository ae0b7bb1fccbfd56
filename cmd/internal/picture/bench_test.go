package picture

import (
	"io"
	"testing"
)

func BenchmarkTerminal(b *testing.B) {
	prints := pair()
	for b.Loop() {
		Terminal(prints, Options{Columns: 80, Colour: true})
	}
}

func BenchmarkPlain(b *testing.B) {
	prints := pair()
	for b.Loop() {
		Plain(prints, Options{Columns: 80})
	}
}

func BenchmarkSVG(b *testing.B) {
	prints := pair()
	for b.Loop() {
		if err := SVG(io.Discard, prints, Options{Colour: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNG(b *testing.B) {
	prints := pair()
	for b.Loop() {
		if err := PNG(io.Discard, prints, Options{Colour: true}); err != nil {
			b.Fatal(err)
		}
	}
}
