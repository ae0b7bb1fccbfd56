package layout

import "strings"

// A row is one package: what it is for, in a line for the map in DEVELOPERS.md, and which
// packages of ours it may import.
type row struct {
	pkg, what, may string
}

// order is the whole import order, from the ground up. A package imports only from rows
// above its own, so there can be no cycle, and of those only what its own row lists.
// Packages whose name ends in "test" are for tests: only test files and other such
// packages import them. An empty row begins a new part of the map.
func order() []row {
	return []row{
		{"sim/quantity", "typed amounts: reads and writes inch and metric", ""},
		{"sim/text", "what the program says to people, as values; only cmd makes a printer", "sim/quantity"},
		{"sim/rng", "named random streams", ""},
		{"sim/solve", "bracketed root finder", ""},
		{"sim/longtest", "how large a sample a statistical test draws", ""},
		{"sim/checkstest", "the tables of outside figures; testdata/checks/CHECKS.md", ""},
		{"sim/uncertaintytest", "combining measurement errors", ""},
		{"sim/mesh", "tooth geometry, backlash, contact pattern", "sim/quantity sim/solve sim/text"},
		{"sim/bearing", "taper roller deflection, friction, fits", "sim/quantity sim/text"},
		{"sim/pinion", "nut, thread, collapsible or solid spacer, preload", "sim/bearing sim/quantity sim/solve sim/text"},
		{"sim/carrier", "side bearings in a housing that spreads; total rotating torque", "sim/bearing sim/quantity sim/text"},
		{"sim/carrier/axletest", "one complete axle with every number written out", "sim/bearing sim/carrier sim/checkstest sim/pinion"},
		{"sim/service", "what a finished axle would meet in use: load, bearings, heat, clamp", "sim/bearing sim/carrier sim/mesh sim/solve"},
		{"sim/setup", "the trade's arithmetic on paper", "sim/quantity sim/text"},
		{"sim/datasheet", "the strict reader of hand-written YAML files", "sim/quantity sim/text"},
		{"sim/family", "axle families: specification sheet, nominal parameters, spreads", "sim/bearing sim/carrier sim/datasheet sim/mesh sim/pinion sim/quantity sim/setup sim/solve sim/text"},
		{"sim/act", "every act as one line of text and back", "sim/quantity sim/text"},
		{"sim/shop", "minutes of acts and prices of parts", "sim/act sim/family sim/text"},
		{"sim/gauge", "instruments: true value in, reading out", "sim/act sim/quantity sim/rng sim/text"},
		{"sim/history", "what anyone at the bench can see and feel, act by act", "sim/act sim/gauge sim/quantity sim/shop sim/text"},
		{"sim/truth", "the hidden state in a sealed envelope", "sim/mesh"},
		{"sim/fault", "the faults an axle can come with", "sim/act sim/family sim/gauge sim/history sim/quantity sim/rng sim/shop sim/text sim/truth"},
		{"sim/assembly", "one axle put together: hidden state and fitted parts in, true state out", "sim/bearing sim/carrier sim/family sim/mesh sim/pinion sim/truth"},
		{"sim", "the Stand: acts in, steps out", "sim/act sim/assembly sim/bearing sim/carrier sim/family sim/fault sim/gauge sim/history sim/mesh sim/pinion sim/quantity sim/rng sim/shop sim/text sim/truth"},
		{"sim/explore", "an open nominal axle, or half of one from a file: settings in, true state and readings out", "sim sim/act sim/assembly sim/bearing sim/carrier sim/datasheet sim/family sim/fault sim/gauge sim/mesh sim/pinion sim/quantity sim/rng sim/solve sim/text"},
		{},
		{"scenarios/technician", "works a job and sees only what a trainee sees", "sim sim/act sim/family sim/fault sim/gauge sim/history sim/quantity sim/setup sim/text"},
		{"scenarios/mistake", "what a previous technician may have done wrong, one value each", "scenarios/technician sim sim/act sim/family sim/fault sim/history sim/quantity sim/text"},
		{"scenarios/verdict", "the true finish against the specification sheet", "sim sim/act sim/family sim/fault sim/gauge sim/history sim/quantity sim/text sim/truth"},
		{"scenarios", "the job generator", "scenarios/mistake scenarios/technician scenarios/verdict sim sim/act sim/family sim/fault sim/history sim/mesh sim/quantity sim/rng sim/shop sim/text sim/truth"},
		{"scenarios/scenariostest", "whole jobs, a family's gears worked out once; what an axle hides, as it would be written", "scenarios sim/family sim/quantity sim/truth"},
		{"scenarios/misconception", "misconceptions, one value each: how one who holds it works, and what shows it", "scenarios scenarios/mistake scenarios/technician sim sim/act sim/family sim/fault sim/gauge sim/history sim/quantity sim/text"},
		{"scenarios/peopletest", "simulated technicians: other schools, hostile ones, misconceptions and mixtures", "scenarios scenarios/misconception scenarios/mistake scenarios/technician sim sim/act sim/family sim/gauge sim/history sim/quantity sim/rng"},
		{"scenarios/catalogue", "faults and mistakes in one list; testdata/faults.md", "scenarios/mistake scenarios/technician sim/act sim/family sim/fault sim/text"},
		{"scenarios/attempt", "the attempt record, what it is made on, and its replay", "scenarios sim sim/act sim/family sim/fault sim/history sim/quantity sim/shop sim/text"},
		{"scenarios/exercise", "exercise files, and the ready ones", "scenarios scenarios/attempt scenarios/technician sim sim/datasheet sim/family sim/fault sim/quantity sim/shop sim/text"},
		{"scenarios/drill", "questions of one decision, with figures from the model", "scenarios/catalogue sim sim/act sim/assembly sim/explore sim/family sim/fault sim/gauge sim/mesh sim/quantity sim/rng sim/setup sim/text"},
		{},
		{"grading/belief", "a Gaussian for every set of faults, weighed by readings", ""},
		{"grading/cost", "what everything costs, as one table; testdata/default.yaml", "sim/act sim/datasheet sim/family sim/fault sim/history sim/shop sim/text"},
		{"grading/misconception", "which misconception would explain the acts", "scenarios scenarios/misconception sim sim/family sim/history sim/text"},
		{"grading/acceptance", "the acceptance list of the trade: what has to be right, and what the steps of a job prove of it", "scenarios sim sim/act sim/family sim/gauge sim/history sim/quantity sim/text"},
		{"grading/inference", "what could be believed of an axle: a fold over the steps", "grading/belief grading/cost scenarios scenarios/technician sim sim/act sim/assembly sim/carrier sim/family sim/fault sim/gauge sim/history sim/pinion sim/quantity"},
		{"grading/ledger", "the book of a job: what every act cost beyond the reference way of working", "grading/cost grading/inference scenarios sim sim/act sim/family sim/fault sim/gauge sim/history sim/quantity sim/shop"},
		{"grading", "the book, the acceptance list, the score, decisions; sees no truth", "grading/acceptance grading/cost grading/inference grading/ledger grading/misconception scenarios sim sim/act sim/family sim/fault sim/gauge sim/history sim/quantity sim/shop sim/text"},
		{"grading/coach", "what each decision of a job cost and why, said at once", "grading scenarios sim/history sim/text"},
		{"grading/difficulty", "how hard a job is, by technicians who work it; not for attempts", "grading grading/cost scenarios scenarios/exercise scenarios/mistake scenarios/technician scenarios/verdict sim sim/fault sim/history sim/quantity sim/text"},
		{"grading/form", "parallel forms from measured jobs", "grading/difficulty scenarios scenarios/mistake scenarios/technician sim sim/family sim/text"},
		{"grading/reveal", "what the axle really was and will cost, and luck; opens the envelope after sign-off", "grading grading/cost scenarios scenarios/mistake scenarios/technician scenarios/verdict sim sim/act sim/bearing sim/carrier sim/family sim/fault sim/history sim/mesh sim/quantity sim/service sim/solve sim/text sim/truth"},
		{"grading/whatif", "an attempt with one act replaced", "grading grading/reveal scenarios scenarios/technician sim sim/act sim/history sim/quantity sim/shop sim/text"},
		{"grading/stakes", "whether a table of costs makes good work worth while", "grading/cost grading/ledger grading/reveal scenarios scenarios/technician sim sim/act sim/family sim/history"},
		{"grading/debrief", "all that a debrief tells, as one value", "grading grading/acceptance grading/cost grading/reveal scenarios scenarios/attempt sim sim/act sim/gauge sim/history sim/quantity sim/text"},
		{"grading/skill", "how much of a coach a person still needs, by the grades of the last jobs", "grading scenarios/misconception sim/text"},
		{"grading/class", "the attempts of a class, as one value", "grading grading/cost grading/debrief grading/misconception grading/skill scenarios scenarios/attempt sim sim/act sim/quantity sim/text"},
		{"grading/validity", "the grader on trial: a panel of simulated trainees and its statistics", ""},
		{},
		{"lessons/figure", "what a lesson asks a figure to show, and what a figure is", ""},
		{"lessons", "the texts of the course, their order and groups, and sheets to print", "lessons/figure"},
		{"lessons/glossary", "the words of the trade as one table", ""},
		{"lessons/tasklist", "what trains each task of the trade, and the published lists that ask for it", ""},
		{},
		{"cmd/internal/term", "streams and terminal", "sim/text"},
		{"cmd/internal/language", "another language laid over the texts: a file, and all texts in English", "sim/datasheet sim/text"},
		{"cmd/internal/line", "the loop of typed lines", "cmd/internal/term sim/text"},
		{"cmd/internal/exit", "what ended a command, as an exit code", "grading/cost scenarios/attempt scenarios/exercise sim/explore sim/family sim/text"},
		{"cmd/internal/job", "which job is asked for, and how it is asked for again", "cmd/internal/exit cmd/internal/term scenarios scenarios/attempt sim/datasheet sim/family sim/fault sim/rng sim/text"},
		{"cmd/internal/picture", "patterns, charts and bars as text, SVG and PNG", "sim/gauge sim/text"},
		{"cmd/internal/figure", "the figures of the lessons, computed", "cmd/internal/picture lessons/figure sim/explore sim/family sim/gauge sim/mesh sim/quantity"},
		{"cmd/internal/view", "values to text, Markdown and pages", "cmd/internal/figure cmd/internal/picture grading grading/acceptance grading/class grading/debrief grading/form grading/misconception grading/reveal grading/whatif lessons lessons/figure lessons/glossary lessons/tasklist scenarios scenarios/attempt scenarios/catalogue scenarios/drill scenarios/exercise scenarios/technician sim sim/act sim/carrier sim/datasheet sim/explore sim/family sim/fault sim/gauge sim/history sim/mesh sim/quantity sim/setup sim/shop sim/text"},
		{"cmd/internal/store", "attempt files, and the folder that a person's own are in", "cmd/internal/exit cmd/internal/picture scenarios/attempt sim/datasheet sim/history sim/quantity sim/text"},
		{"cmd/internal/records", "the records of a class in a database: pupils, what is set, attempts act by act", "sim/text"},
		{"cmd/internal/recordstest", "every database that records can be kept in", "cmd/internal/records sim/longtest"},
		{"cmd/internal/bench", "the core of every face at the bench: what can be done, doing it, taking it back", "grading grading/acceptance grading/coach grading/cost grading/debrief grading/skill scenarios scenarios/attempt scenarios/technician sim sim/act sim/family sim/gauge sim/history sim/quantity sim/shop sim/text"},
		{"cmd/internal/screen", "the bench as a full screen: a pure drawing, a model of keys, and the program that joins them to a terminal", "cmd/internal/bench cmd/internal/picture cmd/internal/term cmd/internal/view grading/coach scenarios/attempt sim/act sim/family sim/gauge sim/history sim/quantity sim/text"},
		{"cmd/internal/web", "the bench in a browser: pages made on the server, and what keeps the attempts", "cmd/internal/bench cmd/internal/job cmd/internal/picture cmd/internal/store cmd/internal/view grading/class grading/coach grading/cost grading/debrief grading/difficulty grading/skill lessons lessons/glossary scenarios scenarios/attempt scenarios/drill scenarios/exercise sim/act sim/family sim/gauge sim/history sim/quantity sim/text"},
		{"cmd/internal/web/keepertest", "what every keeper of a web bench promises", "cmd/internal/web scenarios scenarios/attempt sim sim/act sim/family sim/quantity"},
		{"cmd/internal/practice", "a job worked at the terminal", "cmd/internal/bench cmd/internal/exit cmd/internal/job cmd/internal/line cmd/internal/screen cmd/internal/store cmd/internal/term cmd/internal/view grading/class grading/coach grading/cost grading/debrief lessons scenarios scenarios/attempt sim sim/act sim/datasheet sim/family sim/history sim/quantity sim/text"},
		{"cmd/internal/drills", "drills at the terminal", "cmd/internal/job cmd/internal/line cmd/internal/term cmd/internal/view lessons scenarios/drill sim/quantity sim/text"},
		{"cmd/internal/classroom", "the rules of a class: who comes in, what is set, how all are getting on, results, hand-back", "cmd/internal/bench cmd/internal/records cmd/internal/view cmd/internal/web grading grading/class grading/cost grading/difficulty scenarios scenarios/attempt scenarios/exercise sim/act sim/text"},
		{"cmd/internal/classweb", "a class in a browser: the instructor's pages and the pupils'", "cmd/internal/bench cmd/internal/classroom cmd/internal/records cmd/internal/view cmd/internal/web scenarios/attempt scenarios/exercise sim/quantity"},
		{"cmd/internal/site", "the web bench as a folder of files: the program built for a page, and what loads it", "cmd/internal/web"},
		{"cmd/internal/cli", "the commands: flags in, one call, exit code out", "cmd/internal/bench cmd/internal/classroom cmd/internal/classweb cmd/internal/drills cmd/internal/exit cmd/internal/job cmd/internal/language cmd/internal/line cmd/internal/practice cmd/internal/records cmd/internal/screen cmd/internal/site cmd/internal/store cmd/internal/term cmd/internal/view cmd/internal/web grading grading/class grading/coach grading/cost grading/debrief grading/difficulty grading/form grading/reveal grading/stakes grading/whatif lessons lessons/glossary scenarios scenarios/attempt scenarios/catalogue scenarios/drill scenarios/exercise scenarios/mistake scenarios/technician sim sim/act sim/datasheet sim/explore sim/family sim/history sim/quantity sim/text"},
		{"cmd/internal/handout", "what an archive holds beside the program: README, man pages, completions, licenses", ""},
		{"cmd/internal/corpustest", "a corpus of attempts, graded on every kind of machine", "cmd/internal/picture cmd/internal/view grading/cost grading/debrief scenarios scenarios/attempt scenarios/peopletest sim/act sim/family sim/history sim/longtest sim/quantity sim/text"},
		{"cmd/internal/layout", "this order, the words, and other rules of the source, as tests", ""},
		{"cmd/wasm", "main of the bench in a page, over a store in the browser", "cmd/internal/web scenarios/attempt"},
		{"cmd/mutate", "whether the tests notice a wrong sign; for developers", ""},
		{"cmd/handout", "main of what makes the archives", "cmd/internal/cli cmd/internal/handout"},
		{"cmd/shimwright", "main", "cmd/internal/cli cmd/internal/term"},
	}
}

// libraries are the modules that our code uses outside tests, each with the only packages
// that may. A library without a line here belongs to nobody.
func libraries() map[string][]string {
	return map[string][]string{
		"charm.land/bubbletea/v2":               {"cmd/internal/screen"},
		"github.com/charmbracelet/colorprofile": {"cmd/internal/screen"},
		"github.com/charmbracelet/glamour":      {"cmd/internal/view"},
		"github.com/charmbracelet/x/ansi":       {"cmd/internal/screen", "cmd/internal/view"},
		"github.com/goccy/go-yaml":              {"sim/datasheet", "sim/text"},
		"github.com/jackc/pgx/v5":               {"cmd/internal/records", "cmd/internal/recordstest"},
		"github.com/mattn/go-runewidth":         {"cmd/internal/picture"},
		"github.com/pressly/goose/v3":           {"cmd/internal/records"},
		"github.com/spf13/cobra":                {"cmd/internal/cli", "cmd/internal/handout"}, // its man pages need go-md2man, there alone
		"github.com/spf13/pflag":                {"cmd/internal/cli"},
		"github.com/stretchr/testify":           {"cmd/internal/recordstest", "cmd/internal/web/keepertest", "sim/carrier/axletest", "sim/checkstest"},
		"github.com/yuin/goldmark":              {"cmd/internal/view"},
		"golang.org/x/crypto":                   {"cmd/internal/classroom"},
		"golang.org/x/exp/rand":                 {"sim/rng"},
		"golang.org/x/image":                    {"cmd/internal/picture"},
		"golang.org/x/sys/unix":                 {"cmd/internal/store", "cmd/internal/term"},
		"golang.org/x/sys/windows":              {"cmd/internal/store"},
		"golang.org/x/term":                     {"cmd/internal/term"},
		"golang.org/x/text":                     {"sim/text", "cmd/internal/records"},
		"golang.org/x/time":                     {"cmd/internal/web"},
		"modernc.org/sqlite":                    {"cmd/internal/records"},
		"rsc.io/qr":                             {"cmd/internal/web"},
	}
}

// A guard names functions of one package that only some parts may use, whatever else they
// import of it. Packages under yet still use them and are to stop; the test fails for one
// that has.
type guard struct {
	pkg       string
	functions []string
	parts     []string
	yet       []string
}

func guards() []guard {
	return []guard{
		{"sim/truth", []string{"Open", "Seal"}, []string{"sim", "scenarios", "grading/reveal"}, nil},
		{"sim/text", []string{"NewPrinter", "Printer{}"}, []string{"cmd"}, nil},
	}
}

// knowers are the only packages whose rows may list a package that holds what a trainee
// must not see.
func knowers() map[string][]string {
	return map[string][]string{
		"sim/truth":         {"sim", "sim/assembly", "sim/fault", "scenarios", "scenarios/scenariostest", "scenarios/verdict", "grading/reveal"},
		"scenarios/verdict": {"scenarios", "grading/difficulty", "grading/reveal"},
	}
}

// ruleOf returns a package's row.
func ruleOf(pkg string) (row, bool) {
	for _, r := range order() {
		if r.pkg == pkg && pkg != "" {
			return r, true
		}
	}
	return row{}, false
}

func (r row) imports() []string { return strings.Fields(r.may) }

// forTests tells whether a package is for tests alone.
func forTests(pkg string) bool { return strings.HasSuffix(pkg, "test") }
