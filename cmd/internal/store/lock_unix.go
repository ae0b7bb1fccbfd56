//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package store

import (
	"errors"

	"golang.org/x/sys/unix"
)

// lock takes a file for this process, until it closes it or ends. taken is true where
// another has it. A disk that knows no locks takes none.
func lock(fd uintptr) (taken bool) {
	return errors.Is(unix.Flock(int(fd), unix.LOCK_EX|unix.LOCK_NB), unix.EWOULDBLOCK)
}
