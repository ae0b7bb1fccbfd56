package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func twoParts() Section {
	return Section{Wide: 20, High: 4, Axis: 2, AxisName: "axis", Parts: []Part{{Mark: 'P', Name: "plate"}, {Mark: 'S', Name: "shim <thin>", Strong: true}},
		Blocks: []Block{{0, 4, 0, 10, 4}, {1, 9, 1, 10, 3}}}
}

func TestSectionText(t *testing.T) {
	got, err := SectionText(twoParts(), Options{Columns: 60})
	require.NoError(t, err)
	assert.Equal(t, "  : PPPPPP\n    PPPPPS\n  : PPPPPS\n    PPPPPP\n\nP plate   S shim <thin>   : axis\n", got)

	wide := twoParts()
	wide.Wide, wide.Blocks = 120, append(wide.Blocks, Block{1, 100, 0, 101, 1})
	got, err = SectionText(wide, Options{Columns: 40})
	require.NoError(t, err)
	for line := range strings.SplitSeq(got, "\n") {
		assert.LessOrEqual(t, len(line), 40)
	}
	assert.Regexp(t, `PS* +S\n`, got, "a thin part stays to be seen")
}

func TestSectionSVG(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, SectionSVG(&b, twoParts(), "A shim & a plate.", Options{ID: "cut", Color: true}))
	assert.Contains(t, b.String(), `<desc id="cut-desc">A shim &amp; a plate.</desc>`)
	assert.Contains(t, b.String(), "shim &lt;thin&gt;")
	d := xml.NewDecoder(&b)
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
}

func TestSectionsThatDoNotFitAreRefused(t *testing.T) {
	for name, change := range map[string]func(*Section){
		"no parts":      func(s *Section) { s.Parts, s.Blocks = nil, nil },
		"no such part":  func(s *Section) { s.Blocks[0].Part = 2 },
		"outside":       func(s *Section) { s.Blocks[0].Right = 21 },
		"left of it":    func(s *Section) { s.Blocks[0].Left = -1 },
		"upside down":   func(s *Section) { s.Blocks[0].Bottom = 0 },
		"no width":      func(s *Section) { s.Wide = 0 },
		"without limit": func(s *Section) { s.High = 100000 },
	} {
		s := twoParts()
		change(&s)
		_, err := SectionText(s, Options{})
		assert.Error(t, err, name)
		assert.Error(t, SectionSVG(io.Discard, s, "", Options{}), name)
	}
}
