package web

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/picture"
)

// On a dark page a picture of a lesson or a debrief is dark too.
func TestADarkPageHasTheColorsOfPictures(t *testing.T) {
	style, err := os.ReadFile("static/bench.css")
	require.NoError(t, err)
	assert.Contains(t, string(style), picture.DarkColors())
}
