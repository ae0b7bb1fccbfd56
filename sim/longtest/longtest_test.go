package longtest_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/longtest"
)

func TestPick(t *testing.T) {
	t.Setenv("SHIMWRIGHT_LONG", "")
	assert.False(t, longtest.On())
	assert.Equal(t, 3, longtest.Pick(3, 300))
	t.Setenv("SHIMWRIGHT_LONG", "1")
	assert.True(t, longtest.On())
	assert.Equal(t, 300, longtest.Pick(3, 300))
}
