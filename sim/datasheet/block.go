package datasheet

import (
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
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
	why      string // what would be right, for a key that is missing
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
			r.Say(l, c, "a key here is no plain word", "a key of letters, digits and underscores, such as checking_distance_mm")
			continue
		}
		if old := b.Entry(key.Value); old != nil {
			r.Say(l, c, fmt.Sprintf("%s stands here a second time; the first is in line %d", b.Path(key.Value), old.line), "one of the two")
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
func (b *Block) Say(e *Entry, what, right string) {
	line, column := e.At()
	b.r.Say(line, column, what, right)
}

// Path returns a key with the names of its groups before it.
func (b *Block) Path(key string) string {
	key = printable(key)
	if b.name == "" {
		return key
	}
	return b.name + ": " + key
}

// Find looks for one of the keys and returns its entry, or nil. It notes what was
// looked for, so that Done can tell what is missing and what is unknown; why says what
// would be right for a key that is missing.
func (b *Block) Find(optional bool, why string, keys ...string) *Entry {
	if b.lame {
		return nil
	}
	var got *Entry
	for _, k := range keys {
		e := b.Entry(k)
		switch {
		case e == nil:
		case got == nil:
			got = e
		default:
			b.r.Say(e.line, e.column, fmt.Sprintf("%s says what %s in line %d says too", b.Path(k), got.Key, got.line), "one of the two")
		}
	}
	b.asks = append(b.asks, ask{keys, why, optional, got != nil})
	return got
}

// Sub returns a group of keys inside the block; what says what it should hold. A group
// that is missing or is none is lame.
func (b *Block) Sub(key, what string) *Block {
	e := b.Find(false, what, key)
	if e == nil {
		return &Block{r: b.r, lame: true}
	}
	return b.group(e, what)
}

func (b *Block) group(e *Entry, what string) *Block {
	values, ok := mapping(e.value)
	if !ok {
		line, column := e.At()
		b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(e.Key), b.r.holds(e.value)), "a group of keys: "+what)
		return &Block{r: b.r, lame: true}
	}
	return b.r.block(b.Path(e.Key), e.line, e.column, values)
}

// Unwanted complains of a group that belongs to another design.
func (b *Block) Unwanted(key, why, right string) {
	if e := b.Find(true, "", key); e != nil {
		b.r.Say(e.line, e.column, fmt.Sprintf("%s does not belong here: %s", b.Path(key), why), right)
	}
}

// withUnit returns the first of the names that is the key with a unit after it.
func withUnit(key string, names []string) (string, bool) {
	i := slices.IndexFunc(names, func(n string) bool { return strings.HasPrefix(n, key+"_") })
	if i < 0 {
		return "", false
	}
	return names[i], true
}

// Done complains of missing and unknown keys. A key that looks like a missing one is
// taken for it, and the pair is one complaint.
func (b *Block) Done() {
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
		if known[e.Key] {
			continue
		}
		right := "one of the keys of this group: " + strings.Join(names, ", ")
		if len(names) > 12 {
			right = fmt.Sprintf("none of that name: take it out, or see %s for the keys there are", b.r.kind.See)
		}
		near, ok := withUnit(e.Key, absent)
		if !ok {
			near, ok = Nearest(e.Key, absent)
		}
		if !ok {
			near, ok = Nearest(e.Key, names)
		}
		if ok {
			right = near
			for i := range b.asks {
				for _, k := range b.asks[i].keys {
					b.asks[i].found = b.asks[i].found || k == near
				}
			}
		}
		b.r.Say(e.line, e.column, fmt.Sprintf("%s is no key that is known here", b.Path(e.Key)), right)
	}
	for _, a := range b.asks {
		if a.found || a.optional {
			continue
		}
		where := "the file"
		if b.name != "" {
			where = "the group " + b.name
		}
		b.r.Say(b.line, b.column, fmt.Sprintf("%s lacks %s", where, strings.Join(a.keys, " or ")), a.why)
	}
}
