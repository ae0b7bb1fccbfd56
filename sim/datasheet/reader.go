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

	"shimwright/sim/text"
)

// Limits of a file; they also keep the YAML reader's recursion shallow.
const (
	mostBytes      = 32 << 10
	mostLineBytes  = 1000
	mostOpenGroups = 20
)

// A Kind is what a file is to be.
type Kind struct {
	Key     string       // its first key, which holds the version of the format
	Version int          // the one version that is read
	Name    text.Message // with its article, such as "an axle family file"
	Groups  []string     // groups that only this kind has; a file with one may lack Key
	See     string       // the command that shows its keys
	Foreign error        // what marks a text that cannot be read as one at all
}

// name is the kind's name as a value of a text.
func (k Kind) name() text.Arg { return text.Of("kind", k.Name) }

// first is the key that a file begins with, as a value of a text.
func (k Kind) first() text.Arg { return text.Typed("key", fmt.Sprintf("%s: %d", k.Key, k.Version)) }

// start says what a file of the kind begins with.
func (k Kind) start() text.Message {
	return text.Say("datasheet.want.start", "{kind}, starting with the line {key}", k.name(), k.first())
}

// A Reader turns the text of a file into blocks of keys and collects what is wrong
// with it. Its own walk over the YAML tree stands in for a decoder, because a
// decoder stops at the first mistake.
type Reader struct {
	file     string
	kind     Kind
	problems []Problem
	endings  map[string]int // how many keys of the file end in each unit
}

// Read reads the text of a file; name is the file's name for messages. Any bytes will
// do as text. The block is that of the file itself, nil when the text cannot be read
// as a file of that kind at all.
func Read(file []byte, name string, k Kind) (*Reader, *Block) {
	r := &Reader{file: name, kind: k}
	top, ok := r.document(file)
	if !ok || !r.known(top) {
		return r, nil
	}
	return r, top
}

// Problems returns the mistakes found up to now.
func (r *Reader) Problems() []Problem { return r.problems }

// Say adds a mistake about a key.
func (r *Reader) Say(line, column int, key string, what, want text.Message) {
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Column: column, Key: key, What: what, Want: want})
}

// giveUp says what keeps the text from being read as the kind at all.
func (r *Reader) giveUp(line, column int, what, want text.Message) {
	r.Say(line, column, "", what, want)
	r.problems[len(r.problems)-1].foreign = r.kind.Foreign
}

// known looks at what a file is before its parts: the version, or at least a group
// that only its kind has.
func (r *Reader) known(top *Block) bool {
	k := r.kind
	wanted := text.Say("datasheet.want.version", "the format version: {key}", k.first())
	e := top.Entry(k.Key)
	if e == nil {
		if !slices.ContainsFunc(k.Groups, func(g string) bool { return top.Entry(g) != nil }) {
			r.giveUp(1, 1, text.Say("datasheet.other-kind", "this is not {kind}: it has no {groups}", k.name(), text.AnyTyped("groups", k.Groups...)), k.start())
			return false
		}
		top.Find(false, text.Say("datasheet.want.version-on-top", "the format version, on the first line of the file: {key}", k.first()), k.Key)
		return true
	}
	top.Find(false, wanted, k.Key)
	line, column := e.At()
	x, ok := plainNumber(e.value)
	switch {
	case !ok:
		r.Say(line, column, k.Key, top.holds(e), wanted)
	case x != float64(k.Version):
		r.giveUp(line, column, text.Say("datasheet.other-version", "the file has format version {version}", text.Rounded("version", x)),
			text.Say("datasheet.want.this-version", "version {version}, the one that this program reads", text.Count("version", k.Version)))
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
		var y yaml.Error
		if errors.As(err, &y) {
			if t := y.GetToken(); t != nil && t.Position != nil {
				line, column = max(1, t.Position.Line), max(1, t.Position.Column)
			}
		}
		r.giveUp(line, column, text.Say("datasheet.no-yaml", "the file cannot be read past this point"),
			text.Say("datasheet.want.yaml", "one key per line, then a colon and a space; groups indented with spaces, not tabs; every bracket closed; text that contains a colon or # in quotes"))
		return nil, false
	}
	var body ast.Node
	for _, d := range file.Docs {
		if d == nil || d.Body == nil {
			continue
		}
		if body != nil {
			line, column := place(d.Body)
			r.giveUp(line, column, text.Say("datasheet.second-document", "a second document starts here"),
				text.Say("datasheet.want.one-document", "one document per file, with no line of three hyphens"))
			return nil, false
		}
		body = d.Body
	}
	if body == nil {
		r.giveUp(1, 1, text.Say("datasheet.empty", "the file is empty"), r.kind.start())
		return nil, false
	}
	line, column := place(body)
	values, ok := mapping(body)
	if !ok {
		r.giveUp(line, column, text.Say("datasheet.no-keys", "this is not a list of keys"),
			text.Say("datasheet.want.keys", "{kind}: keys with their values, starting with the line {key}", r.kind.name(), r.kind.first()))
		return nil, false
	}
	r.endings = map[string]int{}
	countEndings(values, r.endings)
	return r.block("", 1, 1, values), true
}

// readable refuses what is no text of a sensible size.
func (r *Reader) readable(data []byte) bool {
	plain := text.Say("datasheet.want.plain-text", "a plain text file")
	switch {
	case len(data) > mostBytes:
		r.giveUp(1, 1, text.Say("datasheet.too-large", "the file is longer than {most} bytes", text.Count("most", mostBytes)),
			text.Say("datasheet.want.size", "{kind} of at most {most} bytes", r.kind.name(), text.Count("most", mostBytes)))
		return false
	case !utf8.Valid(data):
		r.giveUp(1, 1, text.Say("datasheet.no-utf8", "the file is not text in UTF-8"), plain)
		return false
	}
	open := 0
	for i, line := range strings.Split(string(data), "\n") {
		if len(line) > mostLineBytes {
			r.giveUp(i+1, 1, text.Say("datasheet.long-line", "the line has {n} bytes", text.Count("n", len(line))),
				text.Say("datasheet.want.short-lines", "lines of at most {most} bytes", text.Count("most", mostLineBytes)))
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
				r.giveUp(i+1, column, text.Say("datasheet.control-character", "there is a control character ({character}) here", text.Typed("character", fmt.Sprintf("%U", c))), plain)
				return false
			}
			if open > mostOpenGroups {
				r.giveUp(i+1, column, text.Say("datasheet.open-brackets", "too many brackets are open at once"),
					text.Say("datasheet.want.one-level", "one level of braces, as in {example}", text.Typed("example", "{low: 1, high: 2}")))
				return false
			}
		}
	}
	return true
}

// errBeyond is of YAML on which the parser fails.
var errBeyond = errors.New("yaml")

// parse runs the YAML parser. It should not panic, but no text that a person hands
// in may bring the program down.
func parse(yaml string) (file *ast.File, err error) {
	defer func() {
		if p := recover(); p != nil {
			file, err = nil, errBeyond
		}
	}()
	// Keys written twice are found by block, all at once.
	return parser.ParseBytes([]byte(yaml), 0, parser.AllowDuplicateMapKey())
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

// held says what a value is, for a person who meant something else.
func held(n ast.Node) text.Message {
	switch v := n.(type) {
	case *ast.NullNode:
		return text.Say("datasheet.held.nothing", "nothing")
	case *ast.MappingNode, *ast.MappingValueNode:
		return text.Say("datasheet.held.group", "a group of keys")
	case *ast.SequenceNode:
		return text.Say("datasheet.held.list", "a list")
	case *ast.BoolNode:
		return text.Say("datasheet.held.bool", "a true or false")
	case *ast.IntegerNode, *ast.FloatNode:
		return text.Say("datasheet.held.number", "the number {number}", text.Typed("number", Printable(v.GetToken().Value)))
	case *ast.InfinityNode, *ast.NanNode:
		return text.Say("datasheet.held.no-number", "a number that cannot be measured")
	case *ast.StringNode:
		return text.Say("datasheet.held.text", "the text {text}", text.Quoted("text", v.Value))
	case *ast.LiteralNode:
		return text.Say("datasheet.held.long-text", "a text")
	case *ast.AnchorNode, *ast.AliasNode, *ast.MergeKeyNode:
		return text.Say("datasheet.held.reference", "a reference, which these files do not use")
	case *ast.TagNode:
		return text.Say("datasheet.held.tag", "a tag, which these files do not use")
	}
	return text.Say("datasheet.held.else", "something else")
}

// clip shortens a text for a message.
func clip(s string) string {
	const most = 80
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}

// Printable takes out what would act on a terminal instead of showing.
func Printable(s string) string {
	return clip(strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return ' '
		}
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, s))
}
