package records

import (
	"context"
	"database/sql"
	"encoding/json"
	"strconv"
	"strings"
	"time"
)

// An Assignment is an exercise that is set for the class.
type Assignment struct {
	ID       string
	Exercise string // its name
	Title    string
	File     string            // the text of the exercise
	Families map[string]string // by the names that it gives them: the texts of families that do not come with the program
	Mode     string
	Jobs     int      // how many, counted from 1
	Numbers  []uint64 // of the jobs
	Alike    bool     // everybody works these; else each pupil's are drawn, of the same kind and family
	Tries    int      // at each job; 0 for any number
	Made     time.Time
	Opens    time.Time // zero: at once
	Closes   time.Time // zero: when it is ended
	Ended    time.Time // by hand; zero: not yet
	Returned time.Time // when the debriefs were handed back; zero: not yet
}

// Assign sets an exercise.
func (s *Store) Assign(ctx context.Context, a Assignment) error {
	families, err := json.Marshal(a.Families)
	if err != nil {
		return err
	}
	if err := fit(a.Exercise, a.Title, a.File, string(families), a.Mode); err != nil {
		return err
	}
	numbers := make([]string, len(a.Numbers))
	for i, n := range a.Numbers {
		numbers[i] = strconv.FormatUint(n, 10)
	}
	return s.change(ctx, "INSERT INTO assignments (id, exercise, title, file, families, mode, jobs, numbers, alike, tries, made, opens, closes, ended, returned) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)",
		a.ID, a.Exercise, a.Title, a.File, string(families), a.Mode, a.Jobs, strings.Join(numbers, " "), yes(a.Alike), a.Tries, at(a.Made), at(a.Opens), at(a.Closes), at(a.Ended), at(a.Returned))
}

const assignmentColumns = "SELECT id, exercise, title, file, families, mode, jobs, numbers, alike, tries, made, opens, closes, ended, returned FROM assignments"

func scanAssignment(scan func(...any) error) (a Assignment, err error) {
	var families, numbers string
	var alike, made, opens, closes, ended, returned int64
	if err := scan(&a.ID, &a.Exercise, &a.Title, &a.File, &families, &a.Mode, &a.Jobs, &numbers, &alike, &a.Tries, &made, &opens, &closes, &ended, &returned); err != nil {
		return a, err
	}
	a.Alike = alike == 1
	a.Made, a.Opens, a.Closes, a.Ended, a.Returned = from(made), from(opens), from(closes), from(ended), from(returned)
	for _, n := range strings.Fields(numbers) {
		seed, err := strconv.ParseUint(n, 10, 64)
		if err != nil {
			return a, err
		}
		a.Numbers = append(a.Numbers, seed)
	}
	return a, json.Unmarshal([]byte(families), &a.Families)
}

// Assignments lists what is set, the first set first.
func (s *Store) Assignments(ctx context.Context) ([]Assignment, error) {
	return all(ctx, s.read, scanAssignment, assignmentColumns+" ORDER BY made, id")
}

// Assignment returns one. Errors: ErrNone.
func (s *Store) Assignment(ctx context.Context, id string) (Assignment, error) {
	a, err := scanAssignment(s.read.QueryRowContext(ctx, assignmentColumns+" WHERE id = $1", id).Scan)
	return a, already(err)
}

// Reset changes window, tries, end and hand-back of an assignment, and nothing else.
func (s *Store) Reset(ctx context.Context, a Assignment) error {
	return s.change(ctx, "UPDATE assignments SET tries = $1, opens = $2, closes = $3, ended = $4, returned = $5 WHERE id = $6",
		a.Tries, at(a.Opens), at(a.Closes), at(a.Ended), at(a.Returned), a.ID)
}

// Withdraw deletes an assignment with the attempts at it.
func (s *Store) Withdraw(ctx context.Context, id string) error {
	return s.change(ctx, "DELETE FROM assignments WHERE id = $1", id)
}

// GiveTime gives a pupil so many minutes more at an assignment in all; 0 takes them back.
func (s *Store) GiveTime(ctx context.Context, assignment, pupil string, minutes int) error {
	return s.within(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM extra_time WHERE assignment = $1 AND pupil = $2", assignment, pupil); err != nil || minutes == 0 {
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO extra_time (assignment, pupil, minutes) VALUES ($1, $2, $3)", assignment, pupil, minutes)
		return err
	})
}

// ExtraTime is the minutes that pupils have beyond the others at an assignment.
func (s *Store) ExtraTime(ctx context.Context, assignment string) (map[string]int, error) {
	type given struct {
		pupil   string
		minutes int
	}
	rows, err := all(ctx, s.read, func(scan func(...any) error) (g given, err error) {
		return g, scan(&g.pupil, &g.minutes)
	}, "SELECT pupil, minutes FROM extra_time WHERE assignment = $1", assignment)
	out := map[string]int{}
	for _, g := range rows {
		out[g.pupil] = g.minutes
	}
	return out, err
}

// An Attempt is a pupil's at a job of an assignment, without its acts.
type Attempt struct {
	ID         string
	Pupil      string
	Assignment string // "" of practice on one's own
	Job, Try   int    // counted from 1
	Head       string // the first line of its file
	Acts       int
	Signed     bool
	Refused    int // acts that could not be done since the last that could
	Stage      int // where the job stands, in the callers' count
	Begun      time.Time
	Latest     time.Time // act, done or refused
}

const attemptColumns = "SELECT id, pupil, assignment, job, try, head, acts, signed, refused, stage, begun, latest FROM attempts"

func scanAttempt(scan func(...any) error) (a Attempt, err error) {
	var signed, begun, latest int64
	var assignment sql.NullString
	err = scan(&a.ID, &a.Pupil, &assignment, &a.Job, &a.Try, &a.Head, &a.Acts, &signed, &a.Refused, &a.Stage, &begun, &latest)
	a.Assignment = assignment.String
	a.Signed, a.Begun, a.Latest = signed == 1, from(begun), from(latest)
	return a, err
}

// Begin begins an attempt without acts. Errors: ErrThere for a try that was begun before,
// ErrNone for a pupil or an assignment that is gone.
func (s *Store) Begin(ctx context.Context, a Attempt) error {
	if err := fit(a.Head); err != nil {
		return err
	}
	return s.change(ctx, "INSERT INTO attempts (id, pupil, assignment, job, try, head, acts, signed, refused, stage, begun, latest) VALUES ($1, $2, $3, $4, $5, $6, 0, 0, 0, $7, $8, $9)",
		a.ID, a.Pupil, sql.NullString{String: a.Assignment, Valid: a.Assignment != ""}, a.Job, a.Try, a.Head, a.Stage, at(a.Begun), at(a.Begun))
}

// Attempt returns one. Errors: ErrNone.
func (s *Store) Attempt(ctx context.Context, id string) (Attempt, error) {
	a, err := scanAttempt(s.read.QueryRowContext(ctx, attemptColumns+" WHERE id = $1", id).Scan)
	return a, already(err)
}

// AttemptsOf lists the attempts of a pupil, the one touched last first.
func (s *Store) AttemptsOf(ctx context.Context, pupil string) ([]Attempt, error) {
	return all(ctx, s.read, scanAttempt, attemptColumns+" WHERE pupil = $1 ORDER BY latest DESC, id", pupil)
}

// Latest lists the attempt of each pupil that was touched last.
func (s *Store) Latest(ctx context.Context) ([]Attempt, error) {
	return all(ctx, s.read, scanAttempt, attemptColumns+" AS a WHERE NOT EXISTS (SELECT 1 FROM attempts AS b WHERE b.pupil = a.pupil AND (b.latest > a.latest OR b.latest = a.latest AND b.id > a.id)) ORDER BY id")
}

// AttemptsAt lists the attempts at an assignment, by pupil, job and try.
func (s *Store) AttemptsAt(ctx context.Context, assignment string) ([]Attempt, error) {
	return all(ctx, s.read, scanAttempt, attemptColumns+" WHERE assignment = $1 ORDER BY pupil, job, try", assignment)
}

// Lines returns the acts of an attempt as its file has them, after the first so many.
func (s *Store) Lines(ctx context.Context, attempt string, after int) ([]string, error) {
	return all(ctx, s.read, func(scan func(...any) error) (line string, err error) {
		return line, scan(&line)
	}, "SELECT line FROM acts WHERE attempt = $1 AND n > $2 ORDER BY n", attempt, after)
}

// An Act is a line to append to an attempt.
type Act struct {
	Line  string
	Signs bool // it is the last
	Done  time.Time
}

// Append adds an act to an attempt of so many acts. Errors: StaleError where it has another
// number of them, is signed off, or is gone.
func (s *Store) Append(ctx context.Context, attempt string, acts int, a Act) error {
	if err := fit(a.Line); err != nil {
		return err
	}
	return s.within(ctx, func(tx *sql.Tx) error {
		// Whoever comes second waits here for the first and then finds another number.
		r, err := tx.ExecContext(ctx, "UPDATE attempts SET acts = acts + 1, signed = $1, refused = 0, latest = $2 WHERE id = $3 AND acts = $4 AND signed = 0",
			yes(a.Signs), at(a.Done), attempt, acts)
		if err != nil {
			return err
		}
		if n, err := r.RowsAffected(); err != nil || n == 0 {
			return &StaleError{acts}
		}
		_, err = tx.ExecContext(ctx, "INSERT INTO acts (attempt, n, line, done) VALUES ($1, $2, $3, $4)", attempt, acts+1, a.Line, at(a.Done))
		return err
	})
}

// Reach keeps where the job of an attempt stands.
func (s *Store) Reach(ctx context.Context, attempt string, stage int) error {
	return s.change(ctx, "UPDATE attempts SET stage = $1 WHERE id = $2", stage, attempt)
}

// Refuse counts an act that could not be done.
func (s *Store) Refuse(ctx context.Context, attempt string, now time.Time) error {
	return s.change(ctx, "UPDATE attempts SET refused = refused + 1, latest = $1 WHERE id = $2", at(now), attempt)
}

// An Override is a score that the instructor gives in the place of the grade's, and why.
type Override struct {
	Attempt string
	Score   int
	Reason  string
	Made    time.Time
}

// Override keeps one, in the place of an earlier one.
func (s *Store) Override(ctx context.Context, o Override) error {
	if err := fit(o.Reason); err != nil {
		return err
	}
	return s.within(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM overrides WHERE attempt = $1", o.Attempt); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO overrides (attempt, score, reason, made) VALUES ($1, $2, $3, $4)", o.Attempt, o.Score, o.Reason, at(o.Made))
		return err
	})
}

// Restate takes an override back.
func (s *Store) Restate(ctx context.Context, attempt string) error {
	return s.change(ctx, "DELETE FROM overrides WHERE attempt = $1", attempt)
}

// Overrides lists those of an assignment by attempt.
func (s *Store) Overrides(ctx context.Context, assignment string) (map[string]Override, error) {
	rows, err := all(ctx, s.read, func(scan func(...any) error) (o Override, err error) {
		var made int64
		err = scan(&o.Attempt, &o.Score, &o.Reason, &made)
		o.Made = from(made)
		return o, err
	}, "SELECT attempt, score, reason, overrides.made FROM overrides JOIN attempts ON attempts.id = attempt WHERE assignment = $1", assignment)
	out := map[string]Override{}
	for _, o := range rows {
		out[o.Attempt] = o
	}
	return out, err
}
