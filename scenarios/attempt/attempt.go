package attempt

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// formatNumber changes when what a file holds does. No other format is read.
const formatNumber = 1

// formatName marks a file as a record.
const formatName = "shimwright attempt"

// A Header is the first line of a record.
type Header struct {
	Model string
	scenarios.Order
	Terms
	FamilyText string // of a family from a person's own file: what the file said
	Seed       uint64
	Units      quantity.System
}

// An Entry is one act as recorded.
type Entry struct {
	Act   act.Act
	Shows []string // Code of each reading
}

// A Record is an attempt as far as it got.
type Record struct {
	Header  Header
	Entries []Entry
	link    string
}

type headerLine struct {
	Record string `json:"record"`
	Format int    `json:"format"`
	Model  string `json:"model"`
	Family string `json:"family"`
	File   string `json:"family_file,omitempty"`
	termsLine
	Seed  string `json:"seed"` // text: JSON numbers lose whole numbers above 2^53
	Units string `json:"units"`
}

type entryLine struct {
	N     int      `json:"n"`
	Act   string   `json:"act"`
	Shows []string `json:"shows"`
	Link  string   `json:"link"`
}

// New starts a record of the job of an order and seed. The zero value of terms is free
// practice. familyText is empty for a family that comes with the program and the text of
// its file for another, so that the record stands by itself.
func New(t Terms, o scenarios.Order, familyText string, seed uint64, units quantity.System) *Record {
	r := &Record{Header: Header{scenarios.ModelVersion, o, t, familyText, seed, units}}
	r.link = headLink(r.HeaderLine())
	return r
}

// HeaderLine returns the record's first line, newline included.
func (r *Record) HeaderLine() []byte {
	h := r.Header
	return line(headerLine{formatName, formatNumber, h.Model, h.Family.Code, h.FamilyText, writeTerms(h.Order, h.Terms), fmt.Sprint(h.Seed), h.Units.String()})
}

// Add appends an act and what it showed, and returns its line, newline included,
// for the caller to write.
func (r *Record) Add(o history.Step) []byte {
	e := entryLine{N: len(r.Entries) + 1, Act: o.Act.String(), Shows: []string{}}
	for _, reading := range o.Readings {
		e.Shows = append(e.Shows, reading.Code())
	}
	e.Link = nextLink(r.link, e)
	r.link = e.Link
	r.Entries = append(r.Entries, Entry{o.Act, e.Shows})
	return line(e)
}

// Acts returns the acts in order.
func (r *Record) Acts() []act.Act {
	out := make([]act.Act, len(r.Entries))
	for i, e := range r.Entries {
		out[i] = e.Act
	}
	return out
}

// Bytes returns the whole record as a file holds it.
func (r *Record) Bytes() ([]byte, error) {
	out := r.HeaderLine()
	link := headLink(out)
	for i, e := range r.Entries {
		l := entryLine{N: i + 1, Act: e.Act.String(), Shows: e.Shows}
		l.Link = nextLink(link, l)
		link = l.Link
		out = append(out, line(l)...)
	}
	if link != r.link {
		return nil, &Error{Trouble: ErrDamaged, Why: text.Say("attempt.links", "its acts do not follow from each other")}
	}
	return out, nil
}

func line(v any) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		panic("attempt: " + err.Error()) // strings and whole numbers always encode
	}
	return b.Bytes()
}

const linkChars = 16

func headLink(header []byte) string {
	sum := sha256.Sum256(header)
	return hex.EncodeToString(sum[:])[:linkChars]
}

func nextLink(before string, e entryLine) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n%d\n%s\n%s\n", before, e.N, e.Act, strings.Join(e.Shows, "\n"))
	return hex.EncodeToString(h.Sum(nil))[:linkChars]
}

// maxRecord bounds what is read: a long attempt is some tens of kilobytes.
const maxRecord = 8 << 20

// Read reads a record. On ErrDamaged and ErrCutShort the record holds the whole
// acts before the trouble.
func Read(from io.Reader) (*Record, error) {
	data, err := io.ReadAll(io.LimitReader(from, maxRecord+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxRecord {
		return nil, foreign(text.Say("attempt.too-large", "it is larger than any attempt"))
	}
	lines := bytes.SplitAfter(data, []byte("\n"))
	if n := len(lines); n > 0 && len(lines[n-1]) == 0 {
		lines = lines[:n-1]
	}
	if len(lines) == 0 {
		return nil, foreign(text.Say("attempt.empty", "the file is empty"))
	}
	r, err := readHeader(lines[0])
	if err != nil {
		return nil, err
	}
	for i, l := range lines[1:] {
		if why, ok := r.readEntry(l); !ok {
			trouble := &Error{ErrDamaged, i + 2, i + 1, len(r.Entries), why}
			if i == len(lines)-2 && !bytes.HasSuffix(l, []byte("\n")) {
				trouble.Trouble, trouble.Why = ErrCutShort, text.Say("attempt.incomplete", "is incomplete")
			}
			return r, trouble
		}
	}
	return r, nil
}

func readHeader(l []byte) (*Record, error) {
	var h headerLine
	// A head of another version may hold what this one does not know, so its
	// version is looked at before anything else is held against it.
	err := json.Unmarshal(l, &h)
	var ill *json.UnmarshalTypeError
	if (err != nil && !errors.As(err, &ill)) || h.Record != formatName {
		return nil, foreign(text.Say("attempt.no-head", "its first line does not begin an attempt"))
	}
	if h.Format != formatNumber || h.Model != scenarios.ModelVersion {
		return nil, otherVersion(h)
	}
	var seed uint64
	if _, err := fmt.Sscan(h.Seed, &seed); err != nil {
		return nil, badHead(text.Say("attempt.no-seed", "has no whole number as its seed"))
	}
	units, err := quantity.ParseSystem(h.Units)
	if err != nil {
		return nil, holds(err)
	}
	fam, err := headerFamily(h)
	if err != nil {
		return nil, holds(err)
	}
	order := scenarios.Order{Family: fam}
	terms, err := h.read(&order)
	if err != nil {
		return nil, holds(err)
	}
	r := New(terms, order, h.File, seed, units)
	if !bytes.Equal(r.HeaderLine(), l) {
		return nil, badHead(notAsWritten())
	}
	return r, nil
}

func headerFamily(h headerLine) (family.Family, error) {
	if h.File != "" {
		return family.Parse([]byte(h.File), "family_file")
	}
	return family.Shipped(h.Family)
}

// readEntry reads the line of an act, or says why it cannot.
func (r *Record) readEntry(l []byte) (why text.Message, ok bool) {
	var e entryLine
	if err := json.Unmarshal(l, &e); err != nil {
		return text.Say("attempt.unreadable", "cannot be read"), false
	}
	if e.N != len(r.Entries)+1 || e.Link != nextLink(r.link, e) {
		return text.Say("attempt.does-not-follow", "does not follow from the line before it"), false
	}
	a, err := act.Parse(e.Act, r.Header.Units)
	if err != nil {
		return text.Say("attempt.no-act", "has no act of this bench: {why}", text.Of("why", text.Reason(err))), false
	}
	if !bytes.HasSuffix(l, []byte("\n")) {
		return text.Say("attempt.no-end", "has no end"), false
	}
	// JSON has many spellings of one line (capitals in a key, spaces, escapes); only
	// the program's own is a line of a record.
	if e.Act != a.String() || e.Shows == nil || !bytes.Equal(line(e), l) {
		return notAsWritten(), false
	}
	r.Entries = append(r.Entries, Entry{a, e.Shows})
	r.link = e.Link
	return text.Message{}, true
}

// Replay makes the record's job again and does every act on it. It returns the
// stand as the attempt left it and every outcome. The error wraps
// ErrNotReproducible when an act cannot be done or shows something else than was
// recorded.
func Replay(r *Record) (scenarios.Job, *sim.Stand, []history.Step, error) {
	job, err := r.Header.Order.Generate(r.Header.Seed)
	if err != nil {
		return scenarios.Job{}, nil, nil, err
	}
	stand, err := job.Stand()
	if err != nil {
		return job, nil, nil, err
	}
	outs := make([]history.Step, 0, len(r.Entries))
	for i, e := range r.Entries {
		o, err := stand.Do(e.Act)
		if err != nil {
			return job, stand, outs, noReplay(i+1, e.Act, err)
		}
		for k, reading := range o.Readings {
			if k >= len(e.Shows) || reading.Code() != e.Shows[k] {
				return job, stand, outs, otherReading(i+1, e.Act)
			}
		}
		if len(o.Readings) != len(e.Shows) {
			return job, stand, outs, otherReading(i+1, e.Act)
		}
		outs = append(outs, o)
	}
	return job, stand, outs, nil
}
