package lessons

// refusals maps the code of what stands in the way of an act to the lesson that says why it
// does. What is no more than said already, or no part of the trade, has none.
func refusals() map[string]string {
	return map[string]string{
		"not.caps-grip":             "bearing-adjusters",
		"not.case-in-the-way":       "teardown",
		"not.case-not-in":           "bearing-adjusters",
		"not.case-not-in-shims":     "side-total",
		"not.gauge-needs-bores":     "depth-gauge",
		"not.indicator-not-mounted": "backlash-reading",
		"not.mock-up-nut":           "mock-up",
		"not.no-adjusters":          "preload-design",
		"not.no-case-to-sign":       "check-again",
		"not.no-depth-shim":         "depth-mark",
		"not.no-depth-shim-in-hand": "depth-mark",
		"not.no-preload-shims":      "solid-spacer",
		"not.no-preload-shims-here": "preload-design",
		"not.no-shaft-without-case": "teardown",
		"not.no-side-shims":         "preload-design",
		"not.no-side-shims-chosen":  "side-total",
		"not.no-side-shims-in-hand": "side-total",
		"not.no-slinger":            "cage-shim",
		"not.not-final":             "mock-up",
		"not.not-spread":            "spread-and-caps",
		"not.nothing-to-sign":       "check-again",
		"not.off-shelf":             "side-shims",
		"not.out-of-mesh":           "backlash-reading",
		"not.out-of-thread":         "bearing-adjusters",
		"not.own-bearings":          "reuse-or-replace",
		"not.own-gears":             "used-gears",
		"not.past-wrench":           "crush-spacer",
		"not.pinion-in-the-way":     "teardown",
		"not.pinion-not-in":         "mock-up",
		"not.seal-in":               "seal-and-nut",
		"not.solid-spacer":          "solid-spacer",
		"not.spacer-in":             "crush-spacer",
		"not.spread-too-far":        "spread-and-caps",
		"not.teeth-bare":            "make-a-pattern",
		"not.too-far-a-pull":        "crush-spacer",
	}
}

// ForRefusal returns the lesson on what stands in the way of an act, by the code of the
// reason; ok is false where there is nothing to learn from it.
func ForRefusal(code string) (id string, ok bool) {
	id, ok = refusals()[code]
	return id, ok
}
