package picture

import (
	"io"
	"testing"
)

func BenchmarkTerminal(b *testing.B) {
	patterns := pair()
	for b.Loop() {
		Terminal(patterns, Options{Columns: 80, Color: true})
	}
}

func BenchmarkPlain(b *testing.B) {
	patterns := pair()
	for b.Loop() {
		Plain(patterns, Options{Columns: 80})
	}
}

func BenchmarkSVG(b *testing.B) {
	patterns := pair()
	for b.Loop() {
		if err := SVG(io.Discard, patterns, Options{Color: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNG(b *testing.B) {
	patterns := pair()
	for b.Loop() {
		if err := PNG(io.Discard, patterns, Options{Color: true}); err != nil {
			b.Fatal(err)
		}
	}
}
