package classweb_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/classweb"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/recordstest"
	"shimwright/cmd/internal/web"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
)

// servedAt tells this program, run again by its own tests, to be a server of the class at a
// place and an address.
const servedAt = "CLASSWEB_TEST_SERVES"

func TestMain(m *testing.M) {
	if said := os.Getenv(servedAt); said != "" {
		place, address, _ := strings.Cut(said, "\n")
		if err := serve(place, address); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	recordstest.Main(m)
}

func serve(place, address string) error {
	ctx := context.Background()
	st, err := records.Open(ctx, place)
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", address)
	if err != nil {
		return err
	}
	const rate = 1000 // the pupils of a test do not rest
	return web.Serve(ctx, l, classweb.New(classroom.New(st, time.Now), classweb.Options{Zone: time.UTC, Clock: time.Now, Rate: rate}))
}

// A process is a server of its own that can be killed.
type process struct {
	t              *testing.T
	place, address string
	cmd            *exec.Cmd
}

// free is an address that nobody answers at.
func free(t *testing.T) string {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().String()
}

func started(t *testing.T, place string) *process {
	p := &process{t: t, place: place, address: free(t)}
	p.start()
	t.Cleanup(p.kill)
	return p
}

func (p *process) start() {
	p.cmd = exec.Command(os.Args[0])
	p.cmd.Env = append(os.Environ(), servedAt+"="+p.place+"\n"+p.address)
	p.cmd.Stderr = os.Stderr
	require.NoError(p.t, p.cmd.Start())
	for range 1000 {
		c, err := net.Dial("tcp", p.address)
		if err == nil {
			c.Close()
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	p.t.Fatal("the server does not answer")
}

// kill ends it as a power cut would end the machine's program: at once.
func (p *process) kill() {
	if p.cmd == nil {
		return
	}
	_ = p.cmd.Process.Signal(syscall.SIGKILL)
	_ = p.cmd.Wait()
	p.cmd = nil
}

// memory is the most memory that it has had resident, in MB; 0 where the system does not say.
func (p *process) memory() int {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	m := regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(data)
	if m == nil {
		return 0
	}
	kb, _ := strconv.Atoi(string(m[1]))
	return kb >> 10
}

// A worker is a pupil who works at a job until it is signed off.
type worker struct {
	name, attempt string
	http          *http.Client
	acts          []string
	steps         []history.Step // the same, as they are done
	had           int            // acts that were answered

}

// A crowd is a class at work, over servers that may go.
type crowd struct {
	t       *testing.T
	room    *classroom.Room
	servers []*process
	workers []*worker

	mu    sync.Mutex
	times []time.Duration // from an act to its answer
	kept  atomic.Int64    // acts that were answered
	lost  atomic.Int64    // acts that were answered and are not there
	twice atomic.Int64    // acts that are there twice
}

// gathered is a class of so many pupils, each with a job of one of the exercises begun.
func gathered(t *testing.T, place string, servers, pupils int, exercises ...string) *crowd {
	ctx := context.Background()
	c := &crowd{t: t, room: classroom.New(recordstest.Open(t, place), time.Now)}
	f, err := c.room.Found(ctx, "", passphrase)
	require.NoError(t, err)
	var sets []records.Assignment
	var acts [][]string
	var steps [][]history.Step
	for _, name := range exercises {
		e, err := exercise.Find(name)
		require.NoError(t, err)
		a, err := c.room.Set(ctx, e, classroom.Setting{Mode: attempt.Check, Jobs: 1, Alike: true})
		require.NoError(t, err)
		sets = append(sets, a)
		j, err := e.Job(a.Numbers[0])
		require.NoError(t, err)
		stand, err := j.Stand()
		require.NoError(t, err)
		all := &sim.Recorder{Stand: stand}
		require.NoError(t, technician.Work(all, j.Card.Known, technician.Competent()))
		var lines []string
		for _, s := range all.Steps {
			lines = append(lines, s.Act.String())
		}
		acts, steps = append(acts, lines), append(steps, all.Steps)
	}
	for range servers {
		c.servers = append(c.servers, started(t, place))
	}
	var names []string
	for i := range pupils {
		names = append(names, fmt.Sprintf("Pupil %d", i+1))
	}
	_, err = c.room.Enroll(ctx, names)
	require.NoError(t, err)
	var all sync.WaitGroup
	for i, name := range names {
		jar, err := cookiejar.New(nil)
		require.NoError(t, err)
		w := &worker{name: name, http: &http.Client{Jar: jar, Timeout: 30 * time.Second}, acts: acts[i%len(acts)], steps: steps[i%len(acts)]}
		c.workers = append(c.workers, w)
		all.Go(func() {
			at := "http://" + c.servers[i%servers].address
			resp, err := w.http.PostForm(at+"/join", url.Values{"code": {f.Class.Code}, "name": {name}, "pin": {"4711"}})
			if !assert.NoError(t, err) {
				return
			}
			resp.Body.Close()
			if resp, err = w.http.Post(at+"/work/"+sets[i%len(sets)].ID+"/1", "", nil); !assert.NoError(t, err) {
				return
			}
			resp.Body.Close()
			w.attempt = filepath.Base(resp.Request.URL.Path)
			assert.Equal(t, http.StatusOK, resp.StatusCode)
		})
	}
	all.Wait()
	if t.Failed() {
		t.FailNow()
	}
	return c
}

// spread puts the workers at different acts of their jobs, as if they had worked before.
func (c *crowd) spread() {
	ctx := context.Background()
	k := classroom.Keeper{Room: c.room}
	for i, w := range c.workers {
		x, err := c.room.Store.Attempt(ctx, w.attempt)
		require.NoError(c.t, err)
		rec, err := k.Record(ctx, x.Pupil, x.ID)
		require.NoError(c.t, err)
		for n := range len(w.acts) * i / len(c.workers) {
			require.NoError(c.t, c.room.Store.Append(ctx, x.ID, n, records.Act{Line: string(rec.Add(w.steps[n])), Done: time.Now()}))
			w.had++
		}
		if _, err := w.send(ctx, http.MethodGet, c.at()+"/bench/jobs/"+w.attempt, nil); err != nil { // the page that they sit before
			c.t.Fatal(err)
		}
	}
}

// at is the address of one of the servers.
func (c *crowd) at() string { return "http://" + c.servers[rand.IntN(len(c.servers))].address }

// act does a worker's next act. Where no answer comes the worker asks how the job stands, and
// goes on from there.
func (c *crowd) act(ctx context.Context, w *worker) {
	begun := time.Now()
	body, err := w.send(ctx, http.MethodPost, c.at()+"/bench/jobs/"+w.attempt+"/acts", url.Values{"had": {strconv.Itoa(w.had)}, "typed": {w.acts[w.had]}, "sign": {"yes"}})
	took := time.Since(begun)
	if err == nil {
		if w.had+1 == len(w.acts) { // signed off: the answer leads to another page
			w.had++
			c.kept.Add(1)
			return
		}
		if m := hadPattern.FindStringSubmatch(body); m != nil && m[1] == strconv.Itoa(w.had+1) {
			w.had++
			c.kept.Add(1)
			c.mu.Lock()
			c.times = append(c.times, took)
			c.mu.Unlock()
			return
		}
	}
	for ctx.Err() == nil {
		x, err := c.room.Store.Attempt(ctx, w.attempt)
		if err != nil {
			time.Sleep(20 * time.Millisecond)
			continue
		}
		switch {
		case x.Acts < w.had:
			c.lost.Add(int64(w.had - x.Acts))
		case x.Acts > w.had+1:
			c.twice.Add(int64(x.Acts - w.had - 1))
		}
		w.had = x.Acts
		time.Sleep(10 * time.Millisecond)
		return
	}
}

// send sends a request as the script of a page does.
func (w *worker) send(ctx context.Context, method, at string, fields url.Values) (string, error) {
	req, err := http.NewRequestWithContext(ctx, method, at, strings.NewReader(fields.Encode()))
	if err != nil {
		return "", err
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("HX-Request", "true")
	resp, err := w.http.Do(req)
	if err != nil {
		return "", err
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err == nil && resp.StatusCode >= 400 {
		err = errors.New(resp.Status)
	}
	return string(body), err
}

// work has everybody work until they have signed off or a time is over, one act in a while
// each. It returns how many still work.
func (c *crowd) work(ctx context.Context, every time.Duration) int {
	var all sync.WaitGroup
	var open atomic.Int64
	for _, w := range c.workers {
		all.Go(func() {
			if every > 0 {
				select { // not all at once
				case <-time.After(rand.N(every)):
				case <-ctx.Done():
				}
			}
			for ctx.Err() == nil && w.had < len(w.acts) {
				next := time.After(every)
				c.act(ctx, w)
				select {
				case <-next:
				case <-ctx.Done():
				}
			}
			if w.had < len(w.acts) {
				open.Add(1)
			}
		})
	}
	all.Wait()
	return int(open.Load())
}

// share is the time that a share of all answers came within.
func (c *crowd) share(of float64) time.Duration {
	slices.Sort(c.times)
	if len(c.times) == 0 {
		return 0
	}
	return c.times[min(len(c.times)-1, int(of*float64(len(c.times))))]
}

// whole checks that every attempt holds what was answered, in order and once, and plays again.
func (c *crowd) whole() {
	ctx := context.Background()
	assert.Zero(c.t, c.lost.Load(), "acts that were answered are lost")
	assert.Zero(c.t, c.twice.Load(), "acts are there twice")
	k := classroom.Keeper{Room: c.room}
	for _, w := range c.workers {
		x, err := c.room.Store.Attempt(ctx, w.attempt)
		require.NoError(c.t, err)
		rec, err := k.Record(ctx, x.Pupil, x.ID)
		require.NoError(c.t, err, w.name)
		require.GreaterOrEqual(c.t, len(rec.Entries), w.had, w.name)
		for i, a := range rec.Acts() {
			require.Equal(c.t, w.acts[i], a.String(), "%s, act %d", w.name, i+1)
		}
	}
	// One of each exercise: the others are the same acts.
	for _, w := range c.workers[:min(5, len(c.workers))] {
		x, err := c.room.Store.Attempt(ctx, w.attempt)
		require.NoError(c.t, err)
		rec, err := k.Record(ctx, x.Pupil, x.ID)
		require.NoError(c.t, err)
		_, _, _, err = attempt.Replay(rec)
		require.NoError(c.t, err, w.name)
	}
}

// set reads a figure from the environment, for runs by hand.
func set(name string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return usual
}

// A class works at one act in two seconds each. The bounds are for a machine that does other
// things at the same time; run by hand on two quiet cores it is the 150 ms and 400 MB that are
// asked for (CLASS_LOAD_PUPILS=60 CLASS_LOAD_SECONDS=60 CLASS_LOAD_MS=150).
func TestLoad(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		jobs := []string{"first-axle"}
		if longtest.On() {
			jobs = append(jobs, "cup-and-preload-shims", "cage-and-adjusters", "hard-cases")
		}
		c := gathered(t, place(), 1, set("CLASS_LOAD_PUPILS", longtest.Pick(10, 24)), jobs...)
		c.spread()
		seconds := set("CLASS_LOAD_SECONDS", longtest.Pick(2, 5))
		ctx, stop := context.WithTimeout(context.Background(), time.Duration(seconds)*time.Second)
		defer stop()
		c.work(ctx, 2*time.Second)
		c.whole()
		t.Logf("%d pupils, %d acts: half of the answers within %v, 95 of 100 within %v, 99 within %v; %d MB resident",
			len(c.workers), c.kept.Load(), c.share(.5).Round(time.Millisecond), c.share(.95).Round(time.Millisecond), c.share(.99).Round(time.Millisecond), c.servers[0].memory())
		assert.Greater(t, c.kept.Load(), int64(len(c.workers)*seconds/5), "they do work; those near the end sign off")
		assert.Less(t, c.share(.95), time.Duration(set("CLASS_LOAD_MS", 1000))*time.Millisecond)
		assert.Less(t, c.servers[0].memory(), 400)
	})
}

// The server is killed again and again while everybody works without rest: nothing that was
// answered is lost or there twice, and everybody goes on without signing in anew.
func TestKilled(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		c := gathered(t, place(), 1, set("CLASS_KILL_PUPILS", longtest.Pick(4, 8)), "first-depth", "first-preload", "first-sides", "first-pattern", "first-axle")
		times := set("CLASS_KILLS", longtest.Pick(2, 6))
		pause, every := time.Duration(set("CLASS_KILL_PAUSE_MS", 0))*time.Millisecond, time.Duration(set("CLASS_KILL_EVERY_MS", 150))*time.Millisecond
		ctx, stop := context.WithTimeout(context.Background(), 10*time.Minute)
		defer stop()
		done := make(chan int)
		go func() { done <- c.work(ctx, pause) }()
		kills, during, last := 0, 0, int64(0)
		for kills < times {
			time.Sleep(every/3 + rand.N(4*every/3))
			for range 500 { // an act is answered first, if anybody still works
				if c.kept.Load() > last {
					break
				}
				time.Sleep(10 * time.Millisecond)
			}
			if n := c.kept.Load(); n > last {
				during, last = during+1, n
			}
			c.servers[0].kill()
			kills++
			c.servers[0].start()
		}
		require.Zero(t, <-done, "everybody goes on to the signature")
		c.whole()
		t.Logf("%d pupils, %d acts answered, killed %d times, %d of them with acts answered since the last", len(c.workers), c.kept.Load(), kills, during)
		assert.Positive(t, during)
	})
}

// Two servers share one database and every pupil's requests go to either; one of them is
// killed: the class goes on. A file serves two of one machine as well.
func TestOneOfTwoServersIsKilled(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) { oneOfTwo(t, place()) })
}

func oneOfTwo(t *testing.T, place string) {
	c := gathered(t, place, 2, longtest.Pick(3, 6), "first-depth", "first-sides", "first-axle")
	ctx, stop := context.WithTimeout(context.Background(), 2*time.Minute)
	defer stop()
	done := make(chan int)
	go func() { done <- c.work(ctx, 0) }()
	// Both have answered some acts, and nobody can be done yet.
	require.Eventually(t, func() bool { return c.kept.Load() >= int64(2*len(c.workers)) }, time.Minute, time.Millisecond)
	before := c.kept.Load()
	c.servers[1].kill()
	require.Zero(t, <-done, "everybody goes on to the signature")
	assert.Greater(t, c.kept.Load(), before)
	c.whole()
	t.Logf("%d acts answered, %d of them by two servers", c.kept.Load(), before)
}
