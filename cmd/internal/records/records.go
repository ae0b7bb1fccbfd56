// Package records keeps the records of one class in a database: its pupils, what is set for
// them, their attempts act by act, and who is signed in. The database is a file (SQLite) or
// a server (PostgreSQL) that several of our servers share; the same tables and the same
// statements serve both.
//
// An act is appended under the number of acts that its writer knows of: one that comes
// second is told so and changes nothing. What Append has returned nil for is on the disk.
//
// Only rows are kept here. Who may do what, and when, is for the callers to say; nothing is
// known of axles, and passphrases and PINs come hashed.
package records

import (
	"context"
	"crypto/rand"
	"database/sql"
	"embed"
	"errors"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
	"modernc.org/sqlite"

	"shimwright/sim/text"
)

//go:embed schema/*.sql
var schema embed.FS

// Store is the records of a class.
type Store struct {
	write, read *sql.DB // the same but for a file, which has one writer
	server      bool
}

// IsServer tells whether a place is that of a database server and not a file's.
func IsServer(place string) bool {
	return strings.HasPrefix(place, "postgres://") || strings.HasPrefix(place, "postgresql://")
}

// Open opens the records in a file, which is made where there is none, or on a server, and
// brings their tables up to date.
func Open(ctx context.Context, place string) (*Store, error) {
	s, err := connect(place)
	if err != nil {
		return nil, err
	}
	if err := s.migrate(ctx); err != nil {
		s.Close()
		return nil, text.Fail(err, text.Say("records.records-class-cannot-be", "the records of the class in {shown} cannot be opened: {why}", text.Typed("shown", Shown(place)), text.Cause("why", err)))
	}
	return s, nil
}

// Shown is a place as it can be shown: without a password.
func Shown(place string) string {
	if u, err := url.Parse(place); IsServer(place) && err == nil {
		return u.Redacted()
	}
	return place
}

func connect(place string) (*Store, error) {
	if IsServer(place) {
		db, err := sql.Open("pgx", place)
		if err != nil {
			return nil, err
		}
		const most = 16 // a server of ours has few cores
		db.SetMaxOpenConns(most)
		db.SetMaxIdleConns(most)
		return &Store{db, db, true}, nil
	}
	// Names and marks are for nobody else on this machine.
	f, err := os.OpenFile(place, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, text.Fail(err, text.Say("records.records-class-cannot-be-2", "the records of the class cannot be kept: {why}", text.Cause("why", err)))
	}
	if err := f.Close(); err != nil {
		return nil, err
	}
	write, err := file(place, "immediate")
	if err != nil {
		return nil, err
	}
	write.SetMaxOpenConns(1) // writers wait for each other here and not in the file, where the wait is longer
	read, err := file(place, "deferred&_pragma=query_only(1)")
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	const readers = 4
	read.SetMaxOpenConns(readers)
	read.SetMaxIdleConns(readers)
	return &Store{write, read, false}, nil
}

// file opens a file. Every connection gets its pragmas from the address: an act that has
// been answered is on the disk, and a deleted name is not left in free pages.
func file(path, lock string) (*sql.DB, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	u := url.URL{Scheme: "file", Path: "/" + strings.TrimPrefix(filepath.ToSlash(whole), "/")} // a drive's letter has none
	return sql.Open("sqlite", u.String()+"?_pragma=busy_timeout(10000)&_pragma=journal_mode(wal)&_pragma=synchronous(full)&_pragma=foreign_keys(1)&_pragma=secure_delete(1)&_txlock="+lock)
}

func (s *Store) migrate(ctx context.Context) error {
	files, err := fs.Sub(schema, "schema")
	if err != nil {
		return err
	}
	dialect, options := goose.DialectSQLite3, []goose.ProviderOption(nil)
	if s.server {
		dialect = goose.DialectPostgres
		const second, most = 1, 60
		only, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(second, most)) // several of our servers may begin at once
		if err != nil {
			return err
		}
		options = append(options, goose.WithSessionLocker(only))
	}
	p, err := goose.NewProvider(dialect, s.write, files, options...)
	if err != nil {
		return err
	}
	_, err = p.Up(ctx)
	return err
}

// Close closes the records.
func (s *Store) Close() error {
	if s.server {
		return s.write.Close()
	}
	return errors.Join(s.read.Close(), s.write.Close())
}

// NewID returns a name for a row that nobody can guess.
func NewID() string { return strings.ToLower(rand.Text()) }

// Errors that callers go by.
var (
	ErrNone  = text.Fail(nil, text.Say("records.there-none-such-records", "there is none such in the records of the class"))
	ErrThere = text.Fail(nil, text.Say("records.records-class-already", "it is in the records of the class already"))
	ErrText  = text.Fail(nil, text.Say("records.name-text-holds-what", "a name or a text holds what cannot be kept"))
)

// A StaleError says that others have added to an attempt.
type StaleError struct{ Expected int }

func (e *StaleError) Error() string { return e.Tell().Code() }

// Tell says it to people.
func (e *StaleError) Tell() text.Message {
	return text.Say("records.stale", "the attempt does not stand at {n} acts any more: it was worked in another place", text.Count("n", e.Expected))
}

// at and from turn times into what a row holds and back.
func at(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMicro()
}

func from(us int64) time.Time {
	if us == 0 {
		return time.Time{}
	}
	return time.UnixMicro(us).UTC()
}

func yes(b bool) int64 {
	if b {
		return 1
	}
	return 0
}

// fit says whether texts can be kept in every database.
func fit(texts ...string) error {
	for _, t := range texts {
		if strings.ContainsRune(t, 0) || strings.ToValidUTF8(t, "") != t {
			return ErrText
		}
	}
	return nil
}

// already turns the error of a row that is there into ErrThere, and that of a row whose
// owner is gone into ErrNone.
func already(err error) error {
	const (
		unique, foreign             = "23505", "23503" // PostgreSQL
		fileUnique, filePrimary, fk = 2067, 1555, 787  // SQLite
	)
	var pg *pgconn.PgError
	var lite *sqlite.Error
	switch {
	case errors.As(err, &pg) && pg.Code == unique, errors.As(err, &lite) && (lite.Code() == fileUnique || lite.Code() == filePrimary):
		return ErrThere
	case errors.As(err, &pg) && pg.Code == foreign, errors.As(err, &lite) && lite.Code() == fk:
		return ErrNone
	case errors.Is(err, sql.ErrNoRows):
		return ErrNone
	}
	return err
}

// change runs one statement that has to change a row. Errors: ErrNone where it did not.
func (s *Store) change(ctx context.Context, statement string, args ...any) error {
	r, err := s.write.ExecContext(ctx, statement, args...)
	if err != nil {
		return already(err)
	}
	n, err := r.RowsAffected()
	if err == nil && n == 0 {
		err = ErrNone
	}
	return err
}

// within runs a transaction.
func (s *Store) within(ctx context.Context, do func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := do(tx); err != nil {
		return errors.Join(already(err), tx.Rollback())
	}
	return tx.Commit()
}

// all reads the rows of a query.
func all[T any](ctx context.Context, db *sql.DB, scan func(func(...any) error) (T, error), query string, args ...any) ([]T, error) {
	rows, err := db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		row, err := scan(rows.Scan)
		if err != nil {
			return nil, err
		}
		out = append(out, row)
	}
	return out, rows.Err()
}
