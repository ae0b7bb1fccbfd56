package handout

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// tell runs a command in a folder and returns what it says.
func tell(ctx context.Context, folder string, env []string, name string, args ...string) (string, error) {
	c := exec.CommandContext(ctx, name, args...)
	c.Dir, c.Env = folder, append(os.Environ(), env...)
	out, err := c.Output()
	var failed *exec.ExitError
	if errors.As(err, &failed) {
		err = fmt.Errorf("%s %s: %w: %s", name, args[0], err, failed.Stderr)
	}
	return strings.TrimSpace(string(out)), err
}

// CommitTime is when the commit was made that a folder is a checkout of.
func CommitTime(ctx context.Context, source string) (time.Time, error) {
	said, err := tell(ctx, source, nil, "git", "log", "-1", "--format=%ct")
	if err != nil {
		return time.Time{}, err
	}
	seconds, err := strconv.ParseInt(said, 10, 64)
	return time.Unix(seconds, 0).UTC(), err
}

// Clean reports whether a folder is a whole clone in which nothing was changed. The go command
// writes the commit into a program nowhere else. Errors say what is in the way.
func Clean(ctx context.Context, source string) error {
	if at, err := os.Stat(filepath.Join(source, ".git")); err != nil || !at.IsDir() {
		return errors.New("archives say of which commit they are: make them at the top of a git clone of its own")
	}
	changed, err := tell(ctx, source, nil, "git", "status", "--porcelain")
	if err == nil && changed != "" {
		err = fmt.Errorf("archives are of a commit, and something differs from it here:\n%s", changed)
	}
	return err
}
