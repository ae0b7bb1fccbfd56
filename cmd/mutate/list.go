package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
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

func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// reasons reads the reasons of a list that was written before.
func reasons(name string) (map[string]string, error) {
	f, err := os.Open(name)
	if name == "" || errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for _, c := range all {
		if len(c) == len(head()) && c[7] != "" {
			known[row{file: c[0], kind: c[2], code: c[3], becomes: c[4]}.key()] = c[7]
		}
	}
	return known, nil
}

// save writes the rows of all that were tried.
func save(name string, rows []row) error {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(head())
	for _, r := range rows {
		if r.end == "" {
			continue // not tried yet
		}
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
