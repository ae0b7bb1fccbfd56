package main

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
)

// A row is one mutant in the list of a round.
type row struct {
	file                string
	line                int
	kind, code, becomes string
	end, by             string
	reason              string // why one that survives is equivalent, as a person judged it
}

func head() []string {
	return []string{"file", "line", "kind", "code", "becomes", "end", "by", "equivalent because"}
}

func (r row) String() string {
	return fmt.Sprintf("%s: %s:%d: %s: %s becomes %s %s %s", r.end, r.file, r.line, r.kind, r.code, r.becomes, r.by, r.reason)
}

// key is what a reason holds for, wherever the line has moved.
func (r row) key() string { return strings.Join([]string{r.file, r.kind, r.code, r.becomes}, "\x00") }

// short is code on one line.
func short(code string) string { return strings.Join(strings.Fields(code), " ") }

// read reads a list that was written before; there may be none.
func read(name string) ([]row, error) {
	f, err := os.Open(name)
	if name == "" || errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	in := csv.NewReader(f)
	in.FieldsPerRecord = len(head())
	all, err := in.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s is no list of mutants: %w", name, err)
	}
	var rows []row
	for _, c := range all[min(1, len(all)):] {
		line, _ := strconv.Atoi(c[1])
		rows = append(rows, row{c[0], line, c[2], c[3], c[4], c[5], c[6], c[7]})
	}
	return rows, nil
}

// merge puts what was tried again in the place of what a list had of it, in order.
func merge(list, tried []row) []row {
	now := map[string]bool{}
	for _, r := range tried {
		now[r.key()] = true
	}
	all := slices.DeleteFunc(slices.Clone(list), func(r row) bool { return now[r.key()] })
	all = append(all, tried...)
	slices.SortStableFunc(all, func(a, b row) int {
		return cmp.Or(strings.Compare(a.file, b.file), a.line-b.line, strings.Compare(a.kind, b.kind), strings.Compare(a.code, b.code), strings.Compare(a.becomes, b.becomes))
	})
	return all
}

func save(name string, rows []row) error {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(head())
	for _, r := range rows {
		w.Write([]string{r.file, strconv.Itoa(r.line), r.kind, r.code, r.becomes, r.end, r.by, r.reason})
	}
	w.Flush()
	return os.WriteFile(name, []byte(b.String()), 0o644)
}

// sum prints how many of the mutants were noticed. Those judged equivalent and those that
// were not tried to the end decide nothing.
func sum(out io.Writer, rows []row) {
	n := map[string]int{}
	for _, r := range rows {
		switch {
		case r.reason != "":
			n["equivalent"]++
		default:
			n[r.end]++
		}
	}
	decided := n[string(killed)] + n[string(survived)] + n[string(unreached)]
	fmt.Fprintf(out, "%d mutants: %d killed, %d survived, %d reached by no test, %d equivalent, %d not finished\n", len(rows),
		n[string(killed)], n[string(survived)], n[string(unreached)], n["equivalent"], n[string(unfinished)])
	if decided > 0 {
		fmt.Fprintf(out, "killed of decided: %.1f %%\n", 100*float64(n[string(killed)])/float64(decided))
	}
}
