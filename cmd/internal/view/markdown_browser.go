//go:build js

package view

// rendered leaves Markdown as it reads: a browser has no terminal, its pages are written by
// others, and what dresses a text for one would be half of what a page loads.
func rendered(src string, _ int, _ Style) (string, error) { return src, nil }
