package family

import (
	"embed"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

// data holds the families that come with the program, a file to each.
//
//go:embed data/*.yaml
var data embed.FS

// codes lists the families that come with the program.
func codes() []string {
	return []string{"ALDER", "BEECH", "CEDAR", "DOGWOOD", "ELM", "FIR", "GORSE", "HAZEL", "IRONBARK", "JUNIPER"}
}

// Reading waits until a family is asked for. BEECH, which every job needs, is read
// without the others.
var (
	beech = sync.OnceValue(func() Family { return embedded("BEECH") })
	shelf = sync.OnceValue(func() []Family {
		var out []Family
		for _, code := range codes() {
			if code == "BEECH" {
				out = append(out, beech())
				continue
			}
			out = append(out, embedded(code))
		}
		return out
	})
)

// embedded reads one of the program's own files. They are part of the program, and a
// mistake in one is a mistake in the program, which the tests look for.
func embedded(code string) Family {
	name := "data/" + strings.ToLower(code) + ".yaml"
	file, err := data.ReadFile(name)
	if err != nil {
		panic(err)
	}
	f, _, problems := decode(file, name)
	if len(problems) > 0 {
		panic(Problems(problems))
	}
	return f
}

// Beech returns a half-ton pickup's rear axle: live, semi-floating, cast-iron
// integral carrier, collapsible spacer, outside side shims.
func Beech() Family { return beech() }

// Shelf lists every family that comes with the program.
func Shelf() []Family { return append([]Family(nil), shelf()...) }

// An UnknownError is that of a family that there is not.
type UnknownError struct {
	Code   string // what was asked for
	OrFile bool   // a file was looked for too
}

// Tell repeats what was asked for and says what there is.
func (e *UnknownError) Tell() text.Message {
	asked, known := text.Quoted("code", e.Code), text.AllTyped("codes", codes()...)
	if e.OrFile {
		return text.Say("family.unknown-or-file", "there is no axle family {code} and no such file: the families are {codes}", asked, known)
	}
	return text.Say("family.unknown", "there is no axle family {code}: the families are {codes}", asked, known)
}

func (e *UnknownError) Error() string { return "family.unknown: " + e.Code }

// Shipped returns the family of the program with the given code, in any letter case.
// Errors: UnknownError.
func Shipped(code string) (Family, error) {
	for _, f := range shelf() {
		if strings.EqualFold(f.Code, code) {
			return f, nil
		}
	}
	return Family{}, &UnknownError{Code: code}
}

// FindAny returns the family with the given code, in any letter case, or the one in
// the file that the text names: text with a folder or an ending in it is a file's
// name, other text is when it is no code and there is such a file.
//
// Errors: a file that cannot be opened; Problems when it has mistakes, which is
// ErrNotFamily when it cannot be read as a family at all; UnknownError.
func FindAny(codeOrPath string) (Family, error) {
	isPath := strings.ContainsAny(codeOrPath, `/\`) || filepath.Ext(codeOrPath) != ""
	if !isPath {
		if f, err := Shipped(codeOrPath); err == nil {
			return f, nil
		}
		if s, err := os.Stat(codeOrPath); err != nil || s.IsDir() {
			return Family{}, &UnknownError{codeOrPath, true}
		}
	}
	file, err := datasheet.ReadFile(codeOrPath)
	if err != nil {
		return Family{}, err
	}
	return Parse(file, codeOrPath)
}
