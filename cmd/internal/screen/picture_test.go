package screen_test

import (
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/screen"
	"shimwright/scenarios/attempt"
)

// asPicture is a screen as an SVG, every row as wide as its columns whatever font is there.
func asPicture(shown, words string) string {
	const wide, high, left, top = 8, 17, 12, 20
	rows := strings.Split(shown, "\n")
	columns := 0
	for _, r := range rows {
		columns = max(columns, ansi.StringWidth(r))
	}
	var b strings.Builder
	w, h := 2*left+wide*columns, 2*left+high*len(rows)
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\" role=\"img\" aria-labelledby=\"title\">\n<title id=\"title\">%s</title>\n", w, h, w, h, words)
	fmt.Fprintf(&b, "<rect width=\"%d\" height=\"%d\" rx=\"6\" fill=\"#16202a\"/>\n<g font-family=\"DejaVu Sans Mono, Menlo, Consolas, monospace\" font-size=\"13\" fill=\"#e8e6df\">\n", w, h)
	for i, r := range rows {
		if strings.TrimSpace(r) == "" {
			continue
		}
		var escaped strings.Builder
		_ = xml.EscapeText(&escaped, []byte(r)) // a Builder takes everything
		fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\" xml:space=\"preserve\" textLength=\"%d\" lengthAdjust=\"spacingAndGlyphs\">%s</text>\n", left, top+high*i, wide*ansi.StringWidth(r), escaped.String())
	}
	b.WriteString("</g>\n</svg>\n")
	return b.String()
}

// The picture of the bench in the user's guide is what the bench shows now: a coached job, where
// the torque has just been read. With -update it is written anew.
func TestThePictureOfTheTerminal(t *testing.T) {
	p, b := sitOn(t, attempt.Terms{Help: attempt.CoachHelp}, sound("BEECH"))
	p.press("1", "=", "enter", "3", "1", "h", "3", "2", "2", "4", "3", "b")
	for range 8 {
		p.press("4")
		p.press(keyOf(t, p, "tighten nut..."), "c")
	}
	p.press("v", "t", "b")
	for p.m.Scene().Asks != nil {
		p.press("enter")
	}
	require.Greater(t, len(b.Shown()), 20)
	got := asPicture(screen.Draw(p.m.Scene(), 92, 28, false), "The bench in a terminal: the axle cut open, the specification sheet with the readings, the torque wrench in hand, and what the coach says of the last turn of the nut")
	require.NoError(t, xml.Unmarshal([]byte(got), new(struct{})))
	assert.Contains(t, got, "Cost so far")
	assert.Contains(t, got, "measure torque rotating wrench")
	file := filepath.Join("..", "..", "..", "testdata", "pictures", "bench-terminal.svg")
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o600))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got, "run with -update if it is meant")
}
