package view

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Figures that differ in their last digits alone are written the same, and nothing else is
// changed: whole numbers, texts with numbers in them, order.
func TestFiguresAreSteady(t *testing.T) {
	type value struct {
		B    float64  `json:"b"`
		A    any      `json:"a"`
		Text string   `json:"text"`
		Many []uint64 `json:"many"`
	}
	of := func(x float64) value {
		return value{x, -x / 1e6, `1.00000000000001 "0.1\" 2e-30`, []uint64{1, 18446744073709551615}}
	}
	one, err := JSON(of(0.1 + 0.2))
	require.NoError(t, err)
	other, err := JSON(of(0.3))
	require.NoError(t, err)
	assert.Equal(t, string(one), string(other))
	var back value
	require.NoError(t, json.Unmarshal(one, &back))
	assert.Equal(t, 0.3, back.B)
	assert.Equal(t, of(0).Text, back.Text)
	assert.Equal(t, of(0).Many, back.Many)
	for number, want := range map[string]string{"0": "0", "-0": "0", "-0.0": "0", "-12": "-12", "1e-17": "0", "-3.5e-16": "0", "0.5": "0.5", "1234567.891234": "1234567.89", "1e+30": "1e+30", "-0.1": "-0.1"} {
		got, err := rounded(number)
		require.NoError(t, err)
		assert.Equal(t, want, string(got), number)
	}
}
