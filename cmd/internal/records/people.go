package records

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"database/sql"
	"encoding/base32"
	"strings"
	"time"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// Class is the class.
type Class struct {
	Name       string
	Code       string // by which pupils join
	Passphrase string // hashed
	Made       time.Time
}

// Class returns the class. Errors: ErrNone in new records.
func (s *Store) Class(ctx context.Context) (c Class, err error) {
	var made int64
	err = s.read.QueryRowContext(ctx, "SELECT name, code, passphrase, made FROM class").Scan(&c.Name, &c.Code, &c.Passphrase, &made)
	c.Made = from(made)
	return c, already(err)
}

// Found founds the class in new records. Errors: ErrThere.
func (s *Store) Found(ctx context.Context, c Class) error {
	if err := fit(c.Name, c.Code, c.Passphrase); err != nil {
		return err
	}
	return s.change(ctx, "INSERT INTO class (one, name, code, passphrase, made) VALUES (1, $1, $2, $3, $4)", c.Name, c.Code, c.Passphrase, at(c.Made))
}

// Refound changes name, code and passphrase of the class.
func (s *Store) Refound(ctx context.Context, c Class) error {
	if err := fit(c.Name, c.Code, c.Passphrase); err != nil {
		return err
	}
	return s.change(ctx, "UPDATE class SET name = $1, code = $2, passphrase = $3", c.Name, c.Code, c.Passphrase)
}

// A Pupil is one of the class.
type Pupil struct {
	ID    string
	Name  string
	PIN   string // hashed; "" until the pupil has chosen one
	Added time.Time
}

// Folded is a name as it is asked for: neither capitals nor the number of blanks matter.
func Folded(name string) string {
	return cases.Fold().String(norm.NFKC.String(strings.Join(strings.Fields(name), " ")))
}

// Plain is a name with one blank between its words and without what does not print.
func Plain(name string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, ""))
	return norm.NFC.String(strings.Join(strings.Fields(name), " "))
}

// Add adds a pupil. Errors: ErrThere for a name that the class has.
func (s *Store) Add(ctx context.Context, p Pupil) error {
	name := Plain(p.Name)
	if err := fit(p.ID, p.PIN); err != nil {
		return err
	}
	return s.change(ctx, "INSERT INTO pupils (id, name, asked, pin, added) VALUES ($1, $2, $3, $4, $5)", p.ID, name, Folded(name), p.PIN, at(p.Added))
}

const pupilColumns = "SELECT id, name, pin, added FROM pupils"

func scanPupil(scan func(...any) error) (p Pupil, err error) {
	var added int64
	err = scan(&p.ID, &p.Name, &p.PIN, &added)
	p.Added = from(added)
	return p, err
}

// Pupils lists the class by name.
func (s *Store) Pupils(ctx context.Context) ([]Pupil, error) {
	return all(ctx, s.read, scanPupil, pupilColumns+" ORDER BY asked, id")
}

// Pupil returns a pupil. Errors: ErrNone.
func (s *Store) Pupil(ctx context.Context, id string) (Pupil, error) {
	p, err := scanPupil(s.read.QueryRowContext(ctx, pupilColumns+" WHERE id = $1", id).Scan)
	return p, already(err)
}

// Named returns the pupil of a name. Errors: ErrNone.
func (s *Store) Named(ctx context.Context, name string) (Pupil, error) {
	p, err := scanPupil(s.read.QueryRowContext(ctx, pupilColumns+" WHERE asked = $1", Folded(Plain(name))).Scan)
	return p, already(err)
}

// Rename gives a pupil another name. Errors: ErrNone, ErrThere.
func (s *Store) Rename(ctx context.Context, id, name string) error {
	name = Plain(name)
	return s.change(ctx, "UPDATE pupils SET name = $1, asked = $2 WHERE id = $3", name, Folded(name), id)
}

// ChoosePIN keeps the PIN of a pupil who has none. Errors: ErrNone where there is one.
func (s *Store) ChoosePIN(ctx context.Context, id, hash string) error {
	return s.change(ctx, "UPDATE pupils SET pin = $1 WHERE id = $2 AND pin = ''", hash, id)
}

// ClearPIN takes a pupil's PIN away, and signs the pupil out everywhere.
func (s *Store) ClearPIN(ctx context.Context, id string) error {
	return s.within(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "UPDATE pupils SET pin = '' WHERE id = $1", id); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE who = $1", id)
		return err
	})
}

// Remove deletes a pupil with all that is kept of them.
func (s *Store) Remove(ctx context.Context, id string) error {
	err := s.within(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE who = $1", id); err != nil {
			return err
		}
		r, err := tx.ExecContext(ctx, "DELETE FROM pupils WHERE id = $1", id)
		if err != nil {
			return err
		}
		if n, err := r.RowsAffected(); err != nil || n == 0 {
			return sql.ErrNoRows
		}
		return nil
	})
	if err != nil || s.server {
		return err
	}
	// The log beside the file would hold the name until it is next written over.
	_, err = s.write.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	return err
}

// The instructor signs in under this name; pupils do under their ids, which are longer.
const Instructor = "instructor"

// mark is what is kept of a secret that a browser holds.
func mark(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(sum[:])
}

// SignIn returns a secret by which somebody is known until a time.
func (s *Store) SignIn(ctx context.Context, who string, now, until time.Time) (secret string, err error) {
	secret = NewID()
	return secret, s.within(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE until < $1", at(now)); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO sessions (mark, who, until) VALUES ($1, $2, $3)", mark(secret), who, at(until))
		return err
	})
}

// Who tells whose a secret is. Errors: ErrNone for one that is nobody's any more.
func (s *Store) Who(ctx context.Context, secret string, now time.Time) (who string, err error) {
	m := mark(secret)
	var kept string
	err = s.read.QueryRowContext(ctx, "SELECT mark, who FROM sessions WHERE mark = $1 AND until > $2", m, at(now)).Scan(&kept, &who)
	if err == nil && subtle.ConstantTimeCompare([]byte(m), []byte(kept)) != 1 {
		err = sql.ErrNoRows
	}
	return who, already(err)
}

// SignOut forgets a secret.
func (s *Store) SignOut(ctx context.Context, secret string) error {
	_, err := s.write.ExecContext(ctx, "DELETE FROM sessions WHERE mark = $1", mark(secret))
	return err
}

// SignOutAll forgets every secret of somebody.
func (s *Store) SignOutAll(ctx context.Context, who string) error {
	_, err := s.write.ExecContext(ctx, "DELETE FROM sessions WHERE who = $1", who)
	return err
}

// Try counts an attempt to sign in as somebody, unless so many were counted since a time;
// ok tells that it may go on. It counts before it is known whether the secret is right, so
// that many at once are no way around it.
func (s *Store) Try(ctx context.Context, who string, now, since time.Time, most int) (ok bool, err error) {
	err = s.within(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM failures WHERE at < $1", at(since)); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO failures (who, at) VALUES ($1, $2)", who, at(now)); err != nil {
			return err
		}
		var n int
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM failures WHERE who = $1", who).Scan(&n); err != nil {
			return err
		}
		ok = n <= most
		return nil
	})
	return ok, err
}

// Forgive forgets the attempts to sign in as somebody.
func (s *Store) Forgive(ctx context.Context, who string) error {
	_, err := s.write.ExecContext(ctx, "DELETE FROM failures WHERE who = $1", who)
	return err
}
