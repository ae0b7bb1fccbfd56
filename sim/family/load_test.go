package family

import "testing"

// BenchmarkRead reads the ten embedded files as the program does, without what Check
// asks of the physics.
func BenchmarkRead(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, code := range codes() {
			if embedded(code).Code != code {
				b.Fatal(code)
			}
		}
	}
}
