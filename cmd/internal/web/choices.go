package web

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/sim/act"
	"shimwright/sim/quantity"
)

// group lists the acts of a group: those that can be done now, and why the others cannot.
func (s *sitting) group(v bench.View, n bench.Group) group {
	p := s.pen.Printer
	g := group{N: int(n), Name: sentence(p.Print(n.Name()))}
	g.Name = strings.TrimSuffix(g.Name, ".")
	s.list(&g, v, v.In(n))
	switch {
	case n == bench.Inspecting && g.Left > 1:
		g.Batch, g.BatchIs = "left", fmt.Sprintf("Make all %d inspections that are marked", g.Left)
	case n == bench.Writing && len(v.Write) > 0:
		g.Batch, g.BatchIs = "sheet", "Write every open line as it was last fitted or read"
	}
	return g
}

// list writes choices into a group.
func (s *sitting) list(g *group, v bench.View, all []bench.Choice) {
	for _, c := range all {
		switch {
		case c.Why != nil:
			g.Not = append(g.Not, notNow{c.Form.Pattern(), sentence(s.pen.Print(c.Why.Why))})
			continue
		case c.Form == act.RecordValue:
			g.Acts = append(g.Acts, s.sheet(v, c)...)
			continue
		}
		if c.Left {
			g.Left++
		}
		g.Acts = append(g.Acts, s.choice(c))
	}
}

// id names an element of the page, so that the keyboard's place is kept when it is drawn anew.
func id(parts ...string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '.' {
			return r
		}
		return '_'
	}, strings.Join(parts, "."))
}

// choice writes an act that can be done now. An act with one thing to be chosen has a button
// for each; one with several has fields and one button.
func (s *sitting) choice(c bench.Choice) choice {
	units := s.pen.Units()
	line, _, _ := strings.Cut(c.Form.String(), " {")
	named := id("act", line)
	if words := strings.Fields(line); len(c.Slots) > 1 && len(words) > 2 {
		line = strings.Join(words[:2], " ") // the third says which of the fields is the first
	}
	out := choice{ID: named, Form: c.Form.String(), Label: line, Help: s.pen.Print(c.Form.Usage().Help), Left: c.Left}
	const long = 10
	if c.Minutes >= long {
		out.Time = fmt.Sprintf("%.0f min", float64(c.Minutes))
	}
	if len(c.Slots) == 0 {
		out.Button = line
		return out
	}
	if len(c.Slots) == 1 && c.Slots[0].Step == 0 {
		one := c.Slots[0]
		for _, o := range one.Options {
			out.Quick = append(out.Quick, quick{id(out.ID, string(o)), "s0", string(o), string(o)})
		}
		for _, e := range one.Usual {
			out.Quick = append(out.Quick, quick{id(out.ID, e.String()), "s0", e.String(), s.amount(e)})
		}
		if one.Amount != "" {
			out.Slots = []slot{{ID: id(out.ID, "other"), Name: "o0", Label: "other", Unit: unitName(one.Unit(nil, units))}}
			out.Button = line
		}
		return out
	}
	for i, one := range c.Slots {
		f := slot{ID: id(out.ID, fmt.Sprint(i)), Name: fmt.Sprintf("s%d", i), Label: slotLabel(one), Unit: unitName(one.Unit(nil, units))}
		for _, o := range one.Options {
			f.Options = append(f.Options, option{string(o), string(o), false})
			f.Unit = ""
		}
		sizes, nearest := one.Shelf(units)
		for k, e := range sizes {
			f.Options = append(f.Options, option{e.String(), s.amount(e), k == nearest})
			f.Unit = ""
		}
		if len(f.Options) == 0 && len(one.Usual) > 0 {
			f.Value = number(one.Usual[0].Number)
		}
		out.Slots = append(out.Slots, f)
	}
	out.Button = line
	return out
}

// together writes acts that go together: the first may have fields, the others are done as
// they are.
func (s *sitting) together(v bench.View, r bench.Round) choice {
	lines := make([]string, len(r.Acts))
	for i, a := range r.Acts {
		lines[i] = a.String()
	}
	name := s.pen.Print(r.Name)
	out := choice{ID: id("round", r.ID), Label: name, Help: strings.Join(lines, "; "), Round: r.ID, Button: name}
	if c, ok := v.Choice(r.Acts[0].Form); ok && r.Asks {
		first := s.choice(c)
		rest := strings.Join(lines[1:], "; ")
		out.Quick, out.Slots, out.Help = first.Quick, first.Slots, first.Label+" by what is chosen; "+rest
		for i := range out.Quick {
			out.Quick[i].ID = id(out.ID, out.Quick[i].Value)
		}
		for i := range out.Slots {
			out.Slots[i].ID = id(out.ID, out.Slots[i].Name)
		}
	}
	return out
}

// slotLabel says what a field is for.
func slotLabel(s bench.Slot) string {
	has := func(o act.Option) bool { return slices.Contains(s.Options, o) }
	switch {
	case has(act.Rotating):
		return "how"
	case has(act.Wrench):
		return "with"
	case has(act.Heel):
		return "place on the tooth"
	case has(act.Square):
		return "plunger"
	case has(act.PinionHeld):
		return "pinion"
	case has(act.In):
		return "way"
	case s.Amount == act.LengthAmount && s.After != "":
		return strings.ReplaceAll(s.After, "-", " ")
	}
	return string(s.Amount)
}

// sheet writes a form for each line of the build sheet.
func (s *sitting) sheet(v bench.View, c bench.Choice) []choice {
	units := s.pen.Units()
	var out []choice
	for _, l := range v.Sheet {
		item := string(l.Item)
		one := choice{ID: id("record", item), Form: c.Form.String(), Label: "record " + item, Button: "record " + item, Fixed: []fixed{{"s0", item}}}
		unit := c.Slots[1].Unit([]act.Option{l.Item}, units)
		f := slot{ID: id(one.ID, "amount"), Name: "s1", Label: strings.ReplaceAll(item, "-", " "), Unit: unitName(unit)}
		if e, ok := s.bench.Latest(l.Item, units); ok {
			f.Value = number(e.Number)
		}
		if l.Written {
			one.Time = "written: " + s.amount(l.Entry.Value)
		}
		one.Slots = []slot{f}
		out = append(out, one)
	}
	return out
}

// amount writes an amount as people read it.
func (s *sitting) amount(e quantity.Entered) string {
	n := number(e.Number)
	switch u := unitName(e.Unit); u {
	case "", "turns":
		return n
	default:
		return n + " " + u
	}
}

// number writes a number without zeros that say nothing.
func number(x float64) string {
	n := quantity.Decimal(x, 4)
	if strings.Contains(n, ".") {
		n = strings.TrimRight(strings.TrimRight(n, "0"), ".")
	}
	return n
}

func unitName(u quantity.Unit) string {
	switch u {
	case quantity.UnitDegree:
		return "degrees"
	case quantity.UnitNm:
		return "N m"
	case quantity.UnitShare:
		return ""
	case quantity.UnitTurn:
		return ""
	}
	return string(u)
}
