package datasheet

import (
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"shimwright/sim/text"
)

// An Entry is one key of a block and what follows it.
type Entry struct {
	Key          string
	line, column int // of the key
	value        ast.Node
}

// At returns where the value stands; a group of keys is where its name is.
func (e *Entry) At() (line, column int) {
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
	want     text.Message // what would be right, for a key that is missing
	base     string       // of an amount, its key without a unit
	units    []Unit
	span     Span
	optional bool
	found    bool
}

// A Block is one group of keys. A block that is not there, or no group, is lame: it
// answers everything with zero and complains no further.
type Block struct {
	r            *Reader
	name         string // "" for the file itself
	line, column int
	entries      []*Entry
	asks         []ask
	lame         bool
	before       int // mistakes there were when the block was opened
}

// block lists the keys of a group and complains of those that are no words or stand
// there twice.
func (r *Reader) block(name string, line, column int, values []*ast.MappingValueNode) *Block {
	b := &Block{r: r, name: name, line: line, column: column, before: len(r.problems)}
	for _, v := range values {
		if v == nil || v.Key == nil {
			continue
		}
		l, c := place(v.Key)
		key, ok := v.Key.(*ast.StringNode)
		if !ok {
			r.Say(l, c, b.name, text.Say("datasheet.key.no-word", "a key here is not a plain word"),
				text.Say("datasheet.want.key-word", "a key of letters, digits and underscores, such as {example}", text.Typed("example", "checking_distance_mm")))
			continue
		}
		if old := b.Entry(key.Value); old != nil {
			path := b.Path(key.Value)
			r.Say(l, c, path, text.Say("datasheet.key.twice", "{key} stands here a second time; the first is in line {line}", text.Typed("key", path), text.Count("line", old.line)), oneOfTwo())
			continue
		}
		e := &Entry{Key: key.Value, line: l, column: c, value: v.Value}
		if e.value == nil {
			e.value = ast.Null(v.Key.GetToken())
		}
		b.entries = append(b.entries, e)
	}
	return b
}

// oneOfTwo is what would be right where a thing is said twice.
func oneOfTwo() text.Message {
	return text.Say("datasheet.want.one-of-two", "only one of the two")
}

// Entry returns the entry of a key, or nil.
func (b *Block) Entry(key string) *Entry {
	for _, e := range b.entries {
		if e.Key == key {
			return e
		}
	}
	return nil
}

// Clean reports that the block is there and that nothing was complained of since it was
// opened: asked after Done, that all of it was read.
func (b *Block) Clean() bool { return !b.lame && len(b.r.problems) == b.before }

// Say adds a mistake at an entry.
func (b *Block) Say(e *Entry, what, want text.Message) {
	line, column := e.At()
	b.r.Say(line, column, b.Path(e.Key), what, want)
}

// Key is the path of an entry as the value {key} of a text.
func (b *Block) Key(e *Entry) text.Arg { return text.Typed("key", b.Path(e.Key)) }

// holds says that an entry holds the wrong thing.
func (b *Block) holds(e *Entry) text.Message {
	return text.Say("datasheet.holds", "{key} holds {held}", b.Key(e), text.Of("held", held(e.value)))
}

// Path returns a key with the names of its groups before it.
func (b *Block) Path(key string) string {
	key = Printable(key)
	if b.name == "" {
		return key
	}
	return b.name + ": " + key
}

// Find looks for one of the keys and returns its entry, or nil. It notes what was
// looked for, so that Done can tell what is missing and what is unknown; want says what
// would be right for a key that is missing.
func (b *Block) Find(optional bool, want text.Message, keys ...string) *Entry {
	return b.find(ask{keys: keys, want: want, optional: optional})
}

// Allow lets keys stand that are not looked at here.
func (b *Block) Allow(keys ...string) {
	for _, k := range keys {
		b.find(ask{keys: []string{k}, optional: true})
	}
}

func (b *Block) find(a ask) *Entry {
	if b.lame {
		return nil
	}
	var got *Entry
	for _, e := range b.entries {
		switch {
		case !slices.Contains(a.keys, e.Key):
		case got == nil:
			got = e
		default:
			path := b.Path(e.Key)
			b.r.Say(e.line, e.column, path, text.Say("datasheet.key.two-units", "{key} repeats what {other} in line {line} says", text.Typed("key", path),
				text.Typed("other", got.Key), text.Count("line", got.line)), oneOfTwo())
		}
	}
	a.found = got != nil
	b.asks = append(b.asks, a)
	return got
}

// Sub returns a group of keys inside the block; what says what it should hold. A group
// that is missing or is none is lame.
func (b *Block) Sub(key string, what text.Message) *Block {
	e := b.Find(false, what, key)
	if e == nil {
		return &Block{r: b.r, lame: true}
	}
	return b.group(e, what)
}

func (b *Block) group(e *Entry, what text.Message) *Block {
	values, ok := mapping(e.value)
	if !ok {
		b.Say(e, b.holds(e), text.Say("datasheet.want.group", "a group of keys: {what}", text.Of("what", what)))
		return &Block{r: b.r, lame: true}
	}
	return b.r.block(b.Path(e.Key), e.line, e.column, values)
}

// Unwanted complains of a key that belongs to another design.
func (b *Block) Unwanted(key string, why, want text.Message) {
	if e := b.Find(true, text.Message{}, key); e != nil {
		b.r.Say(e.line, e.column, b.Path(key), text.Say("datasheet.key.unwanted", "{key} does not belong here: {why}", b.Key(e), text.Of("why", why)), want)
	}
}

// Done complains of missing and unknown keys. A key that looks like a missing one is
// taken for it, and the pair is one complaint.
func (b *Block) Done() {
	if b.lame {
		return
	}
	known := map[string]bool{}
	var names []string
	for _, a := range b.asks {
		for _, k := range a.keys {
			known[k] = true
			names = append(names, k)
		}
	}
	for _, e := range b.entries {
		if known[e.Key] {
			continue
		}
		const mostNames = 12
		want := text.Say("datasheet.want.known-key", "one of the keys of this group: {keys}", text.AnyTyped("keys", names...))
		if len(names) > mostNames {
			want = text.Say("datasheet.want.no-key", "no key of that name: take it out; {command} shows the keys", text.Typed("command", b.r.kind.See))
		}
		if near, ok := b.meant(e, names); ok {
			want = text.Verbatim(near)
			for i := range b.asks {
				for _, k := range b.asks[i].keys {
					b.asks[i].found = b.asks[i].found || k == near
				}
			}
		}
		path := b.Path(e.Key)
		b.r.Say(e.line, e.column, path, text.Say("datasheet.key.unknown", "{key} is not a key of this group", text.Typed("key", path)), want)
	}
	for _, a := range b.asks {
		if a.found || a.optional {
			continue
		}
		keys := text.AnyTyped("keys", b.inOrder(a)...)
		what := text.Say("datasheet.key.missing", "the group {group} has no {keys}", text.Typed("group", b.name), keys)
		if b.name == "" {
			what = text.Say("datasheet.key.missing-on-top", "the file has no {keys}", keys)
		}
		want := a.want
		if a.base != "" {
			want = text.Say("datasheet.want.amount", "{what}, {limits}", text.Of("what", a.want), text.Of("limits", a.span.words(b.unitFor(a, nil))))
		}
		b.r.Say(b.line, b.column, b.Path(a.keys[0]), what, want)
	}
}

// meant returns the key that an unknown one was meant to be: a missing amount in the
// unit that suits the figure and the file, a missing key spelled nearly so, or any other
// such key.
func (b *Block) meant(e *Entry, names []string) (string, bool) {
	var absent, bases []string
	amounts := map[string]ask{}
	for _, a := range b.asks {
		if a.found {
			continue
		}
		absent = append(absent, a.keys...)
		if a.base != "" {
			bases = append(bases, a.base)
			amounts[a.base] = a
		}
	}
	inUnit := func(base string) (string, bool) {
		a, ok := amounts[base]
		if !ok {
			return "", false
		}
		return base + b.unitFor(a, e).Suffix, true
	}
	unit := ending(e.Key)
	base := strings.TrimSuffix(e.Key, unit)
	if key, ok := inUnit(base); ok {
		return key, true
	}
	if near, ok := Nearest(e.Key, absent); ok {
		of := strings.TrimSuffix(near, ending(near))
		if key, ok := inUnit(of); ok && unit == "" && !strings.HasPrefix(e.Key, of+"_") {
			return key, true
		}
		return near, true
	}
	if i := slices.IndexFunc(bases, func(base string) bool { return strings.HasPrefix(e.Key, base+"_") }); i >= 0 {
		return inUnit(bases[i]) // with a unit that is none here
	}
	if near, ok := Nearest(base, bases); ok {
		return inUnit(near)
	}
	return Nearest(e.Key, names)
}
