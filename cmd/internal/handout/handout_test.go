package handout

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/goccy/go-yaml"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var source = filepath.Join("..", "..", "..")

func read(t *testing.T, names ...string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(names...))
	require.NoError(t, err)
	return string(text)
}

// The program is linked with some dozens of modules; each has its license there, whole.
func TestEveryLicenseIsThere(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, Licenses(t.Context(), source, "./cmd/shimwright", Platforms(), folder))
	all, err := modules(t.Context(), source, "./cmd/shimwright", Platforms())
	require.NoError(t, err)
	assert.Greater(t, len(all), 40)
	for _, m := range all {
		found, err := os.ReadDir(filepath.Join(folder, filepath.FromSlash(m.path)))
		require.NoError(t, err, m.path)
		assert.NotEmpty(t, found, m.path)
	}
	assert.Contains(t, read(t, folder, "go", "LICENSE"), "The Go Authors")
	assert.FileExists(t, filepath.Join(folder, "modernc.org", "sqlite", "LICENSE-SQLITE"))
	assert.FileExists(t, filepath.Join(folder, "github.com", "inconshreveable", "mousetrap", "LICENSE"), "linked on one system alone")
	assert.NoDirExists(t, filepath.Join(folder, "github.com", "stretchr"), "for tests alone")
}

func TestNamesOfLicenses(t *testing.T) {
	for name, is := range map[string]bool{
		"LICENSE": true, "LICENSE.txt": true, "License.md": true, "LICENCE": true, "LICENSE-MIT": true, "UNLICENSE": true, "COPYING": true,
		"NOTICE": true, "PATENTS": true, "LICENSE-3RD-PARTY.md": true, "SQLITE-LICENSE": true, "Copyright.txt": true,
		"license.go": false, "notices_test.go": false, "README.md": false, "licensing_doc": false, "copyingfast": false,
	} {
		assert.Equal(t, is, license.MatchString(name) && !code.MatchString(name), name)
	}
	none := &linked{"made/up", t.TempDir(), map[string]bool{}}
	found, err := none.files()
	require.NoError(t, err)
	assert.Empty(t, found)
}

func madeUp() *cobra.Command {
	do := func(*cobra.Command, []string) {}
	root := &cobra.Command{Use: "axle", Short: "An axle", Long: "Of gears.\n\n  0  done *\n  1  not", Run: do}
	turn := &cobra.Command{Use: "turn N", Short: "Turn it", Long: "Turn pinion_depth of *.jsonl", Run: do, Hidden: true}
	turn.Flags().String("units", "inch", "`UNITS` to show")
	root.AddCommand(turn, &cobra.Command{Use: "codes", Long: "What codes mean."})
	return root
}

// Each command has a page, a hidden one too; a topic is a part of the first page; tables stay.
func TestTheManual(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, Manual(madeUp(), time.Date(2031, 2, 3, 0, 0, 0, 0, time.UTC), folder))
	first, turn := read(t, folder, "axle.1"), read(t, folder, "axle-turn.1")
	assert.Contains(t, first, "Feb 2031")
	assert.Contains(t, first, "  0  done *\n  1  not\n")
	assert.Contains(t, first, "What codes mean.")
	assert.Contains(t, first, "axle-turn(1)")
	assert.Contains(t, turn, `pinion_depth of *\&.jsonl`)
	assert.Contains(t, turn, `UNITS\fR to show`)
	assert.NoFileExists(t, filepath.Join(folder, "axle-codes.1"))
}

func TestTheCompletions(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, Completions(madeUp(), folder))
	for _, name := range []string{"axle.bash", "_axle", "axle.fish", "axle.ps1"} {
		assert.Contains(t, read(t, folder, name), "__complete", name)
	}
}

// Who has the program alone reads of no source, and every picture is there.
func TestTheReadme(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, Readme(source, folder))
	text := read(t, folder, "README.md")
	for _, of := range []string{"go run", "go test", "go build", "](testdata/"} {
		assert.Equal(t, -1, strings.Index(text, of), of)
	}
	assert.True(t, strings.Contains(text, "\nshimwright demo\n"))
	for _, found := range picture.FindAllStringSubmatch(read(t, source, "README.md"), -1) {
		assert.FileExists(t, filepath.Join(folder, "pictures", found[3]))
	}
}

// What the archives are made by names the same systems as the licenses are gathered for, and
// keeps out of them what differs from run to run.
func TestTheArchivesAreOfTheSamePlatforms(t *testing.T) {
	type info struct{ Owner, Group, Mtime string }
	var c struct {
		Env    []string
		Builds []struct {
			Main                string
			Goos, Goarch, Flags []string
			ModTimestamp        string `yaml:"mod_timestamp"`
		}
		Archives []struct {
			BuildsInfo info `yaml:"builds_info"`
			Files      []struct {
				Src  string
				Info info
			}
		}
	}
	require.NoError(t, yaml.Unmarshal([]byte(read(t, source, ".goreleaser.yaml")), &c))
	require.Len(t, c.Builds, 1)
	require.Len(t, c.Archives, 1)
	b := c.Builds[0]
	var on []Platform
	for _, system := range b.Goos {
		for _, arch := range b.Goarch {
			on = append(on, Platform{system, arch})
		}
	}
	assert.Equal(t, Platforms(), on)
	assert.Equal(t, "./cmd/shimwright", b.Main)
	assert.Contains(t, c.Env, "CGO_ENABLED=0")
	assert.Contains(t, b.Flags, "-trimpath")
	assert.Contains(t, b.Flags, "-buildvcs=true")
	assert.Contains(t, b.ModTimestamp, "CommitTimestamp")
	of := []info{c.Archives[0].BuildsInfo}
	for _, f := range c.Archives[0].Files {
		of = append(of, f.Info)
	}
	assert.Len(t, of, 4)
	for _, i := range of {
		assert.True(t, strings.Contains(i.Mtime, "CommitDate") && i.Owner == "root" && i.Group == "root", i)
	}
}

// Archives are made of a commit as it is, in a clone that the go command knows.
func TestOnlyACleanCloneIsHandedOut(t *testing.T) {
	folder := t.TempDir()
	git := func(args ...string) {
		t.Helper()
		_, err := tell(t.Context(), folder, []string{"GIT_AUTHOR_NAME=a", "GIT_AUTHOR_EMAIL=a@b", "GIT_COMMITTER_NAME=a", "GIT_COMMITTER_EMAIL=a@b", "GIT_COMMITTER_DATE=1930000000 +0000"}, "git", args...)
		require.NoError(t, err)
	}
	assert.ErrorContains(t, Clean(t.Context(), folder), "clone")
	git("init", "-q")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "a"), nil, 0o600))
	assert.ErrorContains(t, Clean(t.Context(), folder), "differs")
	git("add", "a")
	git("commit", "-q", "-m", "a")
	require.NoError(t, Clean(t.Context(), folder))
	at, err := CommitTime(t.Context(), folder)
	require.NoError(t, err)
	assert.Equal(t, int64(1930000000), at.Unix())
}
