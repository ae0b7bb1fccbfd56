// Package handout makes what an archive of the program holds beside the program itself: the
// README for people without the source, man pages, completions for shells, and the licenses of
// all that is linked into it. It works in a copy of the source with Go installed; the program
// itself does not use it.
//
// The licenses are gathered by a walk of our own over "go list -deps". The tool most used for it
// looks at one system at a time, leaves out the license of Go itself and stops at a license it
// cannot classify; here the text is handed on whole, and a module without one is an error.
package handout
