package picture

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim/gauge"
)

var update = flag.Bool("update", false, "rewrite the golden files from what is drawn now")

// ellipse makes a print of the grid size the bench uses: an ellipse of ink with a
// soft edge on lightly grained compound.
func ellipse(name string, s, t, length, height float64) gauge.ToothPrint {
	const cols, rows = 48, 16
	p := gauge.ToothPrint{
		Flank: name, Cols: cols, Rows: rows, Ink: make([]float64, cols*rows),
		CentreS: s, CentreT: t, LengthPart: length, HeightPart: height, AreaPart: length * height * math.Pi / 4,
	}
	for row := range rows {
		for col := range cols {
			x := ((float64(col)+0.5)/cols - s) / (length / 2)
			y := ((float64(row)+0.5)/rows - t) / (height / 2)
			grain := 0.08 * float64((col*7+row*13)%5) / 4
			p.Ink[row*cols+col] = min(max(3*(1-x*x-y*y), grain), 1)
		}
	}
	return p
}

func pair() []gauge.ToothPrint {
	return []gauge.ToothPrint{ellipse("drive", 0.42, 0.5, 0.5, 0.6), ellipse("coast", 0.38, 0.72, 0.45, 0.5)}
}

func TestLook(t *testing.T) {
	o := Options{Columns: 80, Colour: true, Title: "BEECH, print 3 - thin coat, gear braked"}
	for name, ps := range map[string][]gauge.ToothPrint{"pair": pair(), "empty": {ellipse("drive", .9, .2, .5, .5), {Flank: "coast"}}, "one": pair()[:1]} {
		for _, c := range []bool{true, false} {
			o.Colour = c
			sfx := map[bool]string{true: "", false: "-grey"}[c]
			var b bytes.Buffer
			require.NoError(t, PNG(&b, ps, o))
			require.NoError(t, os.WriteFile(filepath.Join("/tmp/look", name+sfx+".png"), b.Bytes(), 0o644))
			b.Reset()
			require.NoError(t, SVG(&b, ps, o))
			require.NoError(t, os.WriteFile(filepath.Join("/tmp/look", name+sfx+".svg"), b.Bytes(), 0o644))
			for _, n := range []int{40, 80, 120} {
				o.Columns = n
				require.NoError(t, os.WriteFile(filepath.Join("/tmp/look", name+sfx+string(rune('0'+n/40))+".txt"), []byte(Terminal(ps, o)+"\n"+Plain(ps, o)), 0o644))
			}
		}
	}
}
