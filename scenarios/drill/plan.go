package drill

import (
	"fmt"

	"shimwright/sim/family"
	"shimwright/sim/rng"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// An Order says what is to be asked.
type Order struct {
	Seed     uint64
	Count    int
	Kinds    []Kind          // none: all that the families allow
	Families []family.Family // to draw from
}

// MostDrills is how many can be asked in one go.
const MostDrills = 200

// Plan lays out the drills of an order. Kinds are mixed: all come round before one comes
// again, and none twice running where there is another. Errors: a count that is not from
// 1 to MostDrills; a kind that fits none of the families.
func (o Order) Plan() ([]Item, error) {
	if o.Count < 1 || o.Count > MostDrills {
		return nil, text.Fail(nil, text.Say("drill.count", "{n} questions are asked for: a round has from 1 to {most}", text.Count("n", o.Count), text.Count("most", MostDrills)))
	}
	fitting := map[Kind][]family.Family{}
	var kinds []Kind
	asked := o.Kinds
	if len(asked) == 0 {
		asked = Kinds()
	}
	for _, k := range asked {
		var why error
		for _, f := range o.Families {
			if err := k.Fits(f); err != nil {
				why = err
				continue
			}
			fitting[k] = append(fitting[k], f)
		}
		switch {
		case len(fitting[k]) > 0:
			kinds = append(kinds, k)
		case len(o.Kinds) > 0 && why != nil:
			return nil, why
		}
	}
	if len(kinds) == 0 {
		return nil, text.Fail(nil, text.Say("drill.no-family", "there is no axle family to ask about"))
	}
	order := rng.Stream(o.Seed, "drill/order")
	var out []Item
	for len(out) < o.Count {
		round := shuffled(kinds, order)
		if n := len(out); n > 0 && len(round) > 1 && round[0] == out[n-1].Kind {
			last := len(round) - 1
			round[0], round[last] = round[last], round[0]
		}
		for _, k := range round {
			n := len(out) + 1
			if n > o.Count {
				break
			}
			s := rng.Stream(o.Seed, fmt.Sprintf("drill/family/%d", n))
			out = append(out, Item{Kind: k, Family: pick(k, fitting[k], s), Seed: o.Seed, N: n})
		}
	}
	return out, nil
}

// shuffled returns the kinds in another order.
func shuffled(kinds []Kind, s rng.Source) []Kind {
	out := append([]Kind(nil), kinds...)
	for i := len(out) - 1; i > 0; i-- {
		k := s.Whole(i + 1)
		out[i], out[k] = out[k], out[i]
	}
	return out
}

// pick draws a family. For marks it draws the convention first, and for a checking
// distance the shim's place, so that the rare comes up as often as the common.
func pick(k Kind, from []family.Family, s rng.Source) family.Family {
	switch k {
	case DepthMark:
		from = oneGroup(from, s, func(f family.Family) setup.MarkConvention { return f.Sheet.Marks })
	case CheckingDistance:
		from = oneGroup(from, s, func(f family.Family) family.DepthShimPlace { return f.Design.DepthShim })
	}
	return from[s.Whole(len(from))]
}

// oneGroup keeps the families that are alike in one thing, drawn evenly from what there is.
func oneGroup[T comparable](from []family.Family, s rng.Source, of func(family.Family) T) []family.Family {
	var order []T
	groups := map[T][]family.Family{}
	for _, f := range from {
		t := of(f)
		if groups[t] == nil {
			order = append(order, t)
		}
		groups[t] = append(groups[t], f)
	}
	return groups[order[s.Whole(len(order))]]
}
