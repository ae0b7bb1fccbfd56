package cost

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"

	"shimwright/sim/datasheet"
)

// ErrNotCosts marks text that cannot be read as a table of costs at all.
var ErrNotCosts = errors.New("this cannot be read as a table of costs")

// version is that of the file's form.
const version = 1

const mostName = 60 // characters

// copyName is what the program's own table is called once it has been written out.
const copyName = "a copy of the program's own costs"

const head = `# What everything costs when an attempt is graded, in shop minutes.
# Change any number, give the table a name, and grade with it:
#   shimwright grade ATTEMPT --costs THIS-FILE
# Every line is needed; what follows a # is a remark. The figures are common practice
# estimates, not a price list of any shop.
`

// Text writes a table as a file that Read reads, with what each line prices beside it.
func Text(t Table) []byte {
	const column = 44 // where remarks begin
	var b bytes.Buffer
	b.WriteString(head)
	name := t.Name
	if name == "" {
		name = copyName
	}
	fmt.Fprintf(&b, "\nshimwright_costs: %d\nname: %q\n", version, name)
	for _, g := range groups() {
		fmt.Fprintf(&b, "\n%s: # %s\n", g.key, g.words)
		for _, r := range g.rows {
			line := "  " + r.key + r.unit[0].Suffix + ": " + strconv.FormatFloat(r.get(t), 'f', -1, 64)
			fmt.Fprintf(&b, "%-*s # %s\n", column, line, r.words)
		}
	}
	return b.Bytes()
}

// Read reads the text of a file of costs; name is the file's name for messages. Any bytes
// will do. It names every mistake, in the order of the file; when there are any the table
// is the program's own and not to be used.
func Read(text []byte, name string) (Table, datasheet.Problems) {
	var names []string
	for _, g := range groups() {
		names = append(names, g.key)
	}
	r, b := datasheet.Read(text, name, datasheet.Kind{Key: "shimwright_costs", Version: version, Name: "costs file", Full: "table of costs",
		Groups: names, See: "shimwright costs", Foreign: ErrNotCosts})
	if b == nil {
		return Default(), r.Problems()
	}
	t := Default()
	t.Name, _ = b.Text("name", "what the table is called, for the reports made with it", mostName, false)
	for _, g := range groups() {
		in := b.Sub(g.key, g.words)
		for _, row := range g.rows {
			row.set(&t, in.Number(row.key, row.words, row.unit, row.span))
		}
		in.Done()
	}
	b.Done()
	found := datasheet.Problems(r.Problems())
	if len(found) > 0 {
		datasheet.Sort(found)
		return Default(), found
	}
	return t, nil
}
