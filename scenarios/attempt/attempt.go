package attempt

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

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
	Begin
}

// Begin is when an attempt was begun and after how many others. It is for whoever reads
// the file: no reading and no grade depends on it.
type Begin struct {
	At      time.Time // UTC, to the second; zero where no clock was asked
	Earlier int       // attempts at the same job on the same terms that lay in the same folder
}

// An Entry is a line as recorded: an act, or that acts were taken back.
type Entry struct {
	Act   act.Act
	Shows []string // Code of each reading
	Coach bool     // the coach did it, to show how
	Back  int      // no act: so many of the acts that stood before it fall away; 0 for an act
	seal  *seal    // of the signature; nil of every other line
}

// A Record is an attempt as far as it got.
type Record struct {
	Header  Header
	Entries []Entry
	Ended   time.Time // when it was signed off: UTC, to the second; zero where no clock was asked
	link    string
}

type headerLine struct {
	Record string `json:"record"`
	Format int    `json:"format"`
	Model  string `json:"model"`
	Family string `json:"family"`
	File   string `json:"family_file,omitempty"`
	termsLine
	Seed    string `json:"seed"` // text: JSON numbers lose whole numbers above 2^53
	Units   string `json:"units"`
	Begun   string `json:"begun,omitempty"`
	Earlier int    `json:"earlier_tries,omitempty"`
}

type entryLine struct {
	N     int      `json:"n"`
	Act   string   `json:"act"`
	Coach bool     `json:"by_coach,omitempty"`
	Shows []string `json:"shows"`
	Seal  *seal    `json:"seal,omitempty"` // of the signature alone
	Link  string   `json:"link"`
}

type backLine struct {
	N    int    `json:"n"`
	Back int    `json:"taken_back"`
	Link string `json:"link"`
}

// A seal stands in the line of the signature and closes the attempt: how long all that
// stands before the line is, and its digest.
type seal struct {
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
	Ended  string `json:"ended,omitempty"`
}

func sealOf(before []byte, ended time.Time) *seal {
	sum := sha256.Sum256(before)
	return &seal{len(before), hex.EncodeToString(sum[:]), stamp(ended)}
}

// stamp writes a time as a file holds it: UTC, whole seconds; "" for none.
func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(time.RFC3339)
}

// whole is a time as it reads back.
func whole(t time.Time) time.Time {
	if t.IsZero() {
		return time.Time{}
	}
	return t.UTC().Truncate(time.Second)
}

// readStamp reads what stamp writes.
func readStamp(s string) (time.Time, bool) {
	if s == "" {
		return time.Time{}, true
	}
	t, err := time.Parse(time.RFC3339, s)
	if err != nil || stamp(t) != s || t.IsZero() {
		return time.Time{}, false
	}
	return t.UTC(), true
}

// New starts a record of the job of an order and seed. The zero value of terms is free
// practice. familyText is empty for a family that comes with the program and the text of
// its file for another, so that the record stands by itself.
func New(t Terms, o scenarios.Order, familyText string, seed uint64, units quantity.System) *Record {
	r := &Record{Header: Header{scenarios.ModelVersion, o, t, familyText, seed, units, Begin{}}}
	r.link = headLink(r.HeaderLine())
	return r
}

// BeginAt writes into the head of a record without an act when it is begun, and after how
// many others.
func (r *Record) BeginAt(b Begin) {
	if len(r.Entries) > 0 {
		panic("attempt.BeginAt")
	}
	r.Header.Begin = Begin{whole(b.At), b.Earlier}
	r.link = headLink(r.HeaderLine())
}

// Signed tells whether the attempt is closed: its last line is the signature.
func (r *Record) Signed() bool {
	n := len(r.Entries)
	return n > 0 && r.Entries[n-1].seal != nil
}

// HeaderLine returns the record's first line, newline included.
func (r *Record) HeaderLine() []byte {
	h := r.Header
	return line(headerLine{formatName, formatNumber, h.Model, h.Family.Code, h.FamilyText, writeTerms(h.Order, h.Terms), fmt.Sprint(h.Seed), h.Units.String(), stamp(h.At), h.Earlier})
}

// Add is AddAt without a clock.
func (r *Record) Add(o history.Step) []byte { return r.AddAt(o, time.Time{}) }

// AddAt appends an act and what it showed, and returns its line, newline included, for the
// caller to write. at is the time; only a signature keeps it.
func (r *Record) AddAt(o history.Step, at time.Time) []byte { return r.append(entryOf(o), at) }

// AddByCoach is Add of an act that the coach does, to show how.
func (r *Record) AddByCoach(o history.Step) []byte {
	e := entryOf(o)
	e.Coach = true
	return r.append(e, time.Time{})
}

// mostTakenBack is how often acts are taken back in one attempt: each time a replay works
// the job anew up to there.
const mostTakenBack = 100

// MayTakeBack tells whether so many acts can be taken back: on a coached job, of acts that
// stand and none of which signed the job off.
func (r *Record) MayTakeBack(n int) bool {
	standing := r.Standing()
	if r.Header.Help != CoachHelp || n < 1 || n > len(standing) || standing[len(standing)-1].Act.Form == act.SignOff {
		return false
	}
	return r.TakenBack() < mostTakenBack
}

// TakeBack appends that the last so many acts that stand fall away, and returns the line.
// Errors: ErrStands, where MayTakeBack tells that they cannot.
func (r *Record) TakeBack(n int) ([]byte, error) {
	if !r.MayTakeBack(n) {
		return nil, ErrStands
	}
	return r.append(Entry{Back: n}, time.Time{}), nil
}

// append appends an entry and returns its line. A signature is sealed.
func (r *Record) append(e Entry, at time.Time) []byte {
	if e.signs() {
		before, _ := r.written()
		r.Ended = whole(at)
		e.seal = sealOf(before, r.Ended)
	}
	l, link := e.line(len(r.Entries)+1, r.link)
	r.link = link
	r.Entries = append(r.Entries, e)
	return l
}

func entryOf(o history.Step) Entry {
	e := Entry{Act: o.Act, Shows: []string{}}
	for _, reading := range o.Readings {
		e.Shows = append(e.Shows, reading.Code())
	}
	return e
}

func (e Entry) signs() bool { return e.Back == 0 && e.Act.Form == act.SignOff }

// line writes an entry as the n-th line after the head, and links it to the one before.
func (e Entry) line(n int, before string) (l []byte, link string) {
	if e.Back > 0 {
		link = nextLink(before, n, takenBack(e.Back))
		return line(backLine{n, e.Back, link}), link
	}
	x := entryLine{N: n, Act: e.Act.String(), Coach: e.Coach, Shows: e.Shows, Seal: e.seal}
	x.Link = nextLink(before, n, x.says()...)
	return line(x), x.Link
}

// says is what the link of an act's line holds.
func (e entryLine) says() []string {
	says := []string{e.Act, strings.Join(e.Shows, "\n")}
	if e.Coach {
		says = append(says, "by-coach")
	}
	if e.Seal != nil {
		says = append(says, strconv.Itoa(e.Seal.Bytes), e.Seal.SHA256, e.Seal.Ended)
	}
	return says
}

func takenBack(n int) string { return "taken-back=" + strconv.Itoa(n) }

// Standing lists the entries of the acts that have not been taken back.
func (r *Record) Standing() []Entry {
	out := make([]Entry, 0, len(r.Entries))
	for _, e := range r.Entries {
		if e.Back > 0 {
			out = out[:len(out)-e.Back]
			continue
		}
		out = append(out, e)
	}
	return out
}

// Acts returns the acts that stand, in order.
func (r *Record) Acts() []act.Act {
	standing := r.Standing()
	out := make([]act.Act, len(standing))
	for i, e := range standing {
		out[i] = e.Act
	}
	return out
}

// TakenBack counts how often acts were taken back.
func (r *Record) TakenBack() int {
	n := 0
	for _, e := range r.Entries {
		if e.Back > 0 {
			n++
		}
	}
	return n
}

// Bytes returns the whole record as a file holds it.
func (r *Record) Bytes() ([]byte, error) {
	out, link := r.written()
	if link != r.link {
		return nil, &Error{Trouble: ErrDamaged, Why: text.Say("attempt.links", "its acts do not follow from each other")}
	}
	return out, nil
}

// written is the record as a file holds it, and its last link.
func (r *Record) written() (out []byte, link string) {
	out = r.HeaderLine()
	link = headLink(out)
	for i, e := range r.Entries {
		var l []byte
		l, link = e.line(i+1, link)
		out = append(out, l...)
	}
	return out, link
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

// nextLink is the link of the n-th line after the head, which says something, after the one
// before it.
func nextLink(before string, n int, says ...string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n%d\n%s\n", before, n, strings.Join(says, "\n"))
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
	before := len(lines[0])
	for i, l := range lines[1:] {
		why, ok := r.readEntry(l, data[:before])
		before += len(l)
		if !ok {
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
	begun, ok := readStamp(h.Begun)
	if !ok || h.Earlier < 0 {
		return nil, badHead(text.Say("attempt.no-begin", "has no time or number of tries that the program writes"))
	}
	r := New(terms, order, h.File, seed, units)
	r.BeginAt(Begin{begun, h.Earlier})
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

// readEntry reads a line after the head, or says why it cannot. before is all that stands
// before the line.
func (r *Record) readEntry(l, before []byte) (why text.Message, ok bool) {
	if r.Signed() {
		return text.Say("attempt.after-signature", "stands after the signature, which closes an attempt"), false
	}
	var said struct {
		entryLine
		Back *int `json:"taken_back"`
	}
	if err := json.Unmarshal(l, &said); err != nil {
		return text.Say("attempt.unreadable", "cannot be read"), false
	}
	n, says := len(r.Entries)+1, said.says()
	if said.Back != nil {
		says = []string{takenBack(*said.Back)}
	}
	if said.N != n || said.Link != nextLink(r.link, n, says...) {
		return text.Say("attempt.does-not-follow", "does not follow from the line before it"), false
	}
	e := Entry{Shows: said.Shows, Coach: said.Coach, seal: said.Seal}
	if said.Back != nil {
		if !r.MayTakeBack(*said.Back) {
			return text.Say("attempt.no-taking-back", "takes back acts that cannot be taken back"), false
		}
		e = Entry{Back: *said.Back}
	} else {
		a, err := act.Parse(said.Act, r.Header.Units)
		if err != nil {
			return text.Say("attempt.no-act", "has no act of this bench: {why}", text.Of("why", text.Reason(err))), false
		}
		if said.Coach && r.Header.Help != CoachHelp {
			return text.Say("attempt.no-coach", "is an act of a coach, and this attempt has none"), false
		}
		e.Act = a
	}
	if !bytes.HasSuffix(l, []byte("\n")) {
		return text.Say("attempt.no-end", "has no end"), false
	}
	// JSON has many spellings of one line (capitals in a key, spaces, escapes); only
	// the program's own is a line of a record.
	written, link := e.line(n, r.link)
	if e.Back == 0 && e.Shows == nil || !bytes.Equal(written, l) {
		return notAsWritten(), false
	}
	if e.signs() != (e.seal != nil) {
		return text.Say("attempt.no-seal", "is a signature without a seal, or has a seal and is none"), false
	}
	if e.signs() {
		ended, ok := readStamp(e.seal.Ended)
		if !ok || *e.seal != *sealOf(before, ended) {
			return text.Say("attempt.broken-seal", "is a signature of something else than what stands before it"), false
		}
		r.Ended = ended
	}
	r.Entries = append(r.Entries, e)
	r.link = link
	return text.Message{}, true
}

// Replay makes the record's job again and does every act on it. It returns the
// stand as the attempt left it and the outcomes of the acts that stand. An act that was
// taken back is done again too, and must show what it showed; after it the job is as if it
// had never been done. The error wraps ErrNotReproducible when an act cannot be done or
// shows something else than was recorded.
func Replay(r *Record) (scenarios.Job, *sim.Stand, []history.Step, error) {
	job, err := r.Header.Order.Generate(r.Header.Seed)
	if err != nil {
		return scenarios.Job{}, nil, nil, err
	}
	stand, outs, err := ReplayOn(job, r)
	return job, stand, outs, err
}

// ReplayOn is Replay for whoever plays many attempts at one job and has made it: that of the
// record's order and seed.
func ReplayOn(job scenarios.Job, r *Record) (*sim.Stand, []history.Step, error) {
	stand, err := job.Stand()
	if err != nil {
		return nil, nil, err
	}
	outs := make([]history.Step, 0, len(r.Entries))
	fell := false // acts have fallen away that the stand still holds
	for i, e := range r.Entries {
		if e.Back > 0 {
			outs, fell = outs[:max(0, len(outs)-e.Back)], true
			continue
		}
		if fell {
			if stand, err = Again(job, outs); err != nil {
				return stand, outs, err
			}
			fell = false
		}
		o, err := stand.Do(e.Act)
		if err != nil {
			return stand, outs, noReplay(i+1, e.Act, err)
		}
		if !slices.Equal(entryOf(o).Shows, e.Shows) {
			return stand, outs, otherReading(i+1, e.Act)
		}
		outs = append(outs, o)
	}
	if fell {
		stand, err = Again(job, outs)
	}
	return stand, outs, err
}

// Again is a job's stand after some acts that have been done on it: each shows again what it
// showed.
func Again(job scenarios.Job, steps []history.Step) (*sim.Stand, error) {
	stand, err := job.Stand()
	if err != nil {
		return nil, err
	}
	for i, o := range steps {
		if _, err := stand.Do(o.Act); err != nil {
			return stand, noReplay(i+1, o.Act, err)
		}
	}
	return stand, nil
}
