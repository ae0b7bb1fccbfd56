// Package language lays another language over the texts of the program. A language is one
// file: a template for each code, as text.ParseOverlay reads it. The program's own English is
// such a file too, texts.yaml, which a test of package layout writes from the source; a file
// of another language has to fit it.
package language

import (
	_ "embed"

	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

//go:embed texts.yaml
var english []byte

// Starter is the file of all texts in English, for a translator.
func Starter() []byte { return english }

// most is how long a file of texts can be, bytes: ten times as long as the English one.
const most = 4 << 20

// Load reads the file of a language. Errors: one that cannot be read, is no such file, or
// does not fit the texts of this program; the first misfit is told with its line and code.
func Load(path string) (text.Overlay, error) {
	file, err := datasheet.ReadUpTo(path, most)
	if err != nil {
		return text.Overlay{}, err
	}
	if len(file) > most {
		return text.Overlay{}, text.Fail(text.ErrOverlay, text.Say("language.too-long", "{path} is longer than any file of texts", text.Typed("path", path)))
	}
	o, err := text.ParseOverlay(file)
	if err != nil {
		return text.Overlay{}, text.Fail(err, text.Say("language.unread", "{path}: {why}", text.Typed("path", path), text.Cause("why", err)))
	}
	all, err := text.ParseOverlay(english)
	if err != nil {
		return text.Overlay{}, err
	}
	if wrong := o.Misfits(all); len(wrong) > 0 {
		return text.Overlay{}, text.Fail(nil, text.Say("language.misfit", "{path}: {misfit}; mistakes in all: {n}", text.Typed("path", path), text.Of("misfit", wrong[0]), text.Count("n", len(wrong))))
	}
	return o, nil
}
