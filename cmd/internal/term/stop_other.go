//go:build !unix

package term

// CanStop tells whether the program can be stopped and go on: not on this system.
func CanStop() bool { return false }

// Stop does nothing on this system.
func Stop() {}
