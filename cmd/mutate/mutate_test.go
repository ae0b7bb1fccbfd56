package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tiny is a module with one test that sees a sign through a caller, and one that sees little.
var tiny = map[string]string{
	"go.mod": "module tiny\n\ngo 1.26\n",
	"sim/depth.go": `package sim

const Half = -1.0 / 2

// Depth has a sum, a sign that is a constant, a product and a threshold.
func Depth(a, b float64) (float64, bool) {
	d := a +
		b*2
	d += -0.25
	if d > 3 && int(b) == 1 {
		return d, true
	}
	return -d, false
}

func Alone(n int) bool { return n <= 3 }

func Nobody(a float64) float64 { return a * a }
`,
	"sim/depth_test.go": `package sim

import "testing"

func TestAlone(t *testing.T) {
	if !Alone(0) || Alone(9) {
		t.Fatal("not alone")
	}
}
`,
	"scenarios/use.go": `package scenarios

import "tiny/sim"

func Use(a float64) float64 { d, _ := sim.Depth(a, 1); return d }
`,
	"scenarios/use_test.go": `package scenarios

import "testing"

func TestUse(t *testing.T) {
	if Use(1) != -2.75 || Use(5) != 6.75 {
		t.Fatal(Use(1), Use(5))
	}
}
`,
}

// What tests of a caller see counts; what no test sees is said; the source stays as it is.
func TestARoundOfMutants(t *testing.T) {
	folder := t.TempDir()
	for name, text := range tiny {
		require.NoError(t, os.MkdirAll(filepath.Join(folder, filepath.Dir(name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
	}
	list := filepath.Join(t.TempDir(), "list.csv")
	var out strings.Builder
	r := &run{in: folder, out: &out, callers: []string{"scenarios"}, slow: 10 * time.Second, limit: 20 * time.Second, workers: 2}
	require.NoError(t, mutate(0, 1, "sim", nil, list, false, r))
	got, err := os.ReadFile(list)
	require.NoError(t, err)
	assert.Equal(t, `file,line,kind,code,becomes,end,by,equivalent because
sim/depth.go,7,plus-minus,a + b*2,-,killed,scenarios TestUse,
sim/depth.go,9,plus-minus,d += -0.25,the other sign,killed,scenarios TestUse,
sim/depth.go,10,turned,d > 3,<,killed,scenarios TestUse,
sim/depth.go,10,turned,int(b) == 1,!=,killed,scenarios TestUse,
sim/depth.go,13,sign,-d,the other sign,killed,scenarios TestUse,
sim/depth.go,16,boundary,n <= 3,<,survived,,
sim/depth.go,16,turned,n <= 3,>=,killed,sim TestAlone,
sim/depth.go,18,sign,a * a,the other sign,unreached,,
`, string(got))
	assert.Equal(t, "8 mutants: 6 killed, 1 survived, 1 reached by no test, 0 equivalent, 0 not finished\nkilled of decided: 75.0 %\n", out.String())

	files := 0
	require.NoError(t, filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files++
		name, _ := filepath.Rel(folder, path)
		text, err := os.ReadFile(path)
		assert.Equal(t, tiny[name], string(text), name)
		return err
	}))
	assert.Len(t, tiny, files)

	// A reason that a person has written into the list is kept, and counts.
	judged := strings.Replace(string(got), "<,survived,,", "<,survived,,it is never asked", 1)
	require.NoError(t, os.WriteFile(list, []byte(judged), 0o644))
	out.Reset()
	require.NoError(t, mutate(0, 1, "", nil, list, true, r))
	got, err = os.ReadFile(list)
	require.NoError(t, err)
	assert.Contains(t, string(got), "survived,,it is never asked")
	assert.Contains(t, out.String(), "8 mutants: 6 killed, 0 survived, 1 reached by no test, 1 equivalent", "those that were killed before among them")
	assert.Equal(t, 9, strings.Count(string(got), "\n"))
}

func TestASampleIsEvenAndTheSameForASeed(t *testing.T) {
	all := map[string][]mutant{}
	for pkg, n := range map[string]int{"a": 40, "b": 3, "c": 40} {
		for i := range n {
			all[pkg] = append(all[pkg], mutant{pkg: pkg, site: site{from: i}})
		}
	}
	count := map[string]int{}
	one := sample(all, 23, 7)
	for _, u := range one {
		count[u.pkg]++
	}
	assert.Equal(t, map[string]int{"a": 10, "b": 3, "c": 10}, count)
	assert.Equal(t, one, sample(all, 23, 7))
	assert.NotEqual(t, one, sample(all, 23, 8))
	assert.Len(t, sample(all, 1000, 7), 83)
}

func TestWhereNothingCanBeChanged(t *testing.T) {
	m := &module{root: "/m", path: "tiny", packages: map[string]*listed{}}
	_, err := choose(m, 0, 1, "sim/none", nil, nil)
	assert.ErrorContains(t, err, "no package sim/none")
	_, err = choose(m, 0, 1, "", []string{"sim/x.go:3"}, nil)
	assert.ErrorContains(t, err, "nothing to change at sim/x.go:3")
}
