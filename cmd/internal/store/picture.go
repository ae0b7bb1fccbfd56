package store

import (
	"io"
	"os"
	"path/filepath"
	"strings"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/picture"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// IsSVG tells by a file's name how a picture is written.
func IsSVG(path string) (svg bool, err error) {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".png":
		return false, nil
	case ".svg":
		return true, nil
	}
	return false, text.Fail(nil, text.Say("store.picture.pictures-name-ends-png", "{path}: a picture's name ends in .png or .svg", text.Typed("path", path)))
}

// SavePatterns writes an outcome's contact patterns, if it has any, as two files.
func SavePatterns(p text.Printer, dir, name string, o history.Step) error {
	for _, r := range o.Readings {
		if len(r.Patterns) == 0 {
			continue
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			return err
		}
		for _, ext := range []string{".png", ".svg"} {
			if err := SavePicture(p, filepath.Join(dir, name+ext), o); err != nil {
				return err
			}
		}
	}
	return nil
}

// SavePicture writes an outcome's contact patterns to one file, PNG or SVG by its name.
func SavePicture(p text.Printer, path string, o history.Step) error {
	if path == "" {
		return exit.Usage(text.Fail(nil, text.Say("store.picture.say-what-call-picture", "say what to call the picture: a name that ends in .png or .svg")))
	}
	svg, err := IsSVG(path)
	if err != nil {
		return exit.Usage(err)
	}
	draw := picture.PNG
	if svg {
		draw = picture.SVG
	}
	for _, r := range o.Readings {
		if len(r.Patterns) == 0 {
			continue
		}
		return WriteWhole(path, func(w io.Writer) error {
			return draw(w, r.Patterns, picture.Options{Title: p.Print(text.Say("store.picture.contact-pattern-gear", "Contact pattern on the ring gear, {how}", text.Of("how", r.How()))), Color: true})
		})
	}
	return text.Fail(nil, text.Say("store.picture.there-no-contact-pattern", "there is no contact pattern to draw yet: paint teeth and roll gears first"))
}
