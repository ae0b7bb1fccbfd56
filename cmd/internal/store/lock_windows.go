package store

import (
	"errors"

	"golang.org/x/sys/windows"
)

// lock takes a file for this process, until it closes it or ends. taken is true where
// another has it. Locked is one byte beyond the end of any attempt, so that the file can
// be read by others meanwhile.
func lock(fd uintptr) (taken bool) {
	const beyond = 1 << 30
	err := windows.LockFileEx(windows.Handle(fd), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &windows.Overlapped{OffsetHigh: beyond})
	return errors.Is(err, windows.ERROR_LOCK_VIOLATION)
}
