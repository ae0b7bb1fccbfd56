package cli

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/cmd/internal/term"
)

// A person is told how far the long work has come; a script hears nothing but the result.
func TestFormsTellAPersonHowFarTheyAre(t *testing.T) {
	for _, person := range []bool{true, false} {
		var out, errs bytes.Buffer
		s := term.Streams{In: &bytes.Buffer{}, Out: &out, Err: &errs, Person: person, Width: 80}
		code := Main(s, []string{"forms", "--kind", "depth", "--forms", "2", "--jobs", "2", "--out", filepath.Join(t.TempDir(), "new", "folder")})
		assert.Equal(t, exitDone, code, errs.String())
		if person {
			assert.Regexp(t, `(?m)^100 %: \d+ jobs measured of about \d+$`, errs.String())
		} else {
			assert.Empty(t, errs.String())
		}
		assert.Contains(t, out.String(), "2 forms of 2 jobs each")
	}
}
