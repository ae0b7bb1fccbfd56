package classroom

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"encoding/csv"
	"errors"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"

	"shimwright/cmd/internal/records"

	"shimwright/sim/text"
)

// How PINs and passphrases are hashed: argon2id, as OWASP's sheet on storing passwords has it
// for 19 MiB.
const (
	hashMemory  = 19 * 1024 // KiB
	hashTime    = 2
	hashThreads = 1
	hashBytes   = 32
	saltBytes   = 16
	hashName    = "argon2id-19456-2-1"
)

func (r *Room) hash(secret string, salt []byte) string {
	r.hashing <- struct{}{}
	defer func() { <-r.hashing }()
	b := base64.RawStdEncoding
	return strings.Join([]string{hashName, b.EncodeToString(salt), b.EncodeToString(argon2.IDKey([]byte(secret), salt, hashTime, hashMemory, hashThreads, hashBytes))}, "$")
}

// Hash is a secret as it is kept.
func (r *Room) Hash(secret string) string {
	salt := make([]byte, saltBytes)
	_, _ = rand.Read(salt) // it does not fail
	return r.hash(secret, salt)
}

// is tells whether a secret is the one that is kept. It takes as long where none is.
func (r *Room) is(secret, hash string) bool {
	parts := strings.Split(hash, "$")
	salt, known := make([]byte, saltBytes), false
	if len(parts) == 3 && parts[0] == hashName {
		if s, err := base64.RawStdEncoding.DecodeString(parts[1]); err == nil {
			salt, known = s, true
		}
	}
	return subtle.ConstantTimeCompare([]byte(r.hash(secret, salt)), []byte(hash)) == 1 && known
}

// letters are those that are told apart when they are read out or copied from a board.
const letters = "abcdefghjkmnpqrstuvwxyz23456789"

// NewCode returns a code or passphrase of so many letters, in groups of four.
func NewCode(n int) string {
	var b strings.Builder
	for i := range n {
		if i > 0 && i%4 == 0 {
			b.WriteByte('-')
		}
		b.WriteByte(letters[draw(uint64(len(letters)))])
	}
	return b.String()
}

// Founded is a class as it was found or founded.
type Founded struct {
	Class      records.Class
	Passphrase string // "" where it was set before
}

// Found returns the class of the records, or founds one in new records. A passphrase that is
// given becomes that of the class; without one a new class gets one of its own, which is told
// this once.
func (r *Room) Found(ctx context.Context, name, passphrase string) (Founded, error) {
	const least = 8
	if passphrase != "" && utf8.RuneCountInString(passphrase) < least {
		return Founded{}, text.Fail(nil, text.Say("classroom.door.passphrase-has-characters-more", "a passphrase has {least} characters or more", text.Count("least", least)))
	}
	c, err := r.Store.Class(ctx)
	switch {
	case errors.Is(err, records.ErrNone):
		f := Founded{Passphrase: passphrase}
		if passphrase == "" {
			f.Passphrase = NewCode(12)
		}
		f.Class = records.Class{Name: records.Plain(name), Code: NewCode(4), Passphrase: r.Hash(f.Passphrase), Made: r.Clock()}
		if f.Class.Name == "" {
			f.Class.Name = r.Printer.Print(text.Say("classroom.door.class", "Class"))
		}
		return f, r.Store.Found(ctx, f.Class)
	case err != nil:
		return Founded{}, err
	}
	if passphrase != "" && !r.is(passphrase, c.Passphrase) {
		c.Passphrase = r.Hash(passphrase)
		if err := errors.Join(r.Store.Refound(ctx, c), r.Store.SignOutAll(ctx, records.Instructor)); err != nil {
			return Founded{}, err
		}
	}
	return Founded{Class: c, Passphrase: passphrase}, nil
}

// How long somebody stays signed in, and how often signing in can be tried within a while:
// by one address for one name, and by all for it. A whole class may have one address.
const (
	staysIn   = 14 * time.Hour
	while     = 10 * time.Minute
	fromOne   = 10
	fromAll   = 60
	fromHere  = 300 // for any name
	pinLeast  = 4
	pinMost   = 32
	mostNamed = 80 // characters of a name
)

// mayTry counts a try to sign in.
func (r *Room) mayTry(ctx context.Context, who, address string) error {
	now := r.Clock()
	for _, t := range []struct {
		who  string
		most int
	}{{"anybody from " + address, fromHere}, {who + " from " + address, fromOne}, {who, fromAll}} {
		ok, err := r.Store.Try(ctx, t.who, now, now.Add(-while), t.most)
		if err != nil {
			return err
		}
		if !ok {
			return ErrTooMany
		}
	}
	return nil
}

func (r *Room) letIn(ctx context.Context, who, tried, address string) (string, error) {
	if err := r.Store.Forgive(ctx, tried+" from "+address); err != nil {
		return "", err
	}
	now := r.Clock()
	return r.Store.SignIn(ctx, who, now, now.Add(staysIn))
}

// Instruct signs the instructor in. Errors: ErrPhrase, ErrTooMany.
func (r *Room) Instruct(ctx context.Context, passphrase, address string) (secret string, err error) {
	const tried = "the instructor"
	if err := r.mayTry(ctx, tried, address); err != nil {
		return "", err
	}
	c, err := r.Store.Class(ctx)
	if err != nil {
		return "", err
	}
	if !r.is(passphrase, c.Passphrase) {
		return "", ErrPhrase
	}
	return r.letIn(ctx, records.Instructor, tried, address)
}

// Join signs a pupil in; the first time the PIN becomes theirs. Errors: ErrDoor, which does
// not tell what was wrong, ErrPIN, ErrTooMany.
func (r *Room) Join(ctx context.Context, code, name, pin, address string) (secret string, err error) {
	tried := "pupil " + records.Folded(records.Plain(name))
	if utf8.RuneCountInString(name) > mostNamed {
		return "", ErrDoor
	}
	if n := utf8.RuneCountInString(pin); n < pinLeast || n > pinMost {
		return "", ErrPIN
	}
	if err := r.mayTry(ctx, tried, address); err != nil {
		return "", err
	}
	c, err := r.Store.Class(ctx)
	if err != nil {
		return "", err
	}
	p, err := r.Store.Named(ctx, name)
	if err != nil && !errors.Is(err, records.ErrNone) {
		return "", err
	}
	known := err == nil
	right := subtle.ConstantTimeCompare([]byte(records.Folded(strings.ReplaceAll(code, "-", ""))), []byte(strings.ReplaceAll(c.Code, "-", ""))) == 1
	if known && right && p.PIN == "" {
		switch err := r.Store.ChoosePIN(ctx, p.ID, r.Hash(pin)); {
		case err == nil:
			return r.letIn(ctx, p.ID, tried, address)
		case !errors.Is(err, records.ErrNone):
			return "", err
		}
		if p, err = r.Store.Pupil(ctx, p.ID); err != nil { // chosen in another place meanwhile
			return "", err
		}
	}
	if !r.is(pin, p.PIN) || !known || !right {
		return "", ErrDoor
	}
	return r.letIn(ctx, p.ID, tried, address)
}

// Enrolled is what came of a roster.
type Enrolled struct {
	Added, There []string
}

// Enroll adds pupils by name; those that the class has stay as they are.
func (r *Room) Enroll(ctx context.Context, names []string) (out Enrolled, err error) {
	const most = 500
	if len(names) > most {
		return out, text.Fail(nil, text.Say("classroom.door.names-once-most", "{names} names at once; {most} at most", text.Count("names", len(names)), text.Count("most", most)))
	}
	for _, name := range names {
		name = records.Plain(name)
		if name == "" {
			continue
		}
		if utf8.RuneCountInString(name) > mostNamed {
			return out, text.Fail(nil, text.Say("classroom.door.name-longer-than-characters", "the name {name}... is longer than {most_named} characters", text.Typed("name", name), text.Count("most_named", mostNamed)))
		}
		switch err := r.Store.Add(ctx, records.Pupil{ID: records.NewID(), Name: name, Added: r.Clock()}); {
		case err == nil:
			out.Added = append(out.Added, name)
		case errors.Is(err, records.ErrThere):
			out.There = append(out.There, name)
		default:
			return out, err
		}
	}
	return out, nil
}

// MostRoster is how long a roster can be, bytes.
const MostRoster = 1 << 20

// Roster reads names from a table: the column "name", or "first name" and "last name", or
// without such a head the first column. Errors: a table that is none, or has no name in it.
func Roster(from io.Reader) ([]string, error) {
	data, err := io.ReadAll(io.LimitReader(from, MostRoster+1))
	if err != nil {
		return nil, err
	}
	if len(data) > MostRoster {
		return nil, text.Fail(nil, text.Say("classroom.door.roster-too-long", "the roster is longer than {most} bytes", text.Count("most", MostRoster)))
	}
	said := strings.TrimPrefix(string(data), "\ufeff")
	if !utf8.ValidString(said) {
		return nil, text.Fail(nil, text.Say("classroom.door.roster-not-utf-8", "the roster is not UTF-8 text: save it as CSV in UTF-8"))
	}
	first, _, _ := strings.Cut(said, "\n")
	in := csv.NewReader(strings.NewReader(said))
	in.FieldsPerRecord, in.LazyQuotes, in.TrimLeadingSpace = -1, true, true
	for _, between := range []rune{';', '\t'} { // as spreadsheets of some countries write it
		if !strings.ContainsRune(first, ',') && strings.ContainsRune(first, between) {
			in.Comma = between
		}
	}
	rows, err := in.ReadAll()
	if err != nil {
		return nil, text.Fail(err, text.Say("classroom.door.roster-no-table", "the roster is no table: {why}", text.Cause("why", err)))
	}
	columns, rest := []int{0}, rows
	if len(rows) > 0 {
		at := map[string]int{}
		for i, c := range rows[0] {
			at[strings.NewReplacer(" ", "", "_", "", "-", "").Replace(records.Folded(c))] = i + 1
		}
		firstName, lastName := max(at["firstname"], at["givenname"]), max(at["lastname"], at["familyname"], at["surname"])
		switch {
		case at["name"] > 0:
			columns, rest = []int{at["name"] - 1}, rows[1:]
		case firstName > 0 && lastName > 0:
			columns, rest = []int{firstName - 1, lastName - 1}, rows[1:]
		}
	}
	var out []string
	for _, row := range rest {
		var words []string
		for _, c := range columns {
			if c < len(row) {
				words = append(words, row[c])
			}
		}
		if name := records.Plain(strings.Join(words, " ")); name != "" {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return nil, text.Fail(nil, text.Say("classroom.door.roster-has-no-name", "the roster has no name in it: one name in each row, under the head name if it has one"))
	}
	return out, nil
}
