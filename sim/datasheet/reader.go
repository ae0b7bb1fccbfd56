package datasheet

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// Limits of a file; they also keep the YAML reader's recursion shallow.
const (
	mostBytes      = 32 << 10
	mostLineBytes  = 1000
	mostOpenGroups = 20
)

// A Kind is what a file is to be.
type Kind struct {
	Key     string   // its first key, which holds the version of the format
	Version int      // the one version that is read
	Name    string   // for messages, such as family
	Full    string   // the same where it stands alone, such as axle family
	Groups  []string // groups that only this kind has; a file with one may lack Key
	See     string   // where its keys can be seen
	Foreign error    // what marks a text that cannot be read as one at all
}

// one is the name of one file of the kind.
func (k Kind) one() string {
	if strings.HasPrefix(k.Name, "e") {
		return "an " + k.Name
	}
	return "a " + k.Name
}

// start says what a file of the kind begins with.
func (k Kind) start() string {
	return fmt.Sprintf("%s, beginning with %s: %d", k.one(), k.Key, k.Version)
}

// A Reader turns the text of a file into blocks of keys and collects what is wrong
// with it. Its own walk over the YAML tree stands in for a decoder, because a
// decoder stops at the first mistake.
type Reader struct {
	file     string
	kind     Kind
	problems []Problem
}

// Read reads the text of a file; name is the file's name for messages. Any bytes will
// do as text. The block is that of the file itself, nil when the text cannot be read
// as a file of that kind at all.
func Read(text []byte, name string, k Kind) (*Reader, *Block) {
	r := &Reader{file: name, kind: k}
	top, ok := r.document(text)
	if !ok || !r.known(top) {
		return r, nil
	}
	return r, top
}

// Problems returns the mistakes found up to now.
func (r *Reader) Problems() []Problem { return r.problems }

// Say adds a mistake.
func (r *Reader) Say(line, column int, what, right string) {
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Column: column, What: what, Right: right})
}

// giveUp says what keeps the text from being read as the kind at all.
func (r *Reader) giveUp(line, column int, what, right string) {
	r.Say(line, column, what, right)
	r.problems[len(r.problems)-1].foreign = r.kind.Foreign
}

// known looks at what a file is before its parts: the version, or at least a group
// that only its kind has.
func (r *Reader) known(top *Block) bool {
	k := r.kind
	e := top.Entry(k.Key)
	if e == nil {
		if !slices.ContainsFunc(k.Groups, func(g string) bool { return top.Entry(g) != nil }) {
			r.giveUp(1, 1, fmt.Sprintf("this is no %s: it has none of %s's groups", k.Full, k.one()), k.start())
			return false
		}
		top.Find(false, fmt.Sprintf("the version of the format, at the top of the file: %s: %d", k.Key, k.Version), k.Key)
		return true
	}
	top.Find(false, "", k.Key)
	line, column := e.At()
	x, ok := plainNumber(e.value)
	switch {
	case !ok:
		r.Say(line, column, fmt.Sprintf("%s holds %s", k.Key, r.holds(e.value)), fmt.Sprintf("the version of the format: %d", k.Version))
	case x != float64(k.Version):
		r.giveUp(line, column, fmt.Sprintf("the file is written in version %s of the format", Short(x)), fmt.Sprintf("version %d, the one this program reads", k.Version))
		return false
	}
	return true
}

// document parses the text and returns its top block. The second value is false
// when the text cannot be read.
func (r *Reader) document(data []byte) (*Block, bool) {
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
			r.giveUp(line, column, "a second document begins here", fmt.Sprintf("one %s to a file, without --- between", r.kind.Name))
			return nil, false
		}
		body = d.Body
	}
	if body == nil {
		r.giveUp(1, 1, "the file says nothing", r.kind.start())
		return nil, false
	}
	line, column := place(body)
	values, ok := mapping(body)
	if !ok {
		r.giveUp(line, column, "this is no list of keys", fmt.Sprintf("%s: keys with their values, beginning with %s: %d", r.kind.one(), r.kind.Key, r.kind.Version))
		return nil, false
	}
	return r.block("", 1, 1, values), true
}

// readable refuses what is no text of a sensible size.
func (r *Reader) readable(data []byte) bool {
	switch {
	case len(data) > mostBytes:
		r.giveUp(1, 1, fmt.Sprintf("the file has %d bytes", len(data)), fmt.Sprintf("%s file, which has at most %d", r.kind.one(), mostBytes))
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

// holds says what a value is, for a person who wrote something else.
func (r *Reader) holds(n ast.Node) string {
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
		return fmt.Sprintf("a reference, which a %s file does not use", r.kind.Name)
	case *ast.TagNode:
		return fmt.Sprintf("a tag, which a %s file does not use", r.kind.Name)
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
