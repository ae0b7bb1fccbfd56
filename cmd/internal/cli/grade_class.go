package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/sim/quantity"
)

// An attemptFile is one file of a class: where it is, and its name from the folder that
// all of them lie in.
type attemptFile struct{ path, name string }

// isClass reports whether what is to be graded is a class: several files, or a folder.
func isClass(args []string) bool {
	if len(args) != 1 {
		return true
	}
	info, err := os.Stat(args[0])
	return err == nil && info.IsDir()
}

// classFiles finds the attempt files of files and folders named, each once.
func classFiles(args []string) ([]attemptFile, error) {
	var paths, folders []string
	for _, a := range args {
		info, err := os.Stat(a)
		if err != nil {
			return nil, err
		}
		if !info.IsDir() {
			paths, folders = append(paths, a), append(folders, filepath.Dir(a))
			continue
		}
		folders = append(folders, a)
		if err := filepath.WalkDir(a, func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() && strings.EqualFold(filepath.Ext(path), ".jsonl") {
				paths = append(paths, path)
			}
			return err
		}); err != nil {
			return nil, err
		}
	}
	if len(paths) == 0 {
		return nil, fmt.Errorf("no attempt file (.jsonl) in %s", strings.Join(args, ", "))
	}
	root, err := commonFolder(folders)
	if err != nil {
		return nil, err
	}
	var out []attemptFile
	for _, p := range paths {
		whole, err := filepath.Abs(p)
		if err != nil {
			return nil, err
		}
		name, err := filepath.Rel(root, whole)
		if err != nil {
			return nil, err
		}
		out = append(out, attemptFile{p, filepath.ToSlash(name)})
	}
	slices.SortFunc(out, func(a, b attemptFile) int { return strings.Compare(a.name, b.name) })
	return slices.CompactFunc(out, func(a, b attemptFile) bool { return a.name == b.name }), nil
}

// commonFolder is the innermost folder that all of the folders lie in.
func commonFolder(folders []string) (string, error) {
	common := ""
	for i, f := range folders {
		whole, err := filepath.Abs(f)
		if err != nil {
			return "", err
		}
		if i == 0 {
			common = whole
		}
		for {
			rel, err := filepath.Rel(common, whole)
			if err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
				break
			}
			if up := filepath.Dir(common); up != common {
				common = up
				continue
			}
			return common, nil
		}
	}
	return common, nil
}

// pupil is who an attempt is filed under: the folder it lies in or, where it lies with all
// others, its own name without the job's.
func (f attemptFile) pupil(job string) string {
	folder, name, found := cutLast(f.name, "/")
	if found {
		return folder
	}
	name = strings.TrimSuffix(name, filepath.Ext(name))
	short := strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(name, job), "shimwright-"), "-_. ")
	if short == "" {
		return name
	}
	return short
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return "", s, false
}

// A classResult is one file graded, or why it was not.
type classResult struct {
	row  view.ClassRow
	data []byte // of an attempt with an act in it
	err  error
}

// gradeClass grades many attempts and writes what they come to. Where a file could not be
// graded, the error that is returned at the end is that of the first.
func gradeClass(s term.Streams, args []string, ask gradeAsk, costs cost.Table, units quantity.System, p view.Pen) error {
	files, err := classFiles(args)
	if err != nil {
		return usageError{err}
	}
	const steps = 10
	results := make([]classResult, len(files))
	for i, f := range files {
		results[i] = classify(f, costs, units)
		if done := i + 1; s.Person && steps*done/len(files) != steps*i/len(files) {
			fmt.Fprintf(s.Err, "%d of %d attempts graded\n", done, len(files))
		}
	}
	var rows []view.ClassRow
	var trouble []view.Trouble
	var first error
	for i, r := range results {
		if r.err == nil {
			rows = append(rows, r.row)
			continue
		}
		trouble = append(trouble, view.Trouble{File: files[i].name, Why: strings.TrimPrefix(r.err.Error(), files[i].path+": ")})
		if first == nil {
			first = r.err
		}
	}
	c := view.NewClass(areaNames(), rows, sameAttempts(files, results), trouble, !ask.short)
	if !costs.IsDefault() {
		c.Summary += " " + view.CostsUsed(&grading.CostsUsed{Name: costs.Name, Mark: costs.Mark()})
	}
	if err := ask.write(s.Out, p, func(as writing, p view.Pen) func(io.Writer) error { return classForm(c, as, p) }); err != nil {
		return err
	}
	if first != nil {
		return fmt.Errorf("%d of %d files could not be graded, the first: %w", len(trouble), len(files), first)
	}
	return nil
}

func classForm(c view.Class, as writing, p view.Pen) func(io.Writer) error {
	return func(w io.Writer) error {
		var text string
		switch as {
		case asJSON:
			return writeJSON(w, c)
		case asCSV:
			return c.CSV(w)
		case asHTML:
			return c.HTML(w)
		case asMarkdown:
			text = c.Markdown()
		default:
			text = c.Text(p)
		}
		_, err := io.WriteString(w, text)
		return err
	}
}

// areaNames lists the areas in the order of a report.
func areaNames() []string {
	var out []string
	for _, a := range []grading.Area{grading.Looking, grading.Depth, grading.Preload, grading.Sides, grading.Stopping} {
		out = append(out, string(a))
	}
	return out
}

// classify grades one file of a class, without opening the axle: a class is about
// decisions.
func classify(f attemptFile, costs cost.Table, units quantity.System) classResult {
	a, err := playFile(f.path)
	var notThere *fs.PathError
	switch {
	case errors.As(err, &notThere):
		return classResult{err: fmt.Errorf("%s: %w", f.path, notThere.Err)} // no mistake in the command
	case err != nil:
		return classResult{err: err}
	}
	if err := stillOpen(f.path, a.rec, a.stand); err != nil {
		return classResult{err: err}
	}
	r, err := grading.GradeAt(costs, a.job.Card, a.outs, units)
	if err != nil {
		return classResult{err: fmt.Errorf("%s: %w", f.path, err)}
	}
	row := view.ClassRow{Pupil: f.pupil(jobName(a.rec.Header)), File: f.name, Job: axleOf(a.rec.Header).title(" ", a.rec.Header.Seed), SignedOff: r.SignedOff, Score: r.Score,
		Minutes: float64(r.Minutes), PartsMinutes: float64(r.PartsMinutes), Lost: r.Lost, Lesson: r.Lesson}
	for _, name := range areaNames() {
		score := -1
		if i := slices.IndexFunc(r.Areas, func(a grading.AreaScore) bool { return string(a.Area) == name }); i >= 0 {
			score = r.Areas[i].Score
		}
		row.Areas = append(row.Areas, score)
	}
	if r.Weakest >= 0 {
		d := r.Decisions[r.Weakest]
		row.Dearest, row.DearestLost = fmt.Sprintf("act %d, %s", d.Act, d.Did), d.Lost
	}
	for _, m := range r.Rubric {
		if m.Outcome == grading.NotMet && m.Severity == grading.Critical {
			row.CriticalUnmet++
		}
	}
	if r.Misconception.Sure {
		row.Misconception = r.Misconception.Misconceptions[0].Says
	}
	for _, d := range r.Decisions {
		form, _, _ := strings.Cut(a.outs[d.Act-1].Act.Form.String(), " {")
		name := fmt.Sprintf("%s: %s", form, d.Area)
		i := slices.IndexFunc(row.ByKind, func(l view.Loss) bool { return l.Name == name })
		if i < 0 {
			i = len(row.ByKind)
			row.ByKind = append(row.ByKind, view.Loss{Name: name})
		}
		row.ByKind[i].Minutes += d.Lost
	}
	res := classResult{row: row}
	if len(a.rec.Entries) > 0 {
		res.data, res.err = a.rec.Bytes()
	}
	return res
}

// sameAttempts groups the files that hold the same attempt: the same job and the same acts.
func sameAttempts(files []attemptFile, results []classResult) [][]string {
	var out [][]string
	for i, r := range results {
		if r.data == nil || slices.ContainsFunc(results[:i], func(o classResult) bool { return bytes.Equal(o.data, r.data) }) {
			continue
		}
		names := []string{files[i].name}
		for k := i + 1; k < len(results); k++ {
			if bytes.Equal(results[k].data, r.data) {
				names = append(names, files[k].name)
			}
		}
		if len(names) > 1 {
			out = append(out, names)
		}
	}
	return out
}
