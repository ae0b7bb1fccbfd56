package attempt_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func beech() scenarios.Order { return scenarios.Order{Family: family.Beech()} }

// beechHead is a head with something between family and seed.
func beechHead(more string) string {
	return `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH",` + more + `,"seed":"7","units":"inch"}`
}

// recorder writes down what is done at a stand.
type recorder struct {
	*sim.Stand
	r    *attempt.Record
	file bytes.Buffer
	outs []history.Step
}

func (b *recorder) Do(a act.Act) (history.Step, error) {
	o, err := b.Stand.Do(a)
	if err == nil {
		b.file.Write(b.r.Add(o))
		b.outs = append(b.outs, o)
	}
	return o, err
}

func start(t testing.TB, seed uint64, units quantity.System) (*recorder, scenarios.Job) {
	t.Helper()
	j, err := scenariostest.Generate(family.Beech(), seed)
	require.NoError(t, err)
	s, err := j.Stand()
	require.NoError(t, err)
	b := &recorder{Stand: s, r: attempt.New(attempt.Terms{}, beech(), "", seed, units)}
	b.file.Write(b.r.HeaderLine())
	return b, j
}

// short is a record of a few acts of every sort: looks, shims, a print, a torque.
func short(t testing.TB) []byte {
	t.Helper()
	b, _ := start(t, 7, quantity.Metric)
	for _, line := range []string{"inspect cups", "fit depth-shim 0.762mm", "fit pinion mock-up", "measure depth", "measure torque rotating string"} {
		a, err := act.Parse(line, quantity.Metric)
		require.NoError(t, err)
		_, err = b.Do(a)
		require.NoError(t, err, line)
	}
	return b.file.Bytes()
}

func read(t testing.TB, data []byte) (*attempt.Record, error) {
	t.Helper()
	return attempt.Read(bytes.NewReader(data))
}

// What is written line by line is what the whole record writes, reads back to the
// same record, and plays again to the same outcomes.
func TestRoundTrip(t *testing.T) {
	for _, seed := range []uint64{6, 7, math.MaxUint64} {
		b, j := start(t, seed, quantity.Inch)
		require.NoError(t, technician.Work(b, j.Card.Known, technician.Competent()))

		whole, err := b.r.Bytes()
		require.NoError(t, err)
		assert.Equal(t, b.file.String(), string(whole))

		again, err := read(t, whole)
		require.NoError(t, err)
		assert.Equal(t, b.r, again)
		assert.Equal(t, seed, again.Header.Seed)
		assert.Len(t, again.Acts(), len(b.outs))

		job, stand, outs, err := attempt.Replay(again)
		require.NoError(t, err)
		assert.Equal(t, b.outs, outs)
		assert.Equal(t, b.Status(), stand.Status())
		assert.Equal(t, j.Card, job.Card)
		t.Logf("seed %d: %d acts, %d bytes", seed, len(outs), len(whole))
	}
}

// A head holds all that makes the job and the terms of the attempt, and a record of every
// kind of job plays again.
func TestHeadHoldsTheOrder(t *testing.T) {
	seen := map[string]bool{}
	for _, o := range []scenarios.Order{
		{Kind: scenarios.DepthJob, Faults: scenarios.FaultRule{None: true}},
		{Kind: scenarios.PreloadJob, Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{fault.SealTight, fault.PackingGrease}}},
		{Kind: scenarios.SidesJob, Faults: scenarios.FaultRule{Only: []fault.ID{fault.CapsSwapped}}, Off: []sim.LeftOff{{Form: act.MeasureSpread}, {Form: act.MeasureTorque, Word: "wrench"}}},
		{Kind: scenarios.PatternJob, Budget: scenarios.Budget{Minutes: 90, Parts: 30.5},
			Weights: map[string]scenarios.Weight{"total-torque": scenarios.Critical, "sheet-complete": scenarios.Uncounted}},
		{Kind: scenarios.PreviousWork},
	} {
		o.Family = family.Beech()
		terms := attempt.Terms{Exercise: "second \"look\"", Mode: attempt.Exam, Help: attempt.NoHelp, Open: attempt.CountsNothing}
		j, err := o.Generate(5)
		require.NoError(t, err)
		s, err := j.Stand()
		require.NoError(t, err)
		r := attempt.New(terms, o, "", 5, quantity.Metric)
		for _, f := range s.Possible() {
			if f.Usage().Line != f.String() || strings.Contains(f.String(), "{") || f == act.SignOff {
				continue
			}
			out, err := s.Do(act.Act{Form: f})
			require.NoError(t, err)
			r.Add(out)
			break
		}
		whole, err := r.Bytes()
		require.NoError(t, err)
		again, err := read(t, whole)
		require.NoError(t, err, string(whole))
		assert.Equal(t, r, again)
		assert.Equal(t, o, again.Header.Order)
		assert.Equal(t, terms, again.Header.Terms)
		job, stand, _, err := attempt.Replay(again)
		require.NoError(t, err)
		assert.Equal(t, j.Card, job.Card)
		assert.Equal(t, s.Status(), stand.Status())
		seen[string(whole[:bytes.IndexByte(whole, '\n')])] = true
	}
	assert.Len(t, seen, 5)
}

// A record goes on where it stopped: added to after reading, it is the record that
// was never interrupted.
func TestReadRecordGoesOn(t *testing.T) {
	b, j := start(t, 3, quantity.Inch)
	require.NoError(t, technician.Work(b, j.Card.Known, technician.Competent()))
	lines := bytes.SplitAfter(b.file.Bytes(), []byte("\n"))
	const half = 20
	r, err := read(t, bytes.Join(lines[:half+1], nil))
	require.NoError(t, err)
	require.Len(t, r.Entries, half)
	for i, o := range b.outs[half:] {
		assert.Equal(t, string(lines[half+1+i]), string(r.Add(o)))
	}
	whole, err := r.Bytes()
	require.NoError(t, err)
	assert.Equal(t, b.file.String(), string(whole))
}

func isTrouble(err error) bool {
	for _, e := range []error{attempt.ErrForeign, attempt.ErrDamaged, attempt.ErrCutShort, attempt.ErrOtherVersion} {
		if errors.Is(err, e) {
			return true
		}
	}
	return false
}

// Every way to change one byte of a record is noticed.
func TestEveryChangedByteIsNoticed(t *testing.T) {
	data := short(t)
	step := longtest.Pick(7, 1) // a short run takes every seventh change of a byte, others at the next
	count := map[string]int{}
	for i := range data {
		for flip := 1 + i%step; flip < 256; flip += step {
			bad := bytes.Clone(data)
			bad[i] ^= byte(flip)
			r, err := read(t, bad)
			if !assert.True(t, isTrouble(err), "byte %d changed from %q to %q: %v", i, data[i], bad[i], err) {
				return
			}
			if r != nil {
				require.Less(t, len(r.Entries), 6)
			}
			for _, e := range []error{attempt.ErrForeign, attempt.ErrDamaged, attempt.ErrCutShort, attempt.ErrOtherVersion} {
				if errors.Is(err, e) {
					count[e.Error()]++
				}
			}
		}
	}
	t.Logf("%d bytes, %d changes: %v", len(data), len(data)*255/step, count)
}

// Spelling that JSON calls the same is still not as the program wrote it.
func TestOtherSpellingOfALineIsNoticed(t *testing.T) {
	data := string(short(t))
	for what, change := range map[string][2]string{
		"key in capitals":        {`"act":"inspect cups"`, `"ACT":"inspect cups"`},
		"space":                  {`"act":"inspect cups"`, `"act": "inspect cups"`},
		"escaped letter":         {`"act":"inspect cups"`, `"act":"look\u0020cups"`},
		"key twice":              {`"act":"inspect cups"`, `"act":"x","act":"inspect cups"`},
		"act in capitals":        {`"act":"inspect cups"`, `"act":"Look Cups"`},
		"no readings for none":   {`"shows":[]`, `"shows":null`},
		"more after the line":    {"\"}\n{\"n\":2", "\"}]\n{\"n\":2"},
		"more fields":            {`{"n":1,`, `{"n":1,"time":3,`},
		"number as text":         {`"n":1,`, `"n":"1",`},
		"carriage return":        {"\n{\"n\":2", "\r\n{\"n\":2"},
		"empty line":             {"\n{\"n\":2", "\n\n{\"n\":2"},
		"mark of the byte order": {`{"record"`, "\ufeff{\"record\""},
	} {
		changed := strings.Replace(data, change[0], change[1], 1)
		require.NotEqual(t, data, changed, what)
		_, err := read(t, []byte(changed))
		assert.True(t, isTrouble(err), "%s: %v", what, err)
	}
}

// A line dropped, doubled, moved or put in from another attempt is noticed, and the
// acts before it are kept.
func TestMovedLinesAreNoticed(t *testing.T) {
	lines := bytes.SplitAfter(short(t), []byte("\n"))
	lines = lines[:len(lines)-1]
	join := func(order ...int) []byte {
		var out []byte
		for _, i := range order {
			out = append(out, lines[i]...)
		}
		return out
	}
	for what, c := range map[string]struct {
		order []int
		kept  int
	}{
		"two swapped":     {[]int{0, 1, 3, 2, 4, 5}, 1},
		"one dropped":     {[]int{0, 1, 2, 4, 5}, 2},
		"first dropped":   {[]int{0, 2, 3, 4, 5}, 0},
		"one twice":       {[]int{0, 1, 2, 2, 3, 4, 5}, 2},
		"head once more":  {[]int{0, 1, 2, 0, 3, 4, 5}, 2},
		"all turned over": {[]int{0, 5, 4, 3, 2, 1}, 0},
	} {
		r, err := read(t, join(c.order...))
		require.ErrorIs(t, err, attempt.ErrDamaged, what)
		require.NotNil(t, r, what)
		assert.Len(t, r.Entries, c.kept, what)
		kept, err := r.Bytes()
		require.NoError(t, err, what)
		assert.Equal(t, string(join([]int{0, 1, 2, 3, 4, 5}[:c.kept+1]...)), string(kept), what)
	}
	_, err := read(t, join(1, 2, 3))
	assert.ErrorIs(t, err, attempt.ErrForeign, "no head")
}

// A file cut anywhere keeps its whole acts.
func TestCutAnywhere(t *testing.T) {
	data := short(t)
	head := bytes.IndexByte(data, '\n') + 1
	for n := range data {
		r, err := read(t, data[:n])
		whole := bytes.Count(data[:n], []byte("\n")) - 1
		switch {
		case n < head:
			require.Error(t, err)
			assert.True(t, isTrouble(err), "cut at %d: %v", n, err)
		case data[n-1] == '\n':
			require.NoError(t, err, "cut after a line is an attempt that stopped there")
			assert.Len(t, r.Entries, whole)
		default:
			require.ErrorIs(t, err, attempt.ErrCutShort, "cut at %d", n)
			require.NotNil(t, r)
			assert.Len(t, r.Entries, whole, "cut at %d", n)
			want := fmt.Sprintf("%d acts before it are intact", whole)
			if whole == 1 {
				want = "1 act before it is intact"
			}
			assert.Contains(t, text.Printer{}.Error(err), want)
			var trouble *attempt.Error
			require.ErrorAs(t, err, &trouble)
			assert.Equal(t, [3]int{whole + 2, whole + 1, whole}, [3]int{trouble.Line, trouble.Act, trouble.Intact})
			kept, err := r.Bytes()
			require.NoError(t, err)
			assert.True(t, bytes.HasPrefix(data, kept))
		}
	}
}

func TestForeignFiles(t *testing.T) {
	for what, data := range map[string][]byte{
		"empty":             {},
		"one newline":       []byte("\n"),
		"words":             []byte("inspect cups\nfit case\n"),
		"binary":            {0, 1, 2, 0xff, 0xfe, '\n', 0, 0},
		"picture":           append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 400)...),
		"other JSON":        []byte(`{"name":"x","version":3}` + "\n"),
		"JSON list":         []byte("[1,2,3]\n"),
		"JSON text":         []byte(`"shimwright attempt"` + "\n"),
		"other record":      []byte(`{"record":"diary","format":1,"model":"1","seed":"7","units":"inch"}` + "\n"),
		"deeply nested":     bytes.Repeat([]byte("["), 200_000),
		"larger than any":   bytes.Repeat([]byte("x"), 9<<20),
		"head without type": []byte(`{"format":1,"model":"1","seed":"7","units":"inch"}` + "\n"),
	} {
		r, err := read(t, data)
		assert.ErrorIs(t, err, attempt.ErrForeign, what)
		assert.Nil(t, r, what)
	}
}

func TestOtherVersions(t *testing.T) {
	for _, head := range []string{
		`{"record":"shimwright attempt","format":0,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"7","units":"inch"}`,
		`{"record":"shimwright attempt","format":2,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"7","units":"inch"}`,
		`{"record":"shimwright attempt","format":1,"model":"0.9","family":"BEECH","seed":"7","units":"inch"}`,
		// Another format may hold what this program does not know.
		`{"record":"shimwright attempt","format":4,"model":"9","seed":7,"family":["BEECH"]}`,
	} {
		_, err := read(t, []byte(head+"\n"))
		require.ErrorIs(t, err, attempt.ErrOtherVersion, head)
		assert.Contains(t, text.Printer{}.Error(err), "this program has format 1, model "+scenarios.ModelVersion)
	}
}

func TestDamagedHeads(t *testing.T) {
	for what, head := range map[string]string{
		"seed is no number":   `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"seven","units":"inch"}`,
		"seed below zero":     `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"-7","units":"inch"}`,
		"seed too large":      `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"18446744073709551616","units":"inch"}`,
		"seed in hexadecimal": `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"0x7","units":"inch"}`,
		"units unknown":       `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"7","units":"cubits"}`,
		"units by nickname":   `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"7","units":"mm"}`,
		"family unknown":      `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"OAK","seed":"7","units":"inch"}`,
		"family file damaged": `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"OAK","family_file":"code: OAK","seed":"7","units":"inch"}`,
		"more than there is":  `{"record":"shimwright attempt","format":1,"model":"` + scenarios.ModelVersion + `","family":"BEECH","seed":"7","units":"inch","name":"x"}`,
		"kind unknown":        beechHead(`"kind":"axle"`),
		"kind by its default": beechHead(`"kind":"whole"`),
		"fault unknown":       beechHead(`"faults":{"one_of":["rust"]}`),
		"no fault not said":   beechHead(`"faults":{"none":false}`),
		"faults of nothing":   beechHead(`"faults":{}`),
		"left off what is no": beechHead(`"left_off":["fit case"]`),
		"nothing left off":    beechHead(`"left_off":[]`),
		"no way to read drag": beechHead(`"left_off":["measure torque wrench","measure torque string"]`),
		"budget below zero":   beechHead(`"minutes":-1`),
		"budget spelt long":   beechHead(`"minutes":1e2`),
		"mode unknown":        beechHead(`"mode":"fun"`),
		"mode by its default": beechHead(`"mode":"practice"`),
		"help unknown":        beechHead(`"help":"some"`),
		"weight of nothing":   beechHead(`"weights":{"tidy":"major"}`),
		"weight unknown":      beechHead(`"weights":{"sheet-complete":"heavy"}`),
		"no weights":          beechHead(`"weights":{}`),
		"help in an exam":     beechHead(`"mode":"exam","help":"little"`),
		"terms out of order":  beechHead(`"mode":"exam","exercise":"x"`),
	} {
		_, err := read(t, []byte(head+"\n"))
		assert.ErrorIs(t, err, attempt.ErrDamaged, what)
	}
}

// Another seed in the head does not go unnoticed: the first act no longer follows.
func TestReplacedSeed(t *testing.T) {
	data := string(short(t))
	r, err := read(t, []byte(strings.Replace(data, `"seed":"7"`, `"seed":"8"`, 1)))
	require.ErrorIs(t, err, attempt.ErrDamaged)
	assert.Empty(t, r.Entries)
}

// Whoever recomputes the links can write any reading into a file; the replay shows
// something else then.
func TestReplayFindsAnAlteredReading(t *testing.T) {
	b, _ := start(t, 7, quantity.Inch)
	for _, line := range []string{"inspect cups", "fit depth-shim 0.030in", "fit pinion mock-up", "measure depth"} {
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(t, err)
		_, err = b.Do(a)
		require.NoError(t, err)
	}
	forge := func(seed uint64, change func(n int, o *history.Step)) *attempt.Record {
		r := attempt.New(attempt.Terms{}, beech(), "", seed, quantity.Inch)
		for i, o := range b.outs {
			o.Readings = append(o.Readings[:0:0], o.Readings...)
			change(i, &o)
			r.Add(o)
		}
		whole, err := r.Bytes()
		require.NoError(t, err)
		again, err := read(t, whole)
		require.NoError(t, err, "the links are right")
		return again
	}
	_, _, outs, err := attempt.Replay(forge(7, func(int, *history.Step) {}))
	require.NoError(t, err)
	assert.Len(t, outs, 4)

	for what, r := range map[string]*attempt.Record{
		"another height": forge(7, func(n int, o *history.Step) {
			if n == 3 {
				o.Readings[0].Lengths = []quantity.Length{o.Readings[0].Lengths[0] + quantity.Thou(1)}
			}
		}),
		"a reading less": forge(7, func(n int, o *history.Step) {
			if n == 3 {
				o.Readings = nil
			}
		}),
		"a reading more": forge(7, func(n int, o *history.Step) {
			if n == 3 {
				o.Readings = append(o.Readings, o.Readings[0])
			}
		}),
		"another finding": forge(7, func(n int, o *history.Step) {
			if n == 0 {
				o.Readings[0].Finding++
			}
		}),
		"another seed": forge(8, func(int, *history.Step) {}),
		"an act that cannot be done": forge(7, func(n int, o *history.Step) {
			if n == 2 {
				*o = history.Step{Act: act.Act{Form: act.RemoveCase}}
			}
		}),
	} {
		_, stand, outs, err := attempt.Replay(r)
		assert.ErrorIs(t, err, attempt.ErrNotReproducible, what)
		assert.NotNil(t, stand, what)
		assert.Less(t, len(outs), 4, what)
	}
}

// A record that was tampered with in memory does not write itself.
func TestBytesRefusesWhatDoesNotHangTogether(t *testing.T) {
	r, err := read(t, short(t))
	require.NoError(t, err)
	r.Entries[1].Shows = []string{"depth 1nm"}
	_, err = r.Bytes()
	assert.ErrorIs(t, err, attempt.ErrDamaged)
}

// signed is a record of a short job that is signed off, begun and signed at known times.
func signed(t testing.TB) (*attempt.Record, []byte) {
	t.Helper()
	b, _ := start(t, 7, quantity.Inch)
	begun := time.Date(2031, 2, 3, 4, 5, 6, 7, time.FixedZone("", 3600))
	r := attempt.New(attempt.Terms{}, beech(), "", 7, quantity.Inch)
	r.BeginAt(attempt.Begin{At: begun, Earlier: 2})
	file := r.HeaderLine()
	for _, line := range []string{"inspect cups", "fit depth-shim 0.030in", "fit pinion final", "fit side-shims ring-gear 0.070in opposite 0.070in", "fit case", "sign off"} {
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(t, err)
		o, err := b.Stand.Do(a)
		require.NoError(t, err, line)
		file = append(file, r.AddAt(o, begun.Add(90*time.Minute))...)
	}
	return r, file
}

// The signature closes an attempt: it holds length, digest and time, and every line that is
// cut, put in or added shows, also where whoever did it worked the links out again.
func TestTheSignatureClosesAnAttempt(t *testing.T) {
	r, file := signed(t)
	again, err := read(t, file)
	require.NoError(t, err)
	assert.Equal(t, r, again)
	assert.True(t, again.Signed())
	assert.Equal(t, "2031-02-03T03:05:06Z", again.Header.At.Format(time.RFC3339))
	assert.Equal(t, "2031-02-03T04:35:06Z", again.Ended.Format(time.RFC3339))
	assert.Equal(t, 2, again.Header.Earlier)
	_, _, _, err = attempt.Replay(again)
	require.NoError(t, err)

	lines := bytes.SplitAfter(file, []byte("\n"))
	lines = lines[:len(lines)-1]
	var last struct {
		Seal struct {
			Bytes  int
			SHA256 string
		}
	}
	require.NoError(t, json.Unmarshal(lines[len(lines)-1], &last))
	before := bytes.Join(lines[:len(lines)-1], nil)
	assert.Equal(t, len(before), last.Seal.Bytes)
	assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(before)), last.Seal.SHA256)

	cut, err := read(t, before)
	require.NoError(t, err)
	assert.False(t, cut.Signed(), "a line cut off the end leaves an open attempt")

	for what, change := range map[string]func() []byte{
		"a line after the signature": func() []byte { return append(slices.Clone(file), lines[1]...) },
		"the signature twice":        func() []byte { return append(slices.Clone(file), lines[len(lines)-1]...) },
		"another end":                func() []byte { return bytes.Replace(file, []byte("T04:35:06Z"), []byte("T04:25:06Z"), 1) },
		"another beginning":          func() []byte { return bytes.Replace(file, []byte("T03:05:06Z"), []byte("T04:05:06Z"), 1) },
		"fewer tries":                func() []byte { return bytes.Replace(file, []byte(`"earlier_tries":2`), []byte(`"earlier_tries":1`), 1) },
		"a signature without a seal": func() []byte {
			return []byte(regexp.MustCompile(`"seal":\{[^}]*\},`).ReplaceAllString(string(file), ""))
		},
		"a seal on another line": func() []byte {
			return bytes.Replace(file, []byte(`"link"`), []byte(`"seal":{"bytes":1,"sha256":""},"link"`), 1)
		},
		"a time that is none": func() []byte {
			return bytes.Replace(file, []byte("2031-02-03T03:05:06Z"), []byte("2031-02-03T04:05:06+01:00"), 1)
		},
	} {
		_, err := read(t, change())
		assert.ErrorIs(t, err, attempt.ErrDamaged, what)
	}
}

// Two attempts have one mark only where family, kind, faults, bench, budget, weights, exercise,
// mode and help are the same; number, units and times do not enter.
func TestTermsMark(t *testing.T) {
	head := func(terms attempt.Terms, change func(*scenarios.Order)) attempt.Header {
		o := beech()
		if change != nil {
			change(&o)
		}
		return attempt.New(terms, o, "", 7, quantity.Inch).Header
	}
	same := head(attempt.Terms{}, nil)
	other := attempt.New(attempt.Terms{}, beech(), "", 8, quantity.Metric)
	other.BeginAt(attempt.Begin{At: time.Unix(1, 0), Earlier: 4})
	assert.Equal(t, same.TermsMark(), other.Header.TermsMark())
	seen := map[string]bool{same.TermsMark(): true}
	for _, h := range []attempt.Header{
		head(attempt.Terms{Exercise: "x"}, nil),
		head(attempt.Terms{Exercise: "x", Digest: "1"}, nil),
		head(attempt.Terms{Exercise: "x", Digest: "2"}, nil),
		head(attempt.Terms{Help: attempt.NoHelp}, nil),
		head(attempt.Terms{Mode: attempt.Exam, Help: attempt.NoHelp}, nil),
		head(attempt.Terms{Open: attempt.NotCounted}, nil),
		head(attempt.Terms{}, func(o *scenarios.Order) { o.Kind = scenarios.DepthJob }),
		head(attempt.Terms{}, func(o *scenarios.Order) { o.Faults.None = true }),
		head(attempt.Terms{}, func(o *scenarios.Order) { o.Budget.Minutes = 90 }),
		head(attempt.Terms{}, func(o *scenarios.Order) { o.Off = []sim.LeftOff{{Form: act.MeasureSpread}} }),
		head(attempt.Terms{}, func(o *scenarios.Order) { o.Weights = map[string]scenarios.Weight{"total-torque": scenarios.Critical} }),
		head(attempt.Terms{}, func(o *scenarios.Order) { o.Family = family.Shelf()[0] }),
	} {
		assert.False(t, seen[h.TermsMark()])
		seen[h.TermsMark()] = true
	}
}

// A record keeps no name or machine, and no time that it is not told: its head of free practice
// has six fields and its lines have four.
func TestRecordHoldsNothingElse(t *testing.T) {
	for i, l := range bytes.Split(bytes.TrimSpace(short(t)), []byte("\n")) {
		var m map[string]any
		require.NoError(t, json.Unmarshal(l, &m))
		want := []string{"n", "act", "shows", "link"}
		if i == 0 {
			want = []string{"record", "format", "model", "family", "seed", "units"}
		}
		for key := range m {
			assert.Contains(t, want, key)
		}
		assert.Len(t, m, len(want))
	}
}

// Whatever bytes a file holds, reading never panics; what reads writes itself back
// to the same bytes, and what is kept of a spoiled file is a record itself.
func FuzzRead(f *testing.F) {
	data := short(f)
	f.Add(data)
	f.Add(data[:len(data)/2])
	f.Add(data[:bytes.IndexByte(data, '\n')+1])
	f.Add([]byte(strings.Replace(string(data), "cups", "caps", 1)))
	f.Add([]byte(`{"record":"shimwright attempt","format":1}` + "\n"))
	f.Add([]byte(beechHead(`"kind":"depth","faults":{"none":true,"one_of":["seal-tight"]},"left_off":["inspect cups"],"minutes":90,"mode":"exam","help":"none"`) + "\n"))
	f.Add([]byte("inspect cups\n"))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := attempt.Read(bytes.NewReader(data))
		if err != nil {
			if !isTrouble(err) {
				t.Fatalf("an error of no known sort: %v", err)
			}
			if r == nil {
				return
			}
		}
		again, werr := r.Bytes()
		if werr != nil {
			t.Fatalf("what reads does not write: %v", werr)
		}
		if err == nil && !bytes.Equal(again, data) {
			t.Fatalf("reads, but writes itself as %q", again)
		}
		if !bytes.HasPrefix(data, again) {
			t.Fatalf("what is kept, %q, is not the start of the file", again)
		}
	})
}

// Whatever act can be said can be recorded, and reads back as the same act whatever
// units the record is in.
func FuzzAdd(f *testing.F) {
	for _, text := range []string{"inspect cups", "fit depth-shim .0305", "tighten nut to 250", "tighten nut 0.05 turns", "measure backlash 4",
		"record total-torque 24", "fit side-shims ring-gear 70 thou tooth 1.8", "mount indicator heel square pinion-held"} {
		f.Add(text, true)
		f.Add(text, false)
	}
	f.Fuzz(func(t *testing.T, text string, metric bool) {
		units := quantity.Inch
		if metric {
			units = quantity.Metric
		}
		a, err := act.Parse(text, units)
		if err != nil {
			return
		}
		r := attempt.New(attempt.Terms{}, beech(), "", 1, units)
		file := append(r.HeaderLine(), r.Add(history.Step{Act: a})...)
		again, err := attempt.Read(bytes.NewReader(file))
		if err != nil {
			t.Fatalf("%q is recorded as %q, which does not read: %v", text, file, err)
		}
		assert.Equal(t, r, again)
	})
}

// BenchmarkReplay makes the job again and plays a competent attempt on it.
func BenchmarkReplay(b *testing.B) {
	rec, j := start(b, 7, quantity.Inch)
	require.NoError(b, technician.Work(rec, j.Card.Known, technician.Competent()))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, _, err := attempt.Replay(rec.r); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRead reads the record of a competent attempt.
func BenchmarkRead(b *testing.B) {
	rec, j := start(b, 7, quantity.Inch)
	require.NoError(b, technician.Work(rec, j.Card.Known, technician.Competent()))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := attempt.Read(bytes.NewReader(rec.file.Bytes())); err != nil {
			b.Fatal(err)
		}
	}
}

// Acts that were taken back stay in the file and fall away from the job: it goes on as if
// they had never been done, and shows the same as one in which they were not.
func TestActsAreTakenBack(t *testing.T) {
	job, err := beech().Generate(7)
	require.NoError(t, err)
	r := attempt.New(attempt.Terms{Help: attempt.CoachHelp}, beech(), "", 7, quantity.Inch)
	var outs []history.Step
	do := func(lines ...string) {
		stand, err := attempt.Again(job, outs)
		require.NoError(t, err)
		for _, line := range lines {
			a, err := act.Parse(line, quantity.Inch)
			require.NoError(t, err)
			o, err := stand.Do(a)
			require.NoError(t, err, line)
			outs = append(outs, o)
			r.Add(o)
		}
	}
	back := func(n int) {
		_, err := r.TakeBack(n)
		require.NoError(t, err)
		outs = outs[:len(outs)-n]
	}
	stand, err := job.Stand()
	require.NoError(t, err)
	shown, err := stand.Do(act.Act{Form: act.InspectCups})
	require.NoError(t, err)
	outs = append(outs, shown)
	r.AddByCoach(shown)
	do("fit depth-shim 0.030in", "fit pinion mock-up", "measure depth")
	assert.False(t, r.MayTakeBack(5))
	assert.True(t, r.MayTakeBack(4), "all that stand")
	assert.False(t, r.MayTakeBack(0))
	back(3)
	do("fit depth-shim 0.034in", "fit pinion mock-up", "measure depth")
	back(1)
	back(1)
	do("fit pinion final")

	whole, err := r.Bytes()
	require.NoError(t, err)
	again, err := read(t, whole)
	require.NoError(t, err)
	assert.Equal(t, r, again)
	assert.Equal(t, 3, again.TakenBack())
	assert.True(t, again.Entries[0].Coach)
	assert.Len(t, again.Standing(), 3)
	_, stand, replayed, err := attempt.Replay(again)
	require.NoError(t, err)
	assert.Equal(t, outs, replayed)

	plain, err := attempt.Again(job, nil)
	require.NoError(t, err)
	for i, a := range again.Acts() {
		o, err := plain.Do(a)
		require.NoError(t, err)
		assert.Equal(t, o, outs[i], "%s", a)
	}
	assert.Equal(t, plain.Status(), stand.Status())

	for _, forged := range [][2]string{{`"taken_back":3`, `"taken_back":2`}, {`,"by_coach":true`, ``}, {`,"help":"coach"`, ``}} {
		_, err := read(t, bytes.Replace(whole, []byte(forged[0]), []byte(forged[1]), 1))
		assert.True(t, isTrouble(err), "%s: %v", forged[0], err)
	}
}

// Only a coached attempt holds acts of a coach or acts taken back, and nothing that was
// signed off is taken back; whoever recomputes the links is found out.
func TestWhatIsNotTakenBack(t *testing.T) {
	b, _ := start(t, 7, quantity.Inch)
	a, err := act.Parse("inspect cups", quantity.Inch)
	require.NoError(t, err)
	_, err = b.Do(a)
	require.NoError(t, err)
	assert.False(t, b.r.MayTakeBack(1))
	_, err = b.r.TakeBack(1)
	assert.ErrorIs(t, err, attempt.ErrStands)

	coached := attempt.New(attempt.Terms{Help: attempt.CoachHelp}, beech(), "", 7, quantity.Inch)
	coached.Add(history.Step{Act: a})
	coached.Add(history.Step{Act: act.Act{Form: act.SignOff}})
	assert.False(t, coached.MayTakeBack(1))

	shown := attempt.New(attempt.Terms{}, beech(), "", 7, quantity.Inch)
	shown.AddByCoach(history.Step{Act: a})
	whole, err := shown.Bytes()
	require.NoError(t, err)
	_, err = read(t, whole)
	assert.ErrorIs(t, err, attempt.ErrDamaged)
	assert.ErrorContains(t, err, "attempt.no-coach")
}

// Whatever an editor or a mail program does to the ends of lines, a record is itself again; and
// what was changed in it still shows.
func TestRestore(t *testing.T) {
	_, file := signed(t)
	wide := func(order binary.AppendByteOrder, mark ...byte) []byte {
		out := mark
		for _, u := range utf16.Encode([]rune(string(file))) {
			out = order.AppendUint16(out, u)
		}
		return out
	}
	for what, data := range map[string][]byte{
		"as it was":         file,
		"other ends":        bytes.ReplaceAll(file, []byte("\n"), []byte("\r\n")),
		"old ends":          bytes.ReplaceAll(file, []byte("\n"), []byte("\r")),
		"byte-order mark":   append([]byte("\xef\xbb\xbf"), file...),
		"both":              append([]byte("\xef\xbb\xbf"), bytes.ReplaceAll(file, []byte("\n"), []byte("\r\n"))...),
		"no last end":       file[:len(file)-1],
		"empty lines":       append(bytes.Clone(file), "\r\n\r\n"...),
		"UTF-16, small end": wide(binary.LittleEndian, 0xff, 0xfe),
		"UTF-16, big end":   wide(binary.BigEndian, 0xfe, 0xff),
	} {
		assert.Equal(t, string(file), string(attempt.Restore(data)), what)
	}
	for _, data := range [][]byte{nil, []byte("\r"), []byte("\xff\xfe"), []byte("\xff\xfe\x00"), file[:len(file)-3]} {
		_, err := read(t, attempt.Restore(data))
		assert.True(t, isTrouble(err))
	}
	_, err := read(t, attempt.Restore(bytes.Replace(file, []byte("cups"), []byte("caps"), 1)))
	assert.ErrorIs(t, err, attempt.ErrDamaged)
}

// Whatever mail and editors made of a file, it is restored once and for all, and read or refused.
func FuzzRestore(f *testing.F) {
	line := beechHead("") + "\n"
	wide := []byte("\xff\xfe")
	for _, c := range []byte(line) {
		wide = append(wide, c, 0)
	}
	f.Add(wide)
	f.Add([]byte("\ufeff" + strings.ReplaceAll(line, "\n", "\r\n") + "\r\n \x1a"))
	f.Add([]byte("\xfe\xff\xd8\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		once := attempt.Restore(data)
		if again := attempt.Restore(once); !bytes.HasPrefix(once, []byte("\ufeff")) && !bytes.Equal(again, once) {
			t.Fatalf("%q is restored to %q and then to %q", data, once, again)
		}
		if _, err := attempt.ReadRestored(bytes.NewReader(data)); err != nil && !isTrouble(err) {
			t.Fatalf("an error of no known sort: %v", err)
		}
	})
}

// Trouble is told where it is: at a line, in the head, at an act, or of the whole.
func TestTroubleIsToldWhereItIs(t *testing.T) {
	why := text.Say("test.why", "does not read")
	for code, e := range map[string]attempt.Error{
		"attempt.at-line":    {Trouble: attempt.ErrDamaged, Line: 2, Act: 1, Why: why},
		"attempt.at-head":    {Trouble: attempt.ErrDamaged, Line: 1, Why: why},
		"attempt.at-act":     {Trouble: attempt.ErrDamaged, Act: 1, Why: why},
		"attempt.as-a-whole": {Trouble: attempt.ErrDamaged, Why: why},
	} {
		assert.Equal(t, code, e.Tell().Code())
	}
}

// A record is begun before its first act, and never again.
func TestARecordIsBegunOnce(t *testing.T) {
	b, _ := start(t, 7, quantity.Metric)
	b.r.BeginAt(attempt.Begin{At: time.Unix(1000, 0)})
	_, err := b.Do(act.Act{Form: act.InspectCups})
	require.NoError(t, err)
	assert.Panics(t, func() { b.r.BeginAt(attempt.Begin{At: time.Unix(1000, 0)}) })
}
