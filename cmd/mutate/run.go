package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"
)

// A test is one top-level test of a package: how long it takes, and which sites it reaches.
type test struct {
	pkg, name string
	took      time.Duration
	reaches   map[int]bool
}

// A run is one round of mutants.
type run struct {
	in      string // a folder of the module
	out     io.Writer
	m       *module
	folder  string
	overlay string
	workers int
	callers []string      // the folders of the packages whose tests are asked beside a package's own
	slow    time.Duration // tests that take longer take no part
	limit   time.Duration // of one mutant
	left    []string      // what took no part, and why
	mu      sync.Mutex
}

// each does something with every element, on as many workers as there are.
func each[T any](workers int, all []T, do func(T)) {
	work := make(chan T)
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for x := range work {
				do(x)
			}
		})
	}
	for _, x := range all {
		work <- x
	}
	close(work)
	wg.Wait()
}

func (r *run) binary(pkg string) string {
	return filepath.Join(r.folder, strings.ReplaceAll(pkg, "/", "-")+".test")
}

// build compiles the tests of a package with all mutants asleep in them.
func (r *run) build(pkg string) error {
	cmd := exec.Command("go", "test", "-c", "-vet=off", "-ldflags=-s -w", "-overlay", r.overlay, "-o", r.binary(pkg), pkg)
	cmd.Dir = r.m.root
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("the tests of %s do not build: %w\n%s", pkg, err, out)
	}
	return nil
}

// busy is how much longer than its time on a processor a test may take where others work too.
const busy = 10

// start runs some tests of a package within a time, and returns what they print and how long
// they had a processor.
func (r *run) start(pkg, pattern string, within time.Duration, env ...string) (out string, cpu time.Duration, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), within)
	defer cancel()
	cmd := exec.CommandContext(ctx, r.binary(pkg), "-test.run", pattern, "-test.short", "-test.failfast", "-test.v")
	cmd.Dir = r.m.packages[pkg].Dir
	cmd.Env = append(append(os.Environ(), "GOMAXPROCS=1", "GOTRACEBACK=none"), env...)
	cmd.WaitDelay = time.Second
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	err = cmd.Run()
	if ctx.Err() != nil {
		err = context.DeadlineExceeded
	}
	if s := cmd.ProcessState; s != nil {
		cpu = s.UserTime() + s.SystemTime()
	}
	return said.String(), cpu, err
}

// survey runs every test of a package alone, without a mutant.
func (r *run) survey(pkg string) []test {
	out, err := exec.Command(r.binary(pkg), "-test.list", ".").Output()
	if err != nil {
		r.leave("%s: its tests cannot be listed: %v", pkg, err)
		return nil
	}
	var tests []test
	for _, name := range strings.Fields(string(out)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		trace := filepath.Join(r.folder, strings.ReplaceAll(pkg, "/", "-")+"-"+name+".trace")
		out, took, err := r.start(pkg, "^"+name+"$", busy*r.slow, "MUTANT_TRACE="+trace)
		switch {
		case errors.Is(err, context.DeadlineExceeded) || took > r.slow:
			r.leave("%s %s takes more than %v", pkg, name, r.slow)
			continue
		case err != nil:
			r.leave("%s %s fails without a mutant: %s", pkg, name, lastLine(out))
			continue
		}
		t := test{pkg, name, took, map[int]bool{}}
		if b, err := os.ReadFile(trace); err == nil {
			for line := range strings.Lines(string(b)) {
				var id int
				if _, err := fmt.Sscan(line, &id); err == nil {
					t.reaches[id] = true
				}
			}
		}
		tests = append(tests, t)
	}
	return tests
}

func (r *run) leave(format string, a ...any) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.left = append(r.left, fmt.Sprintf(format, a...))
}

// An end is what became of a mutant.
type end string

const (
	killed     end = "killed"
	survived   end = "survived"
	unreached  end = "unreached"  // by any test that took part
	unfinished end = "unfinished" // not all tests that reach it were run within the limit
)

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\S+)`)

// try lets tests at a mutant, quickest first, and says what became of it and by what.
func (r *run) try(u mutant, tests []test) (end, string) {
	reaching := slices.DeleteFunc(slices.Clone(tests), func(t test) bool { return !t.reaches[u.id] })
	if len(reaching) == 0 {
		return unreached, ""
	}
	slices.SortStableFunc(reaching, func(a, b test) int { return int(a.took - b.took) })
	spent := time.Duration(0)
	for len(reaching) > 0 {
		// Tests of one package run together while they are quick.
		some, rest := []test{reaching[0]}, []test{}
		sum := reaching[0].took
		for _, t := range reaching[1:] {
			if t.pkg == some[0].pkg && sum+t.took < time.Second {
				some, sum = append(some, t), sum+t.took
				continue
			}
			rest = append(rest, t)
		}
		if spent += sum; spent > r.limit {
			return unfinished, fmt.Sprintf("%d tests of up to %v were not run", len(reaching), reaching[len(reaching)-1].took.Round(time.Second))
		}
		names := make([]string, len(some))
		for i, t := range some {
			names[i] = t.name
		}
		out, _, err := r.start(some[0].pkg, "^("+strings.Join(names, "|")+")$", busy*sum+10*time.Second, fmt.Sprintf("MUTANT=%d:%s", u.id, u.kind))
		if err != nil {
			pkg := strings.TrimPrefix(some[0].pkg, r.m.path+"/")
			switch f := failed.FindStringSubmatch(out); {
			case errors.Is(err, context.DeadlineExceeded):
				return killed, pkg + " (does not end)"
			case f != nil:
				return killed, pkg + " " + f[1]
			}
			return killed, pkg + " (" + lastRun(out) + " panics)"
		}
		reaching = rest
	}
	return survived, ""
}

func lastLine(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return lines[len(lines)-1]
}

var began = regexp.MustCompile(`(?m)^=== RUN +(\w+)`)

// lastRun returns the test that began last.
func lastRun(out string) string {
	all := began.FindAllStringSubmatch(out, -1)
	if len(all) == 0 {
		return "starting"
	}
	return all[len(all)-1][1]
}
