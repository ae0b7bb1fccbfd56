package text_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func inch() text.Printer { return text.NewPrinter(quantity.Inch, text.Overlay{}) }

func TestPrint(t *testing.T) {
	in := quantity.Thou(30)
	for want, m := range map[string]text.Message{
		"":                                  {},
		"seat clean":                        text.Say("a", "seat clean"),
		"shim 0.0300 in":                    text.Say("a", "shim {size}", text.Length("size", in)),
		"shim 0.0300 in (0.762 mm)":         text.Say("a", "shim {size}", text.BothLength("size", in)),
		"off by +0.0300 in":                 text.Say("a", "off by {d}", text.SignedLength("d", in)),
		"17.0 lb-in":                        text.Say("a", "{t}", text.Torque("t", quantity.InchPounds(17))),
		"250 lb-ft":                         text.Say("a", "{t}", text.Fastener("t", quantity.FootPounds(250))),
		"1 place":                           text.Say("a", "{n} {n:place|places}", text.Count("n", 1)),
		"4 places":                          text.Say("a", "{n} {n:place|places}", text.Count("n", 4)),
		"31 %":                              text.Say("a", "{p}", text.Percent("p", 0.312)),
		"12 min":                            text.Say("a", "{m}", text.Minutes("m", 12.2)),
		"type fit case, sign off or help":   text.Say("a", "type {w}", text.AnyTyped("w", "fit case", "sign off", "help")),
		"caps and seal":                     text.Say("a", "{w}", text.All("w", text.Say("b", "caps"), text.Say("c", "seal"))),
		"no such name {x}":                  text.Say("a", "no such name {x}", text.Count("n", 1)),
		"an open brace {n":                  text.Say("a", "an open brace {n", text.Count("n", 1)),
		"{ as it is, for want of any value": text.Say("a", "{ as it is, for want of any value"),
	} {
		assert.Equal(t, want, inch().Print(m))
	}
	metric := inch().In(quantity.Metric)
	assert.Equal(t, "0.762 mm (0.0300 in)", metric.Print(text.Say("a", "{l}", text.BothLength("l", in))))
}

// What a message holds reaches JSON as values; its wording does not.
func TestJSONHoldsNoWording(t *testing.T) {
	for want, m := range map[string]text.Message{
		`"seat.clean"`: text.Say("seat.clean", "the seat is clean"),
		`{"code":"shim","values":{"n":2,"size":{"mm":0.5}}}`: text.Say("shim", "{n} of {size}", text.Length("size", 0.5), text.Count("n", 2)),
		`"fit case"`: text.Verbatim("fit case"),
		`{"code":"x","values":{"of":["a",{"code":"b","values":{"w":"q"}}]}}`: text.Say("x", "{of}", text.All("of", text.Say("a", "A"), text.Say("b", "{w}", text.Typed("w", "q")))),
	} {
		b, err := json.Marshal(m)
		require.NoError(t, err)
		assert.JSONEq(t, want, string(b))
	}
}

// Another language is a file laid over: its own word order and its own forms of a count.
func TestOverlay(t *testing.T) {
	o, err := text.ParseOverlay([]byte("language: pl\ntexts:\n  places: \"{n:miejsce|miejsca|miejsc}: {n}\"\n"))
	require.NoError(t, err)
	p := text.NewPrinter(quantity.Metric, o)
	for n, want := range map[int]string{-1: "miejsce: -1", -3: "miejsca: -3", 1: "miejsce: 1", 3: "miejsca: 3", 5: "miejsc: 5", 12: "miejsc: 12", 22: "miejsca: 22"} {
		assert.Equal(t, want, p.Print(text.Say("places", "{n} {n:place|places}", text.Count("n", n))))
	}
	assert.Equal(t, "two seats", p.Print(text.Say("seats", "two seats")), "what has no template stays English")
	assert.Equal(t, []string{"places"}, o.Codes())
	for _, bad := range []string{"language: pl\nwords: {}\n", "language: \"!!\"\n", "- a\n"} {
		_, err := text.ParseOverlay([]byte(bad))
		assert.Error(t, err, bad)
	}
}

func TestErrors(t *testing.T) {
	kind := errors.New("kind")
	err := error(text.Fail(kind, text.Say("shelf.none", "no shim of {size}", text.Length("size", 1))))
	assert.ErrorIs(t, err, kind)
	assert.Equal(t, "shelf.none", err.Error())
	assert.Equal(t, "no shim of 0.0394 in", inch().Error(err))
	assert.Equal(t, "line 3: no shim of 0.0394 in", inch().Error(fmt.Errorf("line 3: %w", err)), "what stands around it stays")
	assert.Equal(t, "kind", inch().Error(kind), "an error from elsewhere says what it says")
	_, err = quantity.ParseSystem("cubits")
	assert.Equal(t, `there are no units "cubits": use inch or metric`, inch().Error(err))
	for typed, want := range map[string]string{
		"seven":      `"seven" is not an amount: write a number and its unit`,
		"7":          `"7" needs a unit, such as in`,
		"5 furlongs": `there is no unit "furlongs" in "5 furlongs": use in,`,
	} {
		_, err := quantity.ParseEntered(typed, "")
		assert.Contains(t, inch().Print(text.Reason(fmt.Errorf("outer: %w", err))), want)
	}
	assert.Equal(t, text.Verbatim("kind"), text.Reason(kind))
	assert.Equal(t, `"fit case"`, text.Fail(nil, text.Verbatim("fit case")).Error())
}

// turns is an amount that text has no kind of its own for.
type turns float64

func (n turns) Show(u quantity.System) string {
	if u == quantity.Metric {
		return quantity.Decimal(float64(n), 0)
	}
	return quantity.Decimal(float64(n), 1)
}

func (n turns) Data() any { return map[string]float64{"turns": float64(n)} }

// An amount from elsewhere writes itself in the reader's units, and its data reaches JSON.
func TestShown(t *testing.T) {
	m := text.Say("a", "{n} turns", text.Shown("n", turns(2.25)))
	assert.Equal(t, "2.2 turns", inch().Print(m))
	assert.Equal(t, "2 turns", inch().In(quantity.Metric).Print(m))
	b, err := json.Marshal(m)
	require.NoError(t, err)
	assert.JSONEq(t, `{"code":"a","values":{"n":{"turns":2.25}}}`, string(b))
}

func TestBlanks(t *testing.T) {
	assert.Equal(t, []string{"n", "n", "size"}, text.Blanks("{n} {n:a|b} of {size}"))
}

// Whatever a file of texts holds, it is refused or prints.
func FuzzOverlay(f *testing.F) {
	for _, s := range []string{"language: pl\ntexts:\n  a: \"{n:miejsce|miejsca|miejsc}: {n}\"\n", "language: es\ntexts: {a: '{size} {who} {gone}', b: '{{}'}", "language: ar\ntexts: {a: '{n:|||||||}'}",
		"language: und\ntexts:\n  a: '{of}{of:x}{n:'", "texts: {a: b}", "language: &x [*x]", ""} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		o, err := text.ParseOverlay(file)
		if err != nil {
			if inch().Error(err) == "" {
				t.Fatal("an error without a word")
			}
			return
		}
		p := text.NewPrinter(quantity.Metric, o)
		for _, code := range append(o.Codes(), "a") {
			for _, n := range []int{-1, 0, 1, 5, 1e9} {
				p.Print(text.Say(code, "{n} {size} {who} {of}", text.Count("n", n), text.Length("size", 1), text.Typed("who", "{n}"), text.All("of", text.Say("b", "B"))))
			}
		}
	})
}

// What of another language does not fit the English is told with its line and code.
func TestMisfits(t *testing.T) {
	parse := func(s string) text.Overlay {
		o, err := text.ParseOverlay([]byte(s))
		require.NoError(t, err)
		return o
	}
	english := parse("language: en\ntexts:\n  a.shim: \"shim {size}\"\n  a.acts: \"{n} {n:act|acts}\"\n")
	assert.Empty(t, parse("language: pl\ntexts:\n  a.acts: \"{n:czyn|czyny|czynów}: {n}\"\n").Misfits(english))
	var said []string
	for _, m := range parse("language: es\ntexts:\n  # a note\n  a.shim: \"suplemento\"\n  a.none: \"nada\"\n  a.acts: \"{n} de {m}\"\n").Misfits(english) {
		said = append(said, inch().Print(m))
	}
	assert.Equal(t, []string{"line 4: a.shim lacks the value {size}", "line 5: no text has the code a.none", "line 6: a.acts has no value {m}"}, said)
}
