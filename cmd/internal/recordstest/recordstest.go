// Package recordstest runs tests on every database that the records of a class can be kept
// in, for tests. PostgreSQL is Debian's, started by the tests for themselves.
package recordstest

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/records"
	"shimwright/sim/longtest"
)

// Required names the setting under which a test that leaves PostgreSQL out fails.
const Required = "SHIMWRIGHT_POSTGRES"

// A Server is a PostgreSQL that listens on a socket of its own folder.
type Server struct {
	folder string
	cmd    *exec.Cmd
}

// server is the one of a test program.
var server struct {
	sync.Mutex
	it *Server
}

// Main runs the tests of a package and stops the server that they have started.
func Main(m *testing.M) {
	code := m.Run()
	server.Lock()
	defer server.Unlock()
	if server.it != nil {
		server.it.stop()
	}
	os.Exit(code)
}

// Each runs a test on every database; place returns a new and empty one each time.
func Each(t *testing.T, test func(t *testing.T, place func() string)) {
	t.Run("file", func(t *testing.T) {
		test(t, func() string { return filepath.Join(t.TempDir(), "class.db") })
	})
	t.Run("server", func(t *testing.T) { test(t, func() string { return Postgres(t) }) })
}

// Long is Each, but a short run takes the file alone.
func Long(t *testing.T, test func(t *testing.T, place func() string)) {
	if longtest.On() {
		Each(t, test)
		return
	}
	test(t, func() string { return filepath.Join(t.TempDir(), "class.db") })
}

// Open opens records for a test.
func Open(t *testing.T, place string) *records.Store {
	t.Helper()
	s, err := records.Open(context.Background(), place)
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// Postgres returns a new database on the server. A test is left out where there is no
// PostgreSQL, unless it is required.
func Postgres(t *testing.T) string {
	t.Helper()
	server.Lock()
	defer server.Unlock()
	if server.it == nil {
		s, err := start()
		if errors.Is(err, exec.ErrNotFound) && os.Getenv(Required) == "" {
			t.Skip("PostgreSQL is not installed: what it would show is left out")
		}
		require.NoError(t, err)
		server.it = s
	}
	db, err := sql.Open("pgx", server.it.place("postgres"))
	require.NoError(t, err)
	defer db.Close()
	name := "class_" + strings.ToLower(rand.Text())
	_, err = db.Exec("CREATE DATABASE " + name)
	require.NoError(t, err)
	return server.it.place(name)
}

func (s *Server) place(database string) string {
	return fmt.Sprintf("postgres://class@/%s?host=%s", database, s.folder)
}

// stop ends the server and deletes its folder.
func (s *Server) stop() {
	_ = s.cmd.Process.Signal(syscall.SIGQUIT) // at once; nothing of it is kept
	_ = s.cmd.Wait()
	_ = os.RemoveAll(s.folder)
}
