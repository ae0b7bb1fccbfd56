package store_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/store"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

func record() *attempt.Record {
	return attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch)
}

func TestAnAttemptIsCreatedOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	_, err := store.Read(path)
	assert.ErrorIs(t, err, os.ErrNotExist)
	f, err := store.Create(path, record())
	require.NoError(t, err)
	require.NoError(t, f.Close())
	rec, err := store.Read(path)
	require.NoError(t, err)
	assert.Equal(t, record(), rec)
	_, err = store.Create(path, record())
	assert.Equal(t, exit.Misused, exit.Status(err))
}

// A file that is closed stands in for a disk that takes no more; faults_test.go has the others.
func TestWhatCannotBeKeptIsSaid(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	f, err := store.Create(path, record())
	require.NoError(t, err)
	require.NoError(t, f.Close())
	err = f.Append([]byte("x\n"))
	assert.ErrorContains(t, err, "the act could not be kept in "+path)
	assert.Equal(t, exit.Failed, exit.Status(err))
	_, err = store.Read(path)
	assert.NoError(t, err, "the file is as it was")
}

// A second bench on a file is refused before it can do anything, and let in when the first has
// left. What writes without asking is noticed before the next act.
func TestASecondWriterIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	a, err := store.Create(path, record())
	require.NoError(t, err)
	_, _, _, err = store.Open(path)
	assert.ErrorIs(t, err, store.ErrInUse)
	assert.ErrorContains(t, err, path)
	_, err = store.Mend(path, record())
	assert.ErrorIs(t, err, store.ErrInUse)
	_, err = store.Read(path)
	assert.NoError(t, err, "it can be read meanwhile")
	require.NoError(t, a.Close())
	b, rec, torn, err := store.Open(path)
	require.NoError(t, err)
	defer b.Close()
	assert.Equal(t, record(), rec)
	assert.Zero(t, torn)
	require.NoError(t, b.Append([]byte("x\n")))
	other, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	defer other.Close()
	_, err = other.WriteString("y\n")
	require.NoError(t, err)
	err = b.Append([]byte("z\n"))
	assert.ErrorIs(t, err, store.ErrElsewhere)
	assert.ErrorContains(t, err, "another session has it open")
}

// A torn last line is cut off, and said, when the file is opened again; the file is whole then.
func TestATornLineIsCutOff(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	head := string(record().HeaderLine())
	require.NoError(t, os.WriteFile(path, []byte(head+`{"n":1`), 0o600))
	f, rec, torn, err := store.Open(path)
	require.NoError(t, err)
	assert.Equal(t, record(), rec)
	assert.EqualValues(t, len(`{"n":1`), torn)
	require.NoError(t, f.Append([]byte("x\n")))
	require.NoError(t, f.Close())
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, head+"x\n", string(now))
	_, _, _, err = store.Open(path)
	assert.ErrorIs(t, err, attempt.ErrDamaged, "a line that is whole and wrong is not cut off")
}

// What is rescued never takes the place of anything.
func TestRescueWritesBeside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	for _, name := range []string{"job.rescued-1.jsonl", "job.rescued-2.jsonl"} {
		beside, err := store.Rescue(path, record().HeaderLine())
		require.NoError(t, err)
		assert.Equal(t, name, filepath.Base(beside))
		rec, err := store.Read(beside)
		require.NoError(t, err)
		assert.Equal(t, record(), rec)
	}
}

// A file that is deleted or replaced under the bench takes no act that would go nowhere.
func TestAFileThatIsGoneIsNoticed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	f, err := store.Create(path, record())
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, f.Append([]byte("x\n")))
	require.NoError(t, os.Rename(path, path+".aside"))
	assert.ErrorContains(t, f.Append([]byte("y\n")), "moved or deleted")
	other, err := store.Create(path, record())
	require.NoError(t, err)
	defer other.Close()
	assert.ErrorContains(t, f.Append([]byte("y\n")), "another file has taken its place")
	require.NoError(t, os.Rename(path+".aside", path))
	assert.NoError(t, f.Append([]byte("y\n")), "it is its own file again")
}

func TestMendingKeepsTheOldFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	head := string(record().HeaderLine())
	for _, name := range []string{"job.jsonl.before-mending", "job.jsonl.before-mending-2"} {
		require.NoError(t, os.WriteFile(path, []byte(head+`{"n":1`), 0o600))
		rec, err := store.Read(path)
		require.ErrorIs(t, err, attempt.ErrCutShort)
		assert.ErrorContains(t, err, path+": ")
		assert.NotContains(t, store.Unnamed(err).Error(), path)
		aside, err := store.Mend(path, rec)
		require.NoError(t, err)
		assert.Equal(t, name, filepath.Base(aside))
		old, err := os.ReadFile(aside)
		require.NoError(t, err)
		assert.Equal(t, head+`{"n":1`, string(old))
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, head, string(now))
	}
}

// An interrupted write leaves the file as it was and nothing beside it.
func TestFilesAreWholeOrNotThere(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "kept.csv")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	err := store.WriteWhole(path, func(w io.Writer) error {
		_, _ = io.WriteString(w, "half")
		return io.ErrShortWrite
	})
	require.ErrorIs(t, err, io.ErrShortWrite)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "old", string(text))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
	assert.ErrorIs(t, store.WriteNew(path, []byte("new"), 0o600), os.ErrExist)
}

func TestFilesOfAClass(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"class/ann/job-7.jsonl", "class/bo/job-7.JSONL", "class/bo/notes.txt"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o700))
		require.NoError(t, os.WriteFile(name, nil, 0o600))
	}
	found, err := store.Find([]string{"class/bo", "class", "class/ann/job-7.jsonl"})
	require.NoError(t, err)
	var names, pupils []string
	for _, f := range found {
		names, pupils = append(names, f.Name), append(pupils, f.Pupil("job-7"))
	}
	assert.Equal(t, []string{"ann/job-7.jsonl", "bo/job-7.JSONL"}, names)
	assert.Equal(t, []string{"ann", "bo"}, pupils)
	for name, want := range map[string]string{"ann-job-7.jsonl": "ann", "shimwright-job-7.jsonl": "shimwright-job-7", "bo-shimwright-job-7.jsonl": "bo", "x.jsonl": "x"} {
		assert.Equal(t, want, store.Handed{Name: name}.Pupil("job-7"), name)
	}
	_, err = store.Find([]string{"class/none"})
	assert.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, os.Mkdir("empty", 0o700))
	_, err = store.Find([]string{"empty"})
	assert.ErrorContains(t, err, "no attempt file")
}

// A pipe is not waited for.
func TestOnlyFilesAreRead(t *testing.T) {
	for _, path := range []string{os.DevNull, t.TempDir()} {
		_, err := store.Handed{Path: path}.Read()
		_, _, _, opened := store.Open(path)
		assert.ErrorIs(t, opened, attempt.ErrForeign, path)
		var trouble *attempt.Error
		require.ErrorAs(t, err, &trouble, path)
		assert.ErrorIs(t, err, attempt.ErrForeign, path)
		assert.Equal(t, "attempt.no-file", trouble.Why.Code(), path)
	}
}
