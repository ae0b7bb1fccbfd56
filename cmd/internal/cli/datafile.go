package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/datasheet"

	"shimwright/sim/text"
)

// openData returns the text of a technician-written file; start is the command that writes one
// to begin from.
func openData(name, start string) ([]byte, error) {
	prose, err := datasheet.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, exit.Usage(text.Fail(nil, text.Say("cli.datafile.there-no-file-shimwright", "there is no file {file_name}; shimwright {start} writes one to change", text.Typed("file_name", view.FileName(name)), text.Typed("start", start))))
	}
	if err != nil {
		return nil, exit.Usage(err)
	}
	return prose, nil
}

// tellMistakes lists what is wrong with a file beside the figures, which are for other
// programs, and returns the error that ends the run.
func tellMistakes(w io.Writer, name string, found datasheet.Problems, foreign error, p view.Pen) error {
	if _, err := io.WriteString(w, view.Mistakes(found, p)); err != nil {
		return err
	}
	if errors.Is(found, foreign) {
		return fmt.Errorf("%s: %w", view.FileName(name), foreign)
	}
	return text.Fail(nil, text.Say("cli.datafile.mistakes-found", "{file_name}: mistakes found: {found}", text.Typed("file_name", view.FileName(name)), text.Count("found", len(found))))
}

// looked is what a check makes of one file.
type looked struct {
	says     string
	mistakes int
	found    datasheet.Problems // of a file that cannot be used as it is written
}

func looksWrong(found datasheet.Problems, p view.Pen) looked {
	return looked{view.Mistakes(found, p), len(found), found}
}

// checkFiles looks at every file before it gives up, so that one run tells all. foreign is
// the error of a file that is none of its kind; an error of look is of one that cannot be
// opened.
func checkFiles(s term.Streams, names []string, foreign error, look func(name string) (looked, error)) error {
	var unopened, unread error
	mistakes, files := 0, 0
	for _, name := range names {
		l, err := look(name)
		if err != nil {
			if unopened == nil {
				unopened = exit.Usage(err)
			}
			continue
		}
		fmt.Fprint(s.Out, l.says)
		if l.mistakes == 0 {
			continue
		}
		mistakes += l.mistakes
		files++
		if unread == nil && errors.Is(l.found, foreign) {
			unread = fmt.Errorf("%s: %w", view.FileName(name), foreign)
		}
	}
	switch {
	case unopened != nil:
		return unopened
	case unread != nil:
		return unread
	case mistakes > 0:
		return text.Fail(nil, text.Say("cli.datafile.mistakes-found-files", "mistakes found: {mistakes}, in files: {files}", text.Count("mistakes", mistakes), text.Count("files", files)))
	}
	return nil
}
