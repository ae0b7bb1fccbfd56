package term

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPage(t *testing.T) {
	text := strings.Repeat("line\n", 25)
	page := func(s Streams, keys string) string {
		var out bytes.Buffer
		s.In, s.Out = strings.NewReader(keys), &out
		require.NoError(t, s.Page(text))
		return out.String()
	}
	assert.Equal(t, text, page(Streams{Height: 10}, ""), "nobody is there to press a key")
	assert.Equal(t, text, page(Streams{Person: true}, ""), "the screen's height is not known")
	assert.Equal(t, text, page(Streams{Person: true, Height: 25}, ""), "it fits")
	all := page(Streams{Person: true, Height: 12}, "\n\nkept\n")
	assert.Equal(t, 25, strings.Count(all, "line\n"))
	assert.Contains(t, all, "-- 15 more lines: Enter goes on, q stops -- ")
	assert.Equal(t, 2, strings.Count(all, "Enter goes on"))
	assert.Equal(t, 10, strings.Count(page(Streams{Person: true, Height: 12}, "Q\n"), "line\n"))
	assert.Equal(t, 10, strings.Count(page(Streams{Person: true, Height: 12}, ""), "line\n"), "the end of what is typed stops it")
}
