package family

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"shimwright/sim/quantity"
)

// Limits of a file; they also keep the YAML reader's recursion shallow.
const (
	mostBytes      = 32 << 10
	mostLineBytes  = 1000
	mostOpenGroups = 20
)

// A reader turns the text of a family file into blocks of keys and collects what is
// wrong with it. Its own walk over the YAML tree stands in for a decoder, because a
// decoder stops at the first mistake.
type reader struct {
	file     string
	problems []Problem
}

func (r *reader) say(line, column int, what, right string) {
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Column: column, What: what, Right: right})
}

// giveUp says what keeps the text from being read as a family at all.
func (r *reader) giveUp(line, column int, what, right string) {
	r.say(line, column, what, right)
	r.problems[len(r.problems)-1].whole = true
}

// An entry is one key of a block and what follows it.
type entry struct {
	key          string
	line, column int // of the key
	value        ast.Node
}

// at returns where the value stands; a group of keys is where its name is.
func (e *entry) at() (line, column int) {
	switch e.value.(type) {
	case *ast.MappingNode, *ast.MappingValueNode, *ast.SequenceNode, *ast.NullNode:
		return e.line, e.column
	}
	if t := e.value.GetToken(); t != nil && t.Position != nil && t.Position.Line > 0 {
		return t.Position.Line, t.Position.Column
	}
	return e.line, e.column
}

// An ask is one thing looked for in a block.
type ask struct {
	keys     []string
	why      string // what would be right, for a key that is missing
	optional bool
	found    bool
}

// A block is one group of keys. A block that is not there, or no group, is lame: it
// answers everything with zero and complains no further.
type block struct {
	r            *reader
	name         string // "" for the file itself
	line, column int
	entries      []*entry
	asks         []ask
	lame         bool
}

// document parses the text and returns its top block. The second value is false
// when the text cannot be read.
func (r *reader) document(data []byte) (*block, bool) {
	if !r.readable(data) {
		return nil, false
	}
	file, err := parse(strings.TrimPrefix(string(data), "\ufeff"))
	if err != nil {
		line, column := 1, 1
		message := err.Error()
		var y yaml.Error
		if errors.As(err, &y) {
			message = y.GetMessage()
			if t := y.GetToken(); t != nil && t.Position != nil {
				line, column = max(1, t.Position.Line), max(1, t.Position.Column)
			}
		}
		r.giveUp(line, column, "the file cannot be read on from here: "+printable(message),
			"one key a line, a colon and a space after it; groups indented by spaces, no tabs; text with a colon or # in it between quotes")
		return nil, false
	}
	var body ast.Node
	for _, d := range file.Docs {
		if d == nil || d.Body == nil {
			continue
		}
		if body != nil {
			line, column := place(d.Body)
			r.giveUp(line, column, "a second document begins here", "one family to a file, without --- between")
			return nil, false
		}
		body = d.Body
	}
	if body == nil {
		r.giveUp(1, 1, "the file says nothing", "a family, beginning with shimwright_family: 1")
		return nil, false
	}
	line, column := place(body)
	values, ok := mapping(body)
	if !ok {
		r.giveUp(line, column, "this is no list of keys", "a family: keys with their values, beginning with shimwright_family: 1")
		return nil, false
	}
	return r.block("", 1, 1, values), true
}

// readable refuses what is no text of a sensible size.
func (r *reader) readable(data []byte) bool {
	switch {
	case len(data) > mostBytes:
		r.giveUp(1, 1, fmt.Sprintf("the file has %d bytes", len(data)), fmt.Sprintf("a family file, which has at most %d", mostBytes))
		return false
	case !utf8.Valid(data):
		r.giveUp(1, 1, "the file is not text in UTF-8", "a plain text file")
		return false
	}
	open := 0
	for i, line := range strings.Split(string(data), "\n") {
		if len(line) > mostLineBytes {
			r.giveUp(i+1, 1, fmt.Sprintf("the line has %d bytes", len(line)), fmt.Sprintf("lines of at most %d", mostLineBytes))
			return false
		}
		column := 0
		for _, c := range line {
			column++
			switch {
			case c == '[' || c == '{':
				open++
			case c == ']' || c == '}':
				open--
			case unicode.IsControl(c) && c != '\t' && c != '\r':
				r.giveUp(i+1, column, fmt.Sprintf("there is a control character (%U) here", c), "plain text")
				return false
			}
			if open > mostOpenGroups {
				r.giveUp(i+1, column, "too many brackets are open at once", "one level of braces, as in {low: 1, high: 2}")
				return false
			}
		}
	}
	return true
}

// parse runs the YAML parser. It should not panic, but no text that a person hands
// in may bring the program down.
func parse(text string) (file *ast.File, err error) {
	defer func() {
		if p := recover(); p != nil {
			file, err = nil, errors.New("the YAML here is beyond the reader")
		}
	}()
	// Keys written twice are found by block, all at once.
	return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
}

// place returns where a node begins.
func place(n ast.Node) (line, column int) {
	if m, ok := n.(*ast.MappingNode); ok && len(m.Values) > 0 && m.Values[0].Key != nil {
		return place(m.Values[0].Key)
	}
	if t := n.GetToken(); t != nil && t.Position != nil {
		return max(1, t.Position.Line), max(1, t.Position.Column)
	}
	return 1, 1
}

// mapping returns the pairs of a node that is a group of keys.
func mapping(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch m := n.(type) {
	case *ast.MappingNode:
		return m.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{m}, true
	}
	return nil, false
}

// block lists the keys of a group and complains of those that are no words or stand
// there twice.
func (r *reader) block(name string, line, column int, values []*ast.MappingValueNode) *block {
	b := &block{r: r, name: name, line: line, column: column}
	for _, v := range values {
		if v == nil || v.Key == nil {
			continue
		}
		l, c := place(v.Key)
		key, ok := v.Key.(*ast.StringNode)
		if !ok {
			r.say(l, c, "a key here is no plain word", "a key of letters, digits and underscores, such as head_height_mm")
			continue
		}
		if old := b.entry(key.Value); old != nil {
			r.say(l, c, fmt.Sprintf("%s stands here a second time; the first is in line %d", b.path(key.Value), old.line), "one of the two")
			continue
		}
		e := &entry{key: key.Value, line: l, column: c, value: v.Value}
		if e.value == nil {
			e.value = ast.Null(v.Key.GetToken())
		}
		b.entries = append(b.entries, e)
	}
	return b
}

func (b *block) entry(key string) *entry {
	for _, e := range b.entries {
		if e.key == key {
			return e
		}
	}
	return nil
}

// path returns a key with the names of its groups before it.
func (b *block) path(key string) string {
	key = printable(key)
	if b.name == "" {
		return key
	}
	return b.name + ": " + key
}

// find looks for one of the keys. It notes what was looked for, so that done can
// tell what is missing and what is unknown.
func (b *block) find(optional bool, why string, keys ...string) *entry {
	if b.lame {
		return nil
	}
	var got *entry
	for _, k := range keys {
		e := b.entry(k)
		switch {
		case e == nil:
		case got == nil:
			got = e
		default:
			b.r.say(e.line, e.column, fmt.Sprintf("%s says what %s in line %d says too", b.path(k), got.key, got.line), "one of the two")
		}
	}
	b.asks = append(b.asks, ask{keys, why, optional, got != nil})
	return got
}

// sub returns a group of keys inside the block.
func (b *block) sub(key, what string) *block {
	e := b.find(false, what, key)
	if e == nil {
		return &block{r: b.r, lame: true}
	}
	return b.group(e, what)
}

func (b *block) group(e *entry, what string) *block {
	values, ok := mapping(e.value)
	if !ok {
		line, column := e.at()
		b.r.say(line, column, fmt.Sprintf("%s holds %s", b.path(e.key), kind(e.value)), "a group of keys: "+what)
		return &block{r: b.r, lame: true}
	}
	return b.r.block(b.path(e.key), e.line, e.column, values)
}

// unwanted complains of a group that belongs to another design.
func (b *block) unwanted(key, why, right string) {
	if e := b.find(true, "", key); e != nil {
		b.r.say(e.line, e.column, fmt.Sprintf("%s does not belong here: %s", b.path(key), why), right)
	}
}

// done complains of missing and unknown keys. A key that looks like a missing one is
// taken for it, and the pair is one complaint.
func (b *block) done() {
	if b.lame {
		return
	}
	known := map[string]bool{}
	var names, absent []string
	for _, a := range b.asks {
		for _, k := range a.keys {
			known[k] = true
			names = append(names, k)
			if !a.found {
				absent = append(absent, k)
			}
		}
	}
	for _, e := range b.entries {
		if known[e.key] {
			continue
		}
		right := "one of the keys of this group: " + strings.Join(names, ", ")
		if len(names) > 12 {
			right = "none of that name: take it out, or see a family that comes with the program for the keys there are"
		}
		near, ok := nearest(e.key, absent)
		if !ok {
			near, ok = nearest(e.key, names)
		}
		if ok {
			right = near
			for i := range b.asks {
				for _, k := range b.asks[i].keys {
					b.asks[i].found = b.asks[i].found || k == near
				}
			}
		}
		b.r.say(e.line, e.column, fmt.Sprintf("%s is no key that is known here", b.path(e.key)), right)
	}
	for _, a := range b.asks {
		if a.found || a.optional {
			continue
		}
		where := "the file"
		if b.name != "" {
			where = "the group " + b.name
		}
		b.r.say(b.line, b.column, fmt.Sprintf("%s lacks %s", where, strings.Join(a.keys, " or ")), a.why)
	}
}

// kind says what a value is, for a person who wrote something else.
func kind(n ast.Node) string {
	switch v := n.(type) {
	case *ast.NullNode:
		return "nothing"
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a group of keys"
	case *ast.SequenceNode:
		return "a list"
	case *ast.BoolNode:
		return "a yes or no"
	case *ast.IntegerNode, *ast.FloatNode:
		return "the number " + printable(v.GetToken().Value)
	case *ast.InfinityNode, *ast.NanNode:
		return "no number that can be measured"
	case *ast.StringNode:
		return fmt.Sprintf("the text %q", clip(v.Value))
	case *ast.LiteralNode:
		return "a text"
	case *ast.AnchorNode, *ast.AliasNode, *ast.MergeKeyNode:
		return "a reference, which a family file does not use"
	case *ast.TagNode:
		return "a tag, which a family file does not use"
	}
	return "something else"
}

// clip shortens a text for a message.
func clip(text string) string {
	const most = 80
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}

// printable takes out what would act on a terminal instead of showing.
func printable(text string) string {
	return clip(strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return ' '
		}
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, text))
}

// A unit is one that a key may end in. to turns a number in it into the program's,
// per is how much of the program's unit one of it is, for showing limits.
type unit struct {
	suffix, word string
	to           func(float64) float64
	per          float64
}

func same(x float64) float64 { return x }

// thousandths reads inches as thousandths, shifting the decimal point in the text:
// 0.0025 must become exactly 2.5.
func thousandths(in float64) float64 {
	digits, power, _ := strings.Cut(strconv.FormatFloat(in, 'e', -1, 64), "e")
	n, err := strconv.Atoi(power)
	if err != nil {
		return math.NaN()
	}
	thou, err := strconv.ParseFloat(digits+"e"+strconv.Itoa(n+3), 64)
	if err != nil {
		return math.NaN()
	}
	return quantity.Thou(thou).MM()
}

// The families of units. A plain number has the empty suffix.
func lengths() []unit {
	return []unit{{"_mm", "mm", same, 1}, {"_in", "in", thousandths, 25.4}}
}

func torques() []unit {
	return []unit{
		{"_nm", "N·m", func(x float64) float64 { return quantity.NewtonMetres(x).Nmm() }, 1000},
		{"_lb_in", "lb-in", func(x float64) float64 { return quantity.InchPounds(x).Nmm() }, quantity.InchPounds(1).Nmm()},
		{"_lb_ft", "lb-ft", func(x float64) float64 { return quantity.FootPounds(x).Nmm() }, quantity.FootPounds(1).Nmm()},
	}
}

// footPounds are torques that the model keeps in lb-ft.
func footPounds() []unit {
	return []unit{
		{"_lb_ft", "lb-ft", same, 1},
		{"_nm", "N·m", func(x float64) float64 { return quantity.NewtonMetres(x).FootPounds() }, 1 / quantity.FootPounds(1).NewtonMetres()},
	}
}

func only(suffix, word string) []unit { return []unit{{suffix, word, same, 1}} }

func plain() []unit { return only("", "") }

// A span is the least and most a number may be, in the program's unit.
type span struct{ low, high float64 }

// words writes the limits in a unit.
func (s span) words(u unit) string {
	text := fmt.Sprintf("between %s and %s", short(s.low/u.per), short(s.high/u.per))
	if u.word != "" {
		text += " " + u.word
	}
	return text
}

func short(x float64) string {
	return strconv.FormatFloat(roundTo(x, 4), 'f', -1, 64)
}

// roundTo rounds to a number of significant digits.
func roundTo(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// amount finds a key in any of its units.
func (b *block) amount(base, what string, units []unit, s span, optional bool) (*entry, unit) {
	keys := make([]string, len(units))
	for i, u := range units {
		keys[i] = base + u.suffix
	}
	e := b.find(optional, what+", "+s.words(units[0]), keys...)
	if e == nil {
		return nil, unit{}
	}
	for _, u := range units {
		if base+u.suffix == e.key {
			return e, u
		}
	}
	return e, units[0]
}

// number reads one number and checks its limits; it is zero when there is no good
// one.
func (b *block) number(base, what string, units []unit, s span) float64 {
	e, u := b.amount(base, what, units, s, false)
	if e == nil {
		return 0
	}
	x, _ := b.value(e, what, u, s)
	return x
}

// spare reads a number that may be left out; then it is zero.
func (b *block) spare(base, what string, units []unit, s span) float64 {
	e, u := b.amount(base, what, units, s, true)
	if e == nil {
		return 0
	}
	x, _ := b.value(e, what, u, s)
	return x
}

// value reads the number of an entry.
func (b *block) value(e *entry, what string, u unit, s span) (float64, bool) {
	line, column := e.at()
	x, ok := plainNumber(e.value)
	if !ok {
		right := fmt.Sprintf("%s: a number %s", what, s.words(u))
		if t, isText := e.value.(*ast.StringNode); isText {
			switch _, comma := decimal(strings.Replace(t.Value, ",", ".", 1)); {
			case comma && strings.Contains(t.Value, ","):
				right += ", with a decimal point and not a comma"
			case comma:
				right += ", without quotes"
			}
		}
		b.r.say(line, column, fmt.Sprintf("%s holds %s", b.path(e.key), kind(e.value)), right)
		return 0, false
	}
	y := u.to(x)
	if !(y >= s.low && y <= s.high) {
		b.r.say(line, column, fmt.Sprintf("%s is %s", b.path(e.key), printable(e.value.GetToken().Value)), fmt.Sprintf("%s: %s", what, s.words(u)))
		return 0, false
	}
	return y, true
}

// plainNumber reads an ordinary decimal number. Octal, hexadecimal and numbers with
// underscores are not what a person at a bench writes or expects.
func plainNumber(n ast.Node) (float64, bool) {
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		if t := n.GetToken(); t != nil {
			return decimal(t.Value)
		}
	}
	return 0, false
}

func decimal(text string) (float64, bool) {
	if text == "" || len(text) > 30 || strings.Trim(text, "0123456789+-.eE") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil
}

// whole reads a count.
func (b *block) whole(base, what string, low, high int) int {
	s := span{float64(low), float64(high)}
	e, u := b.amount(base, what, plain(), s, false)
	if e == nil {
		return 0
	}
	x, ok := b.value(e, what, u, s)
	if ok && x != math.Trunc(x) {
		line, column := e.at()
		b.r.say(line, column, fmt.Sprintf("%s is %s", b.path(e.key), printable(e.value.GetToken().Value)), what+": a whole number "+s.words(u))
		return 0
	}
	return int(x)
}

// row reads low, high and, when step limits are given, step.
func (b *block) row(base, what string, units []unit, s span, step *span, strict bool) (low, high, by float64, e *entry) {
	e, u := b.amount(base, what, units, s, false)
	if e == nil {
		return 0, 0, 0, nil
	}
	shape := "{low: , high: }"
	if step != nil {
		shape = "{low: , high: , step: }"
	}
	values, ok := mapping(e.value)
	if !ok {
		line, column := e.at()
		b.r.say(line, column, fmt.Sprintf("%s holds %s", b.path(e.key), kind(e.value)), fmt.Sprintf("%s as %s, %s", what, shape, s.words(u)))
		return 0, 0, 0, nil
	}
	in := b.r.block(b.path(e.key), e.line, e.column, values)
	one := func(key string, s span) (float64, bool) {
		got := in.find(false, fmt.Sprintf("%s as %s, %s", what, shape, s.words(u)), key)
		if got == nil {
			return 0, false
		}
		return in.value(got, what, u, s)
	}
	low, okLow := one("low", s)
	high, okHigh := one("high", s)
	okStep := true
	if step != nil {
		by, okStep = one("step", *step)
	}
	in.done()
	if okLow && okHigh && (low > high || strict && low == high) {
		line, column := in.entry("low").at()
		fault, right := "is upside down", "the smaller number at low"
		if low == high {
			fault, right = "has no room", "a high that is above the low"
		}
		b.r.say(line, column, fmt.Sprintf("%s %s: low is %s, high is %s", b.path(e.key), fault,
			printable(in.entry("low").value.GetToken().Value), printable(in.entry("high").value.GetToken().Value)), right)
		return low, high, by, nil
	}
	if !okLow || !okHigh || !okStep {
		return low, high, by, nil
	}
	return low, high, by, e
}

// choice reads one of a few words.
func (b *block) choice(key, what string, words ...string) string {
	list := strings.Join(words, ", ")
	e := b.find(false, what+": one of "+list, key)
	if e == nil {
		return ""
	}
	line, column := e.at()
	t, ok := e.value.(*ast.StringNode)
	if !ok {
		b.r.say(line, column, fmt.Sprintf("%s holds %s", b.path(key), kind(e.value)), what+": one of "+list)
		return ""
	}
	for _, w := range words {
		if t.Value == w {
			return w
		}
	}
	right := what + ": one of " + list
	if near, ok := nearest(t.Value, words); ok {
		right = near
	}
	b.r.say(line, column, fmt.Sprintf("%s is %q", b.path(key), clip(t.Value)), right)
	return ""
}

// text reads words for people.
func (b *block) text(key, what string, most int, optional bool) (string, *entry) {
	e := b.find(optional, what, key)
	if e == nil {
		return "", nil
	}
	line, column := e.at()
	var text string
	switch v := e.value.(type) {
	case *ast.StringNode:
		text = v.Value
	case *ast.LiteralNode:
		if v.Value != nil {
			text = v.Value.Value
		}
	default:
		right := what
		if _, isNumber := plainNumber(e.value); isNumber {
			right += ", between quotes if it is a number"
		}
		b.r.say(line, column, fmt.Sprintf("%s holds %s", b.path(key), kind(e.value)), right)
		return "", nil
	}
	text = strings.Join(strings.Fields(text), " ")
	switch {
	case text == "":
		b.r.say(line, column, b.path(key)+" is empty", what)
		return "", nil
	case len([]rune(text)) > most:
		b.r.say(line, column, fmt.Sprintf("%s has %d characters", b.path(key), len([]rune(text))), fmt.Sprintf("%s, at most %d characters", what, most))
		return "", nil
	case strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsPrint(c) }):
		b.r.say(line, column, b.path(key)+" holds characters that cannot be shown", what+", in plain letters")
		return "", nil
	}
	return text, e
}
