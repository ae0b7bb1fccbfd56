package records

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"shimwright/sim/text"
)

// A table is one whose rows a backup holds, in an order in which they can be put back. Who is
// signed in is no part of it.
type table struct {
	name    string
	columns []string
}

func tables() []table {
	return []table{
		{"class", []string{"one", "name", "code", "passphrase", "made"}},
		{"pupils", []string{"id", "name", "asked", "pin", "added"}},
		{"assignments", []string{"id", "exercise", "title", "file", "families", "mode", "jobs", "numbers", "alike", "tries", "made", "opens", "closes", "ended", "returned"}},
		{"extra_time", []string{"assignment", "pupil", "minutes"}},
		{"attempts", []string{"id", "pupil", "assignment", "job", "try", "head", "acts", "signed", "refused", "stage", "begun", "latest"}},
		{"acts", []string{"attempt", "n", "line", "done"}},
		{"overrides", []string{"attempt", "score", "reason", "made"}},
	}
}

// Backup writes the records, as they are at one moment, to a new file: a database file of
// its own, whichever database they are kept in, so that a class can move. The class may go
// on meanwhile. Errors: os.ErrExist.
func (s *Store) Backup(ctx context.Context, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s: %w", path, os.ErrExist)
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".backup-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	whole := filepath.Join(dir, "class.db")
	if err := s.copyTo(ctx, whole); err != nil {
		return err
	}
	if err := os.Chmod(whole, 0o600); err != nil {
		return err
	}
	return os.Rename(whole, path)
}

func (s *Store) copyTo(ctx context.Context, path string) (err error) {
	out, err := Open(ctx, path)
	if err != nil {
		return err
	}
	defer func() {
		if _, e := out.write.ExecContext(ctx, "PRAGMA journal_mode(delete)"); e != nil { // one file, and nothing beside it
			err = errors.Join(err, e)
		}
		err = errors.Join(err, out.Close())
	}()
	return copyRows(ctx, s, out)
}

// copyRows copies every row as it is at one moment.
func copyRows(ctx context.Context, s, out *Store) error {
	moment, err := s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: s.server, Isolation: s.snapshot()})
	if err != nil {
		return err
	}
	defer moment.Rollback() //nolint:errcheck // nothing was written
	return out.within(ctx, func(tx *sql.Tx) error {
		for _, t := range tables() {
			if err := t.copy(ctx, moment, tx); err != nil {
				return fmt.Errorf("%s: %w", t.name, err)
			}
		}
		return nil
	})
}

// snapshot is the isolation under which all that is read is of one moment.
func (s *Store) snapshot() sql.IsolationLevel {
	if s.server {
		return sql.LevelRepeatableRead
	}
	return sql.LevelDefault // a file's is always so
}

func (t table) copy(ctx context.Context, from, to *sql.Tx) error {
	rows, err := from.QueryContext(ctx, "SELECT "+strings.Join(t.columns, ", ")+" FROM "+t.name)
	if err != nil {
		return err
	}
	defer rows.Close()
	marks := make([]string, len(t.columns))
	for i := range marks {
		marks[i] = fmt.Sprintf("$%d", i+1)
	}
	add, err := to.PrepareContext(ctx, "INSERT INTO "+t.name+" ("+strings.Join(t.columns, ", ")+") VALUES ("+strings.Join(marks, ", ")+")")
	if err != nil {
		return err
	}
	defer add.Close()
	for rows.Next() {
		row, into := make([]any, len(t.columns)), make([]any, len(t.columns))
		for i := range row {
			into[i] = &row[i]
		}
		if err := rows.Scan(into...); err != nil {
			return err
		}
		if _, err := add.ExecContext(ctx, row...); err != nil {
			return err
		}
	}
	return rows.Err()
}

// ErrNotEmpty is returned for records that hold a class.
var ErrNotEmpty = text.Fail(nil, text.Say("records.backup.these-records-hold-class", "these records hold a class already"))

// Restore reads a backup into these records. Errors: a file that is no backup, and
// ErrNotEmpty, unless the class they hold is to be replaced; then nothing is changed.
func (s *Store) Restore(ctx context.Context, path string, replace bool) error {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return errors.Join(err, text.Fail(nil, text.Say("records.backup.no-backup-class", "{path} is no backup of a class", text.Typed("path", path))))
	}
	// A copy is opened: an older backup is brought up to date, and the file stays as it is.
	dir, err := os.MkdirTemp("", "restore-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	held, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	copied := filepath.Join(dir, "class.db")
	if err := os.WriteFile(copied, held, 0o600); err != nil {
		return err
	}
	in, err := Open(ctx, copied)
	if err != nil {
		return text.Fail(err, text.Say("records.backup.no-backup-class-2", "{path} is no backup of a class: {why}", text.Typed("path", path), text.Cause("why", err)))
	}
	defer in.Close()
	if _, err := in.Class(ctx); err != nil {
		return text.Fail(err, text.Say("records.backup.no-backup-class-2", "{path} is no backup of a class: {why}", text.Typed("path", path), text.Cause("why", err)))
	}
	if _, err := s.Class(ctx); err == nil && !replace {
		return ErrNotEmpty
	}
	moment, err := in.read.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer moment.Rollback() //nolint:errcheck // nothing was written
	return s.within(ctx, func(tx *sql.Tx) error {
		for _, name := range []string{"sessions", "failures", "overrides", "acts", "attempts", "extra_time", "assignments", "pupils", "class"} {
			if _, err := tx.ExecContext(ctx, "DELETE FROM "+name); err != nil {
				return err
			}
		}
		for _, t := range tables() {
			if err := t.copy(ctx, moment, tx); err != nil {
				return fmt.Errorf("%s: %w", t.name, err)
			}
		}
		return nil
	})
}
