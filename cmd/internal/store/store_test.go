package store_test

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/store"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
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
	assert.Contains(t, text.Printer{}.Error(err), "the act could not be kept in "+path)
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
	assert.Contains(t, text.Printer{}.Error(err), path)
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
	assert.Contains(t, text.Printer{}.Error(err), "another session has it open")
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
	assert.Contains(t, text.Printer{}.Error(f.Append([]byte("y\n"))), "moved or deleted")
	other, err := store.Create(path, record())
	require.NoError(t, err)
	defer other.Close()
	assert.Contains(t, text.Printer{}.Error(f.Append([]byte("y\n"))), "another file has taken its place")
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
		assert.Contains(t, text.Printer{}.Error(err), path+": ")
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
	for _, f := range found.Files {
		names, pupils = append(names, f.Name), append(pupils, f.Pupil("job-7"))
	}
	assert.Equal(t, []string{"ann/job-7.jsonl", "bo/job-7.JSONL"}, names)
	assert.Equal(t, []string{"ann", "bo"}, pupils)
	assert.Equal(t, []string{"bo/notes.txt"}, found.Passed)
	for name, want := range map[string]string{"ann-job-7.jsonl": "ann", "shimwright-job-7.jsonl": "shimwright-job-7", "bo-shimwright-job-7.jsonl": "bo", "x.jsonl": "x",
		"ann.zip/job-7.jsonl": "ann", "class.zip/ann/job-7.jsonl": "class/ann", "ann/work.zip/any/job-7.jsonl": "ann", "ann/": "ann", "ann.zip": "ann"} {
		assert.Equal(t, want, store.Handed{Name: name}.Pupil("job-7"), name)
	}
	_, err = store.Find([]string{"class/none"})
	assert.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, os.Mkdir("empty", 0o700))
	_, err = store.Find([]string{"empty"})
	assert.Contains(t, text.Printer{}.Error(err), "no attempt file")
}

// zipped is a zip file of some files.
func zipped(t *testing.T, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range files {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write(data)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// A class's folder in any state: every file is read, or named with the reason, or passed over by
// name; nobody vanishes, and nothing is waited for.
func TestAFolderInAnyState(t *testing.T) {
	dir := t.TempDir()
	rec := record()
	good := append(rec.HeaderLine(), rec.Add(history.Step{Act: act.Act{Form: act.InspectCups}})...)
	put := func(name string, data []byte) {
		t.Helper()
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, data, 0o600))
	}
	put("amy/a.jsonl", good)
	put("bea/a.json", good)
	put("cal/a.jsonl.txt", good)
	put("dot/no-ending", good)
	put("eve/crlf.jsonl", bytes.ReplaceAll(good, []byte("\n"), []byte("\r\n")))
	put("fay/mark.txt", append([]byte("\xef\xbb\xbf"), good...))
	put("gus.zip", zipped(t, map[string][]byte{"a.jsonl": good, "../../out.jsonl": good, "__MACOSX/._a.jsonl": {1}, "notes.txt": []byte("hello")}))
	put("hal/work.zip", zipped(t, map[string][]byte{`deep\a.jsonl`: good}))
	put("ida/broken.zip", []byte("PK no"))
	put("jan/nested.zip", zipped(t, map[string][]byte{"in.zip": {}}))
	put("kim/report.docx", []byte("words"))
	put("leo/foreign.jsonl", []byte("shopping list\n"))
	put("mia/damaged.jsonl", bytes.Replace(good, []byte("cups"), []byte("caps"), 1))
	put("ned/empty.jsonl", nil)
	put("ola/.DS_Store", []byte("x"))
	giant := filepath.Join(dir, "pat", "giant.jsonl")
	put("pat/giant.jsonl", nil)
	require.NoError(t, os.Truncate(giant, 1<<40))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "quy"), 0o700))
	require.NoError(t, os.Symlink(filepath.Join(dir, "amy", "a.jsonl"), filepath.Join(dir, "quy", "link.jsonl")))
	require.NoError(t, os.Symlink(dir, filepath.Join(dir, "quy", "round")))
	pipes(t, filepath.Join(dir, "ray", "pipe.jsonl"))

	found, err := store.Find([]string{dir})
	require.NoError(t, err)
	defer found.Close()
	read, why := map[string]int{}, map[string]string{}
	for _, f := range found.Files {
		rec, err := f.Read()
		if err == nil {
			assert.Len(t, rec.Entries, 1, f.Name)
			read[f.Pupil("")]++
			continue
		}
		var trouble *attempt.Error
		require.ErrorAs(t, err, &trouble, f.Name)
		why[f.Name] = trouble.Why.Code()
	}
	assert.Equal(t, map[string]int{"amy": 1, "bea": 1, "cal": 1, "dot": 1, "eve": 1, "fay": 1, "gus": 2, "hal": 1}, read)
	want := map[string]string{
		"ida/broken.zip": "attempt.not-unpacked", "jan/nested.zip/in.zip": "attempt.zip-in-zip", "kim/": "attempt.none-inside", "leo/foreign.jsonl": "attempt.no-head",
		"mia/damaged.jsonl": "attempt.does-not-follow", "ned/empty.jsonl": "attempt.empty", "ola/": "attempt.none-inside", "pat/giant.jsonl": "attempt.too-large",
		"quy/link.jsonl": "attempt.link", "quy/round": "attempt.link",
	}
	if runtime.GOOS != "windows" {
		want["ray/pipe.jsonl"] = "attempt.no-file"
	}
	assert.Equal(t, want, why)
	assert.Equal(t, []string{"gus.zip/notes.txt", "kim/report.docx"}, found.Passed)

	one, err := store.Find([]string{filepath.Join(dir, "gus.zip")})
	require.NoError(t, err)
	defer one.Close()
	require.Len(t, one.Files, 2)
	assert.Equal(t, "a.jsonl", one.Files[0].Name, "a zip file that is named is a folder")
}

func TestRoster(t *testing.T) {
	path := filepath.Join(t.TempDir(), "roster.csv")
	require.NoError(t, os.WriteFile(path, []byte("\ufeff# our class\r\n\"Ann\",7b\r\n\r\n bo ;8\r\ncy\r\n"), 0o600))
	names, err := store.Roster(path)
	require.NoError(t, err)
	assert.Equal(t, []string{"Ann", "bo", "cy"}, names)
	require.NoError(t, os.WriteFile(path, []byte("# nobody\n"), 0o600))
	_, err = store.Roster(path)
	assert.Contains(t, text.Printer{}.Error(err), "names nobody")
	_, err = store.Roster(filepath.Dir(path))
	assert.Error(t, err)
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
