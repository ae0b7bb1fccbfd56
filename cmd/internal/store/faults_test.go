package store

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A fault is what happens at one call of the disk.
type fault string

const (
	fails       fault = "the call fails"              // and does nothing; the calls after it go on
	noSpace     fault = "no space for half of it"     // a write writes half; any other call fails
	crashBefore fault = "the machine stops before it" // no call after it does anything, and what was not synced is gone
	crashAfter  fault = "the machine stops after it"
)

var errCrash = errors.New("the machine has stopped")

// faulty is a disk on which one call, counted from 1, goes wrong.
type faulty struct {
	system
	at      int
	what    fault
	n       int
	crashed bool
	files   []*faultyHandle
}

// call is asked before every call; do is what the call does.
func (d *faulty) call(do func() error) error {
	if d.crashed {
		return errCrash
	}
	d.n++
	if d.n != d.at {
		return do()
	}
	switch d.what {
	case crashBefore:
		d.crash()
		return errCrash
	case crashAfter:
		_ = do()
		d.crash()
		return errCrash
	}
	return syscall.EIO
}

// crash loses what was written and not synced, and every lock.
func (d *faulty) crash() {
	d.crashed = true
	for _, h := range d.files {
		if info, err := h.File.Stat(); err == nil && info.Size() > h.synced {
			_ = h.File.Truncate(h.synced)
		}
		_ = h.File.Close()
	}
}

func (d *faulty) opened(h handle, err error) (handle, error) {
	if err != nil {
		return nil, err
	}
	f := &faultyHandle{File: h.(*os.File), disk: d}
	if info, err := f.File.Stat(); err == nil {
		f.synced = info.Size()
	}
	d.files = append(d.files, f)
	return f, nil
}

func (d *faulty) open(path string, flag int, mode fs.FileMode) (h handle, err error) {
	errCall := d.call(func() error { h, err = d.opened(d.system.open(path, flag, mode)); return err })
	return h, errCall
}

func (d *faulty) temp(folder string) (h handle, err error) {
	errCall := d.call(func() error { h, err = d.opened(d.system.temp(folder)); return err })
	return h, errCall
}

func (d *faulty) stat(path string) (info fs.FileInfo, err error) {
	errCall := d.call(func() error { info, err = d.system.stat(path); return err })
	return info, errCall
}

func (d *faulty) link(from, to string) error {
	return d.call(func() error { return d.system.link(from, to) })
}

func (d *faulty) rename(from, to string) error {
	return d.call(func() error { return d.system.rename(from, to) })
}

func (d *faulty) remove(path string) error {
	return d.call(func() error { return d.system.remove(path) })
}

func (d *faulty) chmod(path string, mode fs.FileMode) error {
	return d.call(func() error { return d.system.chmod(path, mode) })
}

func (d *faulty) syncFolder(folder string) error {
	return d.call(func() error { return d.system.syncFolder(folder) })
}

type faultyHandle struct {
	*os.File
	disk   *faulty
	synced int64
}

func (h *faultyHandle) Write(p []byte) (n int, err error) {
	if h.disk.what == noSpace && !h.disk.crashed && h.disk.n+1 == h.disk.at {
		h.disk.n++
		n, _ = h.File.Write(p[:len(p)/2])
		return n, syscall.ENOSPC
	}
	errCall := h.disk.call(func() error { n, err = h.File.Write(p); return err })
	return n, errCall
}

func (h *faultyHandle) Read(p []byte) (n int, err error) {
	errCall := h.disk.call(func() error { n, err = h.File.Read(p); return err })
	return n, errCall
}

func (h *faultyHandle) Sync() error {
	return h.disk.call(func() error {
		info, err := h.File.Stat()
		if err == nil {
			h.synced = info.Size()
		}
		return err
	})
}

func (h *faultyHandle) Truncate(size int64) error {
	return h.disk.call(func() error { return h.File.Truncate(size) })
}

// Close lets the lock go, whatever is said of it.
func (h *faultyHandle) Close() error {
	if h.disk.crashed {
		return errCrash
	}
	return h.disk.call(func() error { return nil })
}

func newRecord() *attempt.Record {
	return attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch)
}

// is tells whether a file holds exactly that; nil: whether there is none.
func is(path string, want []byte) bool {
	got, err := os.ReadFile(path)
	if want == nil {
		return errors.Is(err, fs.ErrNotExist)
	}
	return err == nil && bytes.Equal(got, want)
}

// Whatever goes wrong at whatever call of any writer, the file is afterwards as it was before
// or as it was to be, and what was said to be kept is.
func TestAFileIsOldOrNewWhateverGoesWrong(t *testing.T) {
	rec := newRecord()
	head := rec.HeaderLine()
	more := newRecord()
	line := more.Add(history.Step{Act: act.Act{Form: act.InspectCups}})
	grown := append(bytes.Clone(head), line...)
	spoiled := append(bytes.Clone(grown), "spoiled\n"...)
	torn := append(bytes.Clone(grown), `{"n":2,`...)
	old := []byte("old")
	whole := bytes.Repeat([]byte("new"), 6)

	for name, c := range map[string]struct {
		before, after []byte
		do            func(on disk, path string) error
		settle        bool // the file is opened again, as the next sitting does
		more          func(t *testing.T, path string)
	}{
		"a new attempt": {nil, head, func(on disk, path string) error {
			_, err := create(on, path, newRecord())
			return err
		}, false, nil},
		"an act": {head, grown, func(on disk, path string) error {
			f, _, _, err := open(on, path)
			if err != nil {
				return err
			}
			return f.Append(line)
		}, true, nil},
		"a torn line cut off": {torn, grown, func(on disk, path string) error {
			_, _, _, err := open(on, path)
			return err
		}, false, nil},
		"mending": {spoiled, grown, func(on disk, path string) error {
			_, err := mend(on, path, more)
			return err
		}, false, func(t *testing.T, path string) {
			if is(path, grown) {
				assert.True(t, is(path+".before-mending", spoiled), "mended, and what it was is gone")
			}
		}},
		"a file in the place of another": {old, whole, func(on disk, path string) error {
			return writeWhole(on, path, func(w io.Writer) error {
				for part := range bytes.SplitSeq(whole, []byte("w")) {
					if _, err := w.Write(part); err != nil {
						return err
					}
				}
				return nil
			})
		}, false, nil},
		"a new file": {nil, whole, func(on disk, path string) error { return writeNew(on, path, 0o600, whole) }, false, nil},
	} {
		after := c.after
		if name == "a file in the place of another" {
			after = bytes.ReplaceAll(whole, []byte("w"), nil)
		}
		cases := 0
		for _, what := range []fault{fails, noSpace, crashBefore, crashAfter} {
			for at := 1; ; at++ {
				path := filepath.Join(t.TempDir(), "file.jsonl")
				if c.before != nil {
					require.NoError(t, os.WriteFile(path, c.before, 0o600))
				}
				d := &faulty{at: at, what: what}
				err := c.do(d, path)
				if d.n < at {
					require.NoError(t, err, name)
					assert.True(t, is(path, after), name)
					break
				}
				cases++
				for _, h := range d.files {
					_ = h.File.Close() // the process ends
				}
				if c.settle {
					if f, _, _, err := Open(path); assert.NoError(t, err, "%s, call %d: %s", name, at, what) {
						_ = f.Close()
					}
				}
				if !is(path, c.before) && !is(path, after) {
					got, _ := os.ReadFile(path)
					t.Errorf("%s, call %d: %s: neither old nor new: %q", name, at, what, got)
				}
				if err == nil {
					assert.True(t, is(path, after), "%s, call %d: %s: said to be kept and is not", name, at, what)
				}
				if c.more != nil {
					c.more(t, path)
				}
			}
		}
		t.Logf("%s: %d cases", name, cases)
		assert.GreaterOrEqual(t, cases, 12, name)
	}
}

// Of a line that the disk had no room for nothing is left, and the next one follows.
func TestALineWithoutRoomLeavesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	d := &faulty{what: noSpace}
	f, err := create(d, path, newRecord())
	require.NoError(t, err)
	rec := newRecord()
	line := rec.Add(history.Step{Act: act.Act{Form: act.InspectCups}})
	d.at = d.n + 2 // after the look at where the file is
	require.ErrorIs(t, f.Append(line), syscall.ENOSPC)
	assert.True(t, is(path, rec.HeaderLine()))
	require.NoError(t, f.Append(line))
	again, err := Read(path)
	require.NoError(t, err)
	assert.Len(t, again.Entries, 1)
}
