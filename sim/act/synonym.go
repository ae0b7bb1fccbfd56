package act

import (
	"slices"
	"strings"
	"sync"
)

// A Synonym is another way of the shop to say a part of an act.
type Synonym struct {
	Said, Meant string // words, in lower case; Meant may be empty for words that add nothing
}

// Synonyms lists the words that are understood beside those of the catalogue, longer ones
// first where one begins with another.
func Synonyms() []Synonym {
	return []Synonym{
		// Words of the catalogue that people write apart.
		{"depth shim", "depth-shim"}, {"side shims", "side-shims"}, {"side shim", "side-shims"}, {"side-shim", "side-shims"},
		{"preload shims", "preload-shims"}, {"preload shim", "preload-shims"}, {"preload-shim", "preload-shims"},
		{"ring gear adjuster", "ring-gear-adjuster"}, {"ring-gear adjuster", "ring-gear-adjuster"}, {"opposite adjuster", "opposite-adjuster"},
		{"ring gear shim", "ring-gear-shim"}, {"ring-gear shim", "ring-gear-shim"}, {"opposite shim", "opposite-shim"},
		{"ring gear side", "ring-gear"}, {"ring-gear side", "ring-gear"}, {"opposite side", "opposite"}, {"tooth side", "opposite"}, {"back side", "ring-gear"}, {"ring gear", "ring-gear"},
		{"pinion end play", "pinion-end-play"}, {"end play", "end-play"}, {"pinion runout", "pinion-runout"},
		{"case runout", "case-runout"}, {"radial runout", "radial-runout"}, {"shim seat", "shim-seat"}, {"axle shafts", "axle-shafts"},
		{"pinion held", "pinion-held"}, {"pinion free", "pinion-free"}, {"pinion torque", "pinion-torque"}, {"total torque", "total-torque"},
		{"mock up", "mock-up"}, {"mockup", "mock-up"}, {"sign-off", "sign off"}, {"signoff", "sign off"},
		// Other words of the shop.
		{"check backlash", "measure backlash"}, {"check runout", "measure runout"}, {"check depth", "measure depth"}, {"check torque", "measure torque"},
		{"check end play", "measure end-play"}, {"check end-play", "measure end-play"}, {"read", "measure"}, {"spin", "turn"}, {"pinion nut", "nut"}, {"paint tooth", "paint teeth"},
		{"look at", "inspect"}, {"look", "inspect"}, {"check", "inspect"}, {"examine", "inspect"}, {"install", "fit"},
		{"turn nut", "tighten nut"}, {"back off nut", "loosen nut"}, {"back nut", "loosen nut"}, {"slacken", "loosen"}, {"back", "ring-gear"}, {"tooth", "opposite"},
		{"crush sleeve", "spacer"}, {"crush collar", "spacer"}, {"collapsible spacer", "spacer"},
		{"carrier bearings", "cones"}, {"differential bearings", "cones"}, {"side bearings", "cones"}, {"bearing caps", "caps"},
		{"turning torque", "torque rotating"}, {"rotating torque", "torque rotating"}, {"breakaway torque", "torque breakaway"}, {"starting torque", "torque breakaway"},
		{"drag turning", "torque rotating"}, {"drag", "torque"}, {"first pull", "breakaway"}, {"starting", "breakaway"}, {"turning", "rotating"},
		{"cord", "string"}, {"fish scale", "string"}, {"spring scale", "string"}, {"low-range wrench", "wrench"},
		{"pinion play", "pinion-end-play"}, {"back face runout", "runout"}, {"back-face runout", "runout"}, {"rim runout", "radial-runout"},
		{"shim pack", "preload-shims"}, {"pack", "preload-shims"}, {"trial", "mock-up"}, {"dry", "mock-up"},
		{"marking compound", "teeth"}, {"compound", "teeth"}, {"brake", "braked"},
		{"cup", "cups"}, {"bearing", "bearings"}, {"cone", "cones"}, {"cap", "caps"}, {"bolt", "bolts"}, {"shafts", "axle-shafts"}, {"shaft", "axle-shafts"}, {"gear", "gears"},
		{"notches", ""}, {"notch", ""}, {"slots", ""}, {"slot", ""}, {"holes", ""}, {"places", ""}, {"place", ""}, {"the", ""}, {"a", ""},
	}
}

// split is a synonym as words.
type split struct{ said, meant []string }

// byFirstWord finds the synonyms that begin with a word, in the order of the list.
var byFirstWord = sync.OnceValue(func() map[string][]split {
	out := map[string][]split{}
	for _, s := range Synonyms() {
		said := strings.Fields(s.Said)
		out[said[0]] = append(out[said[0]], split{said, strings.Fields(s.Meant)})
	}
	return out
})

// understand puts the catalogue's words in the place of others.
func understand(words []string) []string {
	out := make([]string, 0, len(words))
	for i := 0; i < len(words); {
		n, meant := 1, words[i:i+1]
		for _, s := range byFirstWord()[words[i]] {
			if len(s.said) <= len(words)-i && slices.Equal(s.said, words[i:i+len(s.said)]) {
				n, meant = len(s.said), s.meant
				break
			}
		}
		out = append(out, meant...)
		i += n
	}
	return out
}
