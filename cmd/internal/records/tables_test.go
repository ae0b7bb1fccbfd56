package records

import (
	"context"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A backup holds every column of every table, but who is signed in: one that a later schema
// adds cannot be forgotten. The name of the file is one that an address has to escape.
func TestABackupIsWhole(t *testing.T) {
	ctx := context.Background()
	s, err := Open(ctx, filepath.Join(t.TempDir(), "a class? #1 100%25.db"))
	require.NoError(t, err)
	defer s.Close()
	kept := map[string][]string{"sessions": nil, "failures": nil, "goose_db_version": nil}
	for _, x := range tables() {
		kept[x.name] = slices.Sorted(slices.Values(x.columns))
	}
	names, err := all(ctx, s.read, func(scan func(...any) error) (name string, err error) { return name, scan(&name) },
		"SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
	require.NoError(t, err)
	assert.Len(t, names, len(kept))
	for _, name := range names {
		want, ok := kept[name]
		require.True(t, ok, name)
		if want == nil {
			continue
		}
		columns, err := all(ctx, s.read, func(scan func(...any) error) (column string, err error) { return column, scan(&column) },
			"SELECT name FROM pragma_table_info($1) ORDER BY name", name)
		require.NoError(t, err)
		assert.Equal(t, want, columns, name)
	}
	beside, err := filepath.Glob(filepath.Join(filepath.Dir(t.TempDir()), "*", "a class*"))
	require.NoError(t, err)
	assert.NotEmpty(t, beside)
}
