package cost

import (
	"bytes"
	"fmt"
	"strconv"

	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

// ErrNotCosts marks text that cannot be read as a table of costs at all.
var ErrNotCosts error = text.Fail(nil, text.Say("costs.not-costs", "this cannot be read as a table of costs"))

// version is that of the file's form.
const version = 1

const mostName = 60 // characters

// Text writes a table as a file that Read reads, with what each line prices beside it, in
// a printer's language.
func Text(t Table, p text.Printer) []byte {
	const column = 44 // where remarks begin
	var b bytes.Buffer
	for _, m := range []text.Message{
		text.Say("costs.head", "What everything costs when an attempt is graded, in shop minutes. Change any number, give the table a name, and grade with it:"),
		text.Verbatim("shimwright grade ATTEMPT --costs THIS-FILE"),
		text.Say("costs.head.rules", "Every line is needed; what follows a # is a remark. The figures are estimates of common practice, not the price list of any shop; what labor guides give for the work that an act belongs to stands beside it."),
	} {
		b.WriteString(datasheet.Remark(p.Print(m)))
	}
	name := t.Name
	if name == "" {
		name = p.Print(text.Say("costs.copy", "a copy of the program's own costs"))
	}
	fmt.Fprintf(&b, "\nshimwright_costs: %d\nname: %q\n", version, name)
	for _, g := range groups() {
		fmt.Fprintf(&b, "\n%s: # %s\n", g.key, p.Print(g.what))
		for _, r := range g.rows {
			fmt.Fprintf(&b, "%-*s # %s\n", column, "  "+r.line(t), p.Print(r.what))
		}
	}
	return b.Bytes()
}

// line writes the key and the figure of a row.
func (r row) line(t Table) string {
	return r.key + r.unit[0].Suffix + ": " + strconv.FormatFloat(r.get(t), 'f', -1, 64)
}

// Read reads the text of a file of costs; name is the file's name for messages. Any bytes
// will do. It names every mistake, in the order of the file; when there are any the table
// is the program's own and not to be used.
func Read(file []byte, name string) (Table, datasheet.Problems) {
	var names []string
	for _, g := range groups() {
		names = append(names, g.key)
	}
	r, b := datasheet.Read(file, name, datasheet.Kind{Key: "shimwright_costs", Version: version, Name: text.Say("costs.file", "a table of costs"),
		Groups: names, See: "shimwright costs", Foreign: ErrNotCosts})
	if b == nil {
		return Default(), r.Problems()
	}
	t := Default()
	t.Name, _ = b.Text("name", text.Say("costs.want.name", "a name for the table, for the reports made with it"), mostName, false)
	for _, g := range groups() {
		in := b.Sub(g.key, g.what)
		for _, row := range g.rows {
			row.set(&t, in.Number(row.key, row.what, row.unit, row.span))
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
