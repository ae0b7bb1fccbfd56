package explore

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// groups lists the fields that are known of the subject.
func (x *Exhibit) groups() []Group { return known(Groups(), x.Subject) }

// WriteCSV writes one line for each position under one line of names: position, then the
// figures under set_, true_ and shown_. What there is not is left empty.
func (x *Exhibit) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	groups := x.groups()
	for i, r := range x.Results {
		names, line := []string{"position"}, []string{strconv.Itoa(i + 1)}
		for _, g := range groups {
			for _, f := range g.figures(r) {
				if f.Value == "null" {
					f.Value = ""
				}
				names, line = append(names, g.Name+"_"+f.Key), append(line, strings.Trim(f.Value, `"`))
			}
		}
		if i == 0 {
			if err := out.Write(names); err != nil {
				return err
			}
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func (g Group) figures(r Result) []Figure {
	var out []Figure
	for _, f := range g.Fields {
		out = append(out, f.Figures(r)...)
	}
	return out
}

// WriteJSON writes the same figures under the same names, grouped; notice stands at the
// head.
func (x *Exhibit) WriteJSON(w io.Writer, notice string) error {
	swept := "null"
	if x.Swept != nil {
		swept = strconv.Quote(x.Swept.Name)
	}
	code, err := json.Marshal(x.Code)
	if err != nil {
		return err
	}
	said, err := json.Marshal(notice)
	if err != nil {
		return err
	}
	more := ""
	if x.IsWhole() {
		more = fmt.Sprintf(`"seed":"%d",`, x.Seed)
	}
	if x.Of&Teeth != 0 {
		more += fmt.Sprintf(`"exact_contact":%t,`, x.Exact)
	}
	groups := x.groups()
	positions := make([]string, len(x.Results))
	for i, r := range x.Results {
		parts := make([]string, len(groups))
		for k, g := range groups {
			var figures []string
			for _, f := range g.figures(r) {
				figures = append(figures, fmt.Sprintf("%q:%s", f.Key, f.Value))
			}
			parts[k] = fmt.Sprintf("%q:{%s}", g.Name, strings.Join(figures, ","))
		}
		positions[i] = "{" + strings.Join(parts, ",") + "}"
	}
	text := fmt.Sprintf(`{%q:%s,"notice":%s,%s"swept":%s,"positions":[%s]}`, x.Key, code, said, more, swept, strings.Join(positions, ","))
	var pretty bytes.Buffer
	if err := json.Indent(&pretty, []byte(text), "", "  "); err != nil {
		return err
	}
	pretty.WriteByte('\n')
	_, err = w.Write(pretty.Bytes())
	return err
}
