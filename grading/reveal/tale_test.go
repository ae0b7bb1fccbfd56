package reveal

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/quantity"
	"shimwright/sim/service"
	"shimwright/sim/text"
)

// A difference of 10 °C is one of 18 °F, and 160.9344 km is 100 miles (definitions).
func TestUnitsOfTheRoad(t *testing.T) {
	assert.Equal(t, "18 °F", rise(10).Show(quantity.Inch))
	assert.Equal(t, "10 °C", rise(10).Show(quantity.Metric))
	assert.Equal(t, "100 mph", speed(160.9344).Show(quantity.Inch))
}

// A side bearing cone that seats lets the ring gear move to its side, with what preload is left.
func TestAConeThatSeats(t *testing.T) {
	p := text.NewPrinter(quantity.Metric, text.Overlay{})
	for movedMM, way := range map[float64]string{-0.02: "moves nearer by 0.020 mm", 0.02: "moves away by 0.020 mm"} {
		a := tale{signed: service.Setting{SidePreloadN: 4000}, later: service.Setting{SidePreloadN: 1000}}
		a.later.At.RingAwayMM = movedMM
		said := p.Print(a.seated())
		assert.Contains(t, said, way)
		assert.Contains(t, strings.ReplaceAll(said, "\u00a0", " "), " and 25 % of the side bearing preload is left")
	}
}
