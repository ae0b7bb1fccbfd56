package longtest_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/longtest"
)

func TestSome(t *testing.T) {
	all := []string{"a", "b", "c", "d", "e"}
	t.Setenv("SHIMWRIGHT_LONG", "")
	assert.Equal(t, []string{"a", "c"}, longtest.Some(all, 2))
	assert.Equal(t, all, longtest.Some(all, 7))
	t.Setenv("SHIMWRIGHT_LONG", "1")
	assert.Equal(t, all, longtest.Some(all, 2))
}

func TestPick(t *testing.T) {
	t.Setenv("SHIMWRIGHT_LONG", "")
	assert.False(t, longtest.On())
	assert.Equal(t, 3, longtest.Pick(3, 300))
	t.Setenv("SHIMWRIGHT_LONG", "1")
	assert.True(t, longtest.On())
	assert.Equal(t, 300, longtest.Pick(3, 300))
}
