package datasheet

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"

	"shimwright/sim/text"
)

// An Item is one value of a list.
type Item struct {
	Text         string
	Number       float64
	key          string // of the list, with its groups
	line, column int
}

// list returns the values of a key that holds a list, at most so many; shape shows how
// such a list is written.
func (b *Block) list(key string, what text.Message, shape string, most int, optional bool) []ast.Node {
	wanted := text.Of("what", what)
	want := text.Say("datasheet.want.list", "{what}, as {shape}", wanted, text.Typed("shape", shape))
	e := b.Find(optional, want, key)
	if e == nil {
		return nil
	}
	seq, ok := e.value.(*ast.SequenceNode)
	switch {
	case !ok:
		b.Say(e, b.holds(e), want)
		return nil
	case len(seq.Values) == 0:
		b.Say(e, text.Say("datasheet.list.empty", "{key} is an empty list", b.Key(e)), want)
		return nil
	case len(seq.Values) > most:
		b.Say(e, text.Say("datasheet.list.long", "{key} holds {n} values", b.Key(e), text.Count("n", len(seq.Values))),
			text.Say("datasheet.want.at-most", "{what}: at most {most}", wanted, text.Count("most", most)))
		return nil
	}
	return seq.Values
}

// sayItem complains of a value that a list holds.
func (b *Block) sayItem(key string, n ast.Node, held, want text.Message) {
	line, column := place(n)
	path := b.Path(key)
	b.r.Say(line, column, path, text.Say("datasheet.list.holds", "{key} holds {held}", text.Typed("key", path), text.Of("held", held)), want)
}

// twice complains of a value that stands in the list already.
func (b *Block) twice(key string, n ast.Node, value text.Arg) {
	line, column := place(n)
	path := b.Path(key)
	b.r.Say(line, column, path, text.Say("datasheet.list.twice", "{key} holds {value} a second time", text.Typed("key", path), value),
		text.Say("datasheet.want.once", "each value once"))
}

// Words reads a list of texts, each once. With words given, each has to be one of them.
// A list with a mistake in it comes out without the values that are wrong.
func (b *Block) Words(key string, what text.Message, most int, optional bool, words ...string) []Item {
	const mostLetters = 200
	var out []Item
	for _, n := range b.list(key, what, "[one, two]", most, optional) {
		line, column := place(n)
		t, ok := n.(*ast.StringNode)
		word := ""
		if ok {
			word = t.Value
		}
		switch {
		case !ok:
			b.sayItem(key, n, held(n), what)
		case word == "" || len([]rune(word)) > mostLetters || strings.TrimSpace(word) != word || strings.ContainsFunc(word, func(c rune) bool { return !unicode.IsPrint(c) }):
			b.sayItem(key, n, text.Verbatim(strconv.Quote(clip(Printable(word)))), plainLetters(what))
		case len(words) > 0 && !slices.Contains(words, word):
			want := text.Say("datasheet.want.of-words", "{what}: {words}", text.Of("what", what), text.AnyTyped("words", words...))
			if near, ok := Nearest(word, words); ok {
				want = text.Verbatim(near)
			}
			b.sayItem(key, n, text.Verbatim(strconv.Quote(clip(word))), want)
		case slices.ContainsFunc(out, func(i Item) bool { return i.Text == word }):
			b.twice(key, n, text.Quoted("value", word))
		default:
			out = append(out, Item{Text: word, key: b.Path(key), line: line, column: column})
		}
	}
	return out
}

// Wholes reads a list of whole numbers within limits, each once.
func (b *Block) Wholes(key string, what text.Message, most int, optional bool, s Span) []Item {
	var out []Item
	for _, n := range b.list(key, what, "[1, 2, 3]", most, optional) {
		line, column := place(n)
		want := text.Say("datasheet.want.wholes", "{what}: whole numbers {limits}", text.Of("what", what), text.Of("limits", s.words(Plain()[0])))
		x, ok := plainNumber(n)
		switch {
		case !ok:
			b.sayItem(key, n, held(n), want)
		case x != math.Trunc(x) || x < s.Low || x > s.High:
			b.sayItem(key, n, text.Verbatim(Printable(n.GetToken().Value)), want)
		case slices.ContainsFunc(out, func(i Item) bool { return i.Number == x }):
			b.twice(key, n, text.Number("value", x, -1))
		default:
			out = append(out, Item{Number: x, key: b.Path(key), line: line, column: column})
		}
	}
	return out
}

// SayItem adds a mistake at a value of a list.
func (b *Block) SayItem(i Item, what, want text.Message) {
	b.r.Say(i.line, i.column, i.key, what, want)
}
