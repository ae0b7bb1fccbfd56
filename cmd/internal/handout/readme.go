package handout

import (
	"bytes"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
)

var (
	// fromSource is the part of the README that is for people with the source.
	fromSource = regexp.MustCompile(`(?ms)^### From the source\n.*?^(#+ )`)
	picture    = regexp.MustCompile(`(!\[[^\]]*\]\()(testdata/pictures/([^)]*))\)`)
)

// Readme writes the README of the source as it reads with the program alone, and its pictures.
// Errors: a README without the part that is to be left out.
func Readme(source, folder string) error {
	text, err := os.ReadFile(filepath.Join(source, "README.md"))
	if err != nil {
		return err
	}
	if !fromSource.Match(text) {
		return fmt.Errorf("the README has no part %q any more", "### From the source")
	}
	text = fromSource.ReplaceAll(text, []byte("$1"))
	text = bytes.ReplaceAll(text, []byte("go run ./cmd/shimwright"), []byte("shimwright"))
	for _, found := range picture.FindAllSubmatch(text, -1) {
		data, err := os.ReadFile(filepath.Join(source, filepath.FromSlash(string(found[2]))))
		if err == nil {
			err = write(filepath.Join(folder, "pictures", path.Base(string(found[3]))), data)
		}
		if err != nil {
			return err
		}
	}
	return write(filepath.Join(folder, "README.md"), picture.ReplaceAll(text, []byte("${1}pictures/$3)")))
}
