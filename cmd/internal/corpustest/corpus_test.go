package corpustest

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/peopletest"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

var (
	anew  = flag.Bool("anew", false, "have jobs of every family and kind worked anew and keep what was done")
	renew = flag.Bool("renew", false, "keep what comes of every attempt now as what is expected of it")
	every = flag.Int("every", 0, "grade every so manieth attempt; 0: a sample, or all of them for -table")
	table = flag.String("table", "", "write what comes of every attempt into this file, to be compared with that of another machine")
	show  = flag.String("show", "", "with -table: write all that is compared into this folder")
)

// actsFile is where the corpus is: of each attempt a line that says what it is, and its acts.
var actsFile = filepath.Join("..", "..", "..", "testdata", "corpus", "acts.txt.gz")

// expectedFile has for each attempt a line with its name and what is expected of it: score and
// digests of readings and grade. Pages and pictures are not in it: a sentence may be reworded and
// a line drawn elsewhere without a grade being another.
var expectedFile = filepath.Join("..", "..", "..", "testdata", "corpus", "expected.csv")

// A piece is an attempt of the corpus.
type piece struct {
	family string
	kind   scenarios.Kind
	seed   uint64
	person string
	acts   []string
}

func (p piece) name() string {
	return fmt.Sprintf("%s,%s,%d,%s", p.family, p.kind, p.seed, p.person)
}

func (p piece) order() (scenarios.Order, error) {
	fam, err := family.Shipped(p.family)
	return scenarios.Order{Family: fam, Kind: p.kind}, err
}

// came is what comes of a piece: digests of its readings, grade, pages and pictures, and the score.
type came struct {
	score                           int
	readings, grade, page, pictures string
}

func (c came) cells() []string {
	return append(c.expected(), c.page, c.pictures)
}

// expected are the cells that must stay as they are while the model version does.
func (c came) expected() []string {
	return []string{strconv.Itoa(c.score), c.readings, c.grade}
}

// makers holds what makes the jobs of each family and kind.
var makers sync.Map

func jobOf(o scenarios.Order, seed uint64) (scenarios.Job, error) {
	m, _ := makers.LoadOrStore(o.Family.Code+" "+o.Kind.String(), sync.OnceValues(o.Maker))
	maker, err := m.(func() (*scenarios.Maker, error))()
	if err != nil {
		return scenarios.Job{}, err
	}
	return maker.Generate(seed)
}

func digest(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data))[:16] }

// of works a piece and writes all that can be told of it, its pictures as pixels too if asked.
func of(p piece, pixels bool) (came, map[string][]byte, error) {
	o, err := p.order()
	if err != nil {
		return came{}, nil, err
	}
	made, err := jobOf(o, p.seed)
	if err != nil {
		return came{}, nil, err
	}
	stand, err := made.Stand()
	if err != nil {
		return came{}, nil, err
	}
	rec := attempt.New(attempt.Terms{}, o, "", p.seed, quantity.Inch)
	var outs []history.Step
	for _, line := range p.acts {
		a, err := act.Parse(line, quantity.Inch)
		if err != nil {
			return came{}, nil, err
		}
		out, err := stand.Do(a)
		if err != nil {
			break // the model has changed since: what was done until here is an attempt, too
		}
		rec.Add(out)
		outs = append(outs, out)
	}
	whole, err := rec.Bytes()
	if err != nil {
		return came{}, nil, err
	}
	d, err := debrief.Of(cost.Default(), made, stand, outs, quantity.Inch, true)
	if err != nil {
		return came{}, nil, err
	}
	grade, err := view.JSON(d)
	if err != nil {
		return came{}, nil, err
	}
	var pages bytes.Buffer
	for _, units := range []quantity.System{quantity.Inch, quantity.Metric} {
		pen := view.NewPen(text.Printer{}.In(units), 80)
		said := view.NewDebrief(d, view.DebriefWith{Printer: pen.Printer, Full: true})
		onTerminal := said
		if said.Lesson != nil { // a browser has no terminal that its text is dressed for
			bare := *said.Lesson
			bare.Body = ""
			onTerminal.Lesson = &bare
		}
		told, err := onTerminal.Text(pen)
		if err != nil {
			return came{}, nil, err
		}
		pages.WriteString(view.Card(made.Card, pen) + told + said.Markdown())
		if err := said.HTML(&pages); err != nil {
			return came{}, nil, err
		}
	}
	var pictures bytes.Buffer
	for _, out := range outs {
		for _, r := range out.Readings {
			if len(r.Patterns) > 0 {
				o := picture.Options{Title: text.NewPrinter(quantity.Inch, text.Overlay{}).Print(r.How()), Color: true}
				if err := picture.SVG(&pictures, r.Patterns, o); err != nil {
					return came{}, nil, err
				}
				if pixels {
					if err := picture.PNG(&pictures, r.Patterns, o); err != nil {
						return came{}, nil, err
					}
				}
			}
		}
	}
	if pixels {
		if err := view.DrawAxle(&pictures, o.Family, false, true); err != nil {
			return came{}, nil, err
		}
	}
	c := came{d.Report.Score, digest(whole), digest(grade), digest(pages.Bytes()), digest(pictures.Bytes())}
	return c, map[string][]byte{"readings": whole, "grade": grade, "page": pages.Bytes(), "pictures": pictures.Bytes()}, nil
}

// The corpus is large enough, of every family and kind, and what comes of an attempt is what is
// expected, today and later, and the same each time. That it is the same on every machine in the
// pages and pictures too is seen where -table is run on each.
func TestTheCorpus(t *testing.T) {
	if *anew {
		work(t)
	}
	pieces := read(t)
	require.GreaterOrEqual(t, len(pieces), 200)
	kinds := map[string]bool{}
	for _, p := range pieces {
		kinds[p.family+" "+p.kind.String()] = true
	}
	assert.Len(t, kinds, len(family.Shelf())*len(scenarios.Kinds()))
	step := *every
	switch {
	case *table != "" || *renew || *anew:
		step = max(step, 1)
	case step < 1:
		step = longtest.Pick(60, 30)
	}
	got := all(t, pieces, step)
	if *renew || *anew {
		require.Equal(t, 1, step, "what is expected is renewed of all attempts at once")
		require.NoError(t, os.WriteFile(expectedFile, []byte(expectation(pieces, got)), 0o644))
	}
	compare(t, pieces, got)
	if *table != "" {
		var lines strings.Builder
		for i, p := range pieces {
			if c, ok := got[i]; ok {
				lines.WriteString(row(p, c.cells()))
			}
		}
		require.NoError(t, os.WriteFile(*table, []byte(lines.String()), 0o600))
		return
	}
	again := step * max(1, 60/step)
	once := map[int]came{}
	for i, c := range got {
		if i%again == 0 {
			once[i] = c
		}
	}
	assert.Equal(t, once, all(t, pieces, again), "the second time")
}

// inPixels is how many pieces there are to one whose pictures are made as pixels too: that is slow
// on an emulated machine.
const inPixels = 12

// compare tells where what came of attempts is not what is expected.
func compare(t *testing.T, pieces []piece, got map[int]came) {
	t.Helper()
	text, err := os.ReadFile(expectedFile)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	require.Len(t, lines, 1+len(pieces), "%s is of another corpus", expectedFile)
	require.Equal(t, modelLine(), lines[0]+"\n", "%s is of another model version: renew it with -renew", expectedFile)
	differ := 0
	for i, p := range pieces {
		if c, ok := got[i]; ok && lines[1+i]+"\n" != row(p, c.expected()) {
			differ++
			t.Logf("expected %s\n     got %s", lines[1+i], row(p, c.expected()))
		}
	}
	assert.Zero(t, differ, "so many of %d attempts have other readings or another grade than %s expects of them under model version %s; "+
		"if that is on purpose, raise scenarios.ModelVersion, or see DEVELOPERS.md, and renew it with -renew", len(got), expectedFile, scenarios.ModelVersion)
}

func modelLine() string { return "model," + scenarios.ModelVersion + "\n" }

func row(p piece, cells []string) string { return p.name() + "," + strings.Join(cells, ",") + "\n" }

// expectation is the text of expectedFile.
func expectation(pieces []piece, got map[int]came) string {
	var b strings.Builder
	b.WriteString(modelLine())
	for i, p := range pieces {
		b.WriteString(row(p, got[i].expected()))
	}
	return b.String()
}

// all is what comes of every so manieth piece, by its place.
func all(t *testing.T, pieces []piece, every int) map[int]came {
	t.Helper()
	out := map[int]came{}
	var one sync.Mutex
	var work sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for i := range next {
				p := pieces[i]
				got, parts, err := of(p, i%inPixels == 0)
				assert.NoError(t, err, "%d, %v", i, p)
				one.Lock()
				out[i] = got
				one.Unlock()
				for name, data := range parts {
					if *show != "" {
						assert.NoError(t, os.WriteFile(filepath.Join(*show, fmt.Sprintf("%03d-%s.txt", i, name)), data, 0o600))
					}
				}
			}
		})
	}
	for i := 0; i < len(pieces); i += every {
		next <- i
	}
	close(next)
	work.Wait()
	return out
}

// read reads the corpus.
func read(t *testing.T) (pieces []piece) {
	t.Helper()
	packed, err := os.Open(actsFile)
	require.NoError(t, err)
	defer packed.Close()
	unpacked, err := gzip.NewReader(packed)
	require.NoError(t, err)
	text, err := io.ReadAll(unpacked)
	require.NoError(t, err)
	for one := range strings.SplitSeq(strings.TrimSuffix(string(text), "\n\n"), "\n\n") {
		lines := strings.Split(one, "\n")
		r := strings.SplitN(strings.TrimPrefix(lines[0], "# "), ",", 4)
		require.Len(t, r, 4, lines[0])
		seed, err := strconv.ParseUint(r[2], 10, 64)
		require.NoError(t, err)
		kind := scenarios.Kind(r[1])
		if r[1] == scenarios.WholeInName {
			kind = ""
		}
		pieces = append(pieces, piece{r[0], kind, seed, r[3], lines[1:]})
	}
	return pieces
}

// work has simulated people work jobs of every family and kind, and keeps what they did.
func work(t *testing.T) {
	t.Helper()
	const each, longest = 4, 160
	people := append([]peopletest.Person{peopletest.TheReference()}, peopletest.Holding()...)
	people = append(people, peopletest.Schools()...)
	people = append(people, peopletest.Hostiles()...)
	var acts strings.Builder
	n := 0
	for _, fam := range family.Shelf() {
		for _, kind := range scenarios.Kinds() {
			for done := 0; done < each; {
				n++
				p := piece{family: fam.Code, kind: kind, seed: uint64(1000 + n), person: people[n%len(people)].Name}
				if done == 0 {
					p.person = people[0].Name
				}
				o, err := p.order()
				require.NoError(t, err)
				made, err := jobOf(o, p.seed)
				if err != nil {
					continue
				}
				who := people[n%len(people)]
				if done == 0 {
					who = people[0]
				}
				played, err := who.Play(made)
				if err != nil || len(played.Steps) == 0 || len(played.Steps) > longest {
					continue
				}
				for _, s := range played.Steps {
					p.acts = append(p.acts, s.Act.String())
				}
				acts.WriteString("# " + p.name() + "\n" + strings.Join(p.acts, "\n") + "\n\n")
				done++
			}
		}
	}
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	require.NoError(t, err)
	_, err = io.WriteString(z, acts.String())
	require.NoError(t, err)
	require.NoError(t, z.Close())
	require.NoError(t, os.WriteFile(actsFile, packed.Bytes(), 0o644))
}
