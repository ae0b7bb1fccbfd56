//go:build unix

package term

import (
	"os"

	"golang.org/x/sys/unix"
)

// CanStop tells whether a shell is there that lets the program go on after it has been
// stopped: one of the same session, with the program in a group of its own. Without one a
// stop signal is lost and whoever waits for the program to go on waits for ever.
func CanStop() bool {
	parent, err := unix.Getsid(os.Getppid())
	own, errOwn := unix.Getsid(0)
	group, errGroup := unix.Getpgid(os.Getppid())
	return err == nil && errOwn == nil && errGroup == nil && parent == own && group != unix.Getpgrp()
}

// Stop stops the program; it returns when the program goes on.
func Stop() { _ = unix.Kill(0, unix.SIGTSTP) }
