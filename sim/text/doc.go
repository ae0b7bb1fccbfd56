// Package text holds what the program says to people as values that only a Printer can read.
//
// A Message names a text by its code, carries its English, and the domain values that go
// into it: lengths, torques, counts, things typed, other messages. Whoever decides what to
// say makes a Message where the thing stands that it speaks of; whoever talks to a person
// makes a Printer and prints it. In between a Message can be passed on, listed, compared
// for being there at all and written as JSON (its code and its values), but not read, so no
// decision can come to hang on a wording.
//
// English templates hold each value's name in braces:
//
//	text.Say("fit.shelf", "the nearest {what} on the shelf is {size}", text.Of("what", what), text.Length("size", l))
//
// A count chooses between forms: "{n} {n:place|places}". Another language is a file of
// templates by code, laid over the English (Overlay); where it has no template, the English
// stands.
//
// Codes are lower-case words joined by dots and hyphens, each used for one English text. A
// test outside this package reads them from the source, holds them apart and keeps the list
// for translators.
package text
