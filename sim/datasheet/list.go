package datasheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"
)

// An Item is one value of a list.
type Item struct {
	Text         string
	Number       float64
	line, column int
}

// list returns the values of a key that holds a list, at most so many; shape shows how
// such a list is written.
func (b *Block) list(key, what, shape string, most int, optional bool) []ast.Node {
	right := fmt.Sprintf("%s, as %s", what, shape)
	e := b.Find(optional, right, key)
	if e == nil {
		return nil
	}
	line, column := e.At()
	seq, ok := e.value.(*ast.SequenceNode)
	switch {
	case !ok:
		b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(key), b.r.holds(e.value)), right)
		return nil
	case len(seq.Values) == 0:
		b.r.Say(line, column, b.Path(key)+" is empty", right)
		return nil
	case len(seq.Values) > most:
		b.r.Say(line, column, fmt.Sprintf("%s holds %d values", b.Path(key), len(seq.Values)), fmt.Sprintf("%s: at most %d", what, most))
		return nil
	}
	return seq.Values
}

// twice complains of a value that stands in the list already.
func (b *Block) twice(key, value string, line, column int) {
	b.r.Say(line, column, fmt.Sprintf("%s holds %s a second time", b.Path(key), value), "each value once")
}

// Words reads a list of texts, each once. With words given, each has to be one of them.
// A list with a mistake in it comes out without the values that are wrong.
func (b *Block) Words(key, what string, most int, optional bool, words ...string) []Item {
	const mostLetters = 200
	var out []Item
	for _, n := range b.list(key, what, "[one, two]", most, optional) {
		line, column := place(n)
		t, ok := n.(*ast.StringNode)
		text := ""
		if ok {
			text = t.Value
		}
		switch {
		case !ok:
			b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(key), b.r.holds(n)), what)
		case text == "" || len([]rune(text)) > mostLetters || strings.TrimSpace(text) != text || strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsPrint(c) }):
			b.r.Say(line, column, fmt.Sprintf("%s holds %q", b.Path(key), clip(printable(text))), what+", in plain letters")
		case len(words) > 0 && !slices.Contains(words, text):
			right := fmt.Sprintf("%s: of %s", what, strings.Join(words, ", "))
			if near, ok := Nearest(text, words); ok {
				right = near
			}
			b.r.Say(line, column, fmt.Sprintf("%s holds %q", b.Path(key), clip(text)), right)
		case slices.ContainsFunc(out, func(i Item) bool { return i.Text == text }):
			b.twice(key, fmt.Sprintf("%q", text), line, column)
		default:
			out = append(out, Item{Text: text, line: line, column: column})
		}
	}
	return out
}

// Wholes reads a list of whole numbers within limits, each once.
func (b *Block) Wholes(key, what string, most int, optional bool, s Span) []Item {
	var out []Item
	for _, n := range b.list(key, what, "[1, 2, 3]", most, optional) {
		line, column := place(n)
		x, ok := plainNumber(n)
		switch {
		case !ok:
			b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(key), b.r.holds(n)), what+": whole numbers "+s.words(Plain()[0]))
		case x != math.Trunc(x) || x < s.Low || x > s.High:
			b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(key), printable(n.GetToken().Value)), what+": whole numbers "+s.words(Plain()[0]))
		case slices.ContainsFunc(out, func(i Item) bool { return i.Number == x }):
			b.twice(key, Short(x), line, column)
		default:
			out = append(out, Item{Number: x, line: line, column: column})
		}
	}
	return out
}

// SayItem adds a mistake at a value of a list.
func (b *Block) SayItem(i Item, what, right string) { b.r.Say(i.line, i.column, what, right) }
