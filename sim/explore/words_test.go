package explore_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/text"
)

func words(m text.Message) string { return text.Printer{}.Print(m) }

// says checks what an error tells a person.
func says(t testing.TB, err error, want string, about ...any) {
	t.Helper()
	assert.Contains(t, words(text.Reason(err)), want, about...)
}
