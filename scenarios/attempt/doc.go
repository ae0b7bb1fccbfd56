// Package attempt keeps what a trainee did as an append-only record, one act a
// line, and plays it again.
//
// A record is JSON lines. The first names the format, the model version, the order of the
// job (family, kind, rule for faults, what the bench does without, budget), its seed, the
// terms of the exercise if it is one, and the units the trainee works in: a replay and a
// grade need nothing else. Each further line has the act exactly as
// it can be typed, a compact code of what it showed, and a link. On a coached job a line may
// be of an act that the coach did, or say instead how many of the acts before it were taken
// back: those stay in the file and fall away from the job. The link is the
// beginning of the SHA-256 over the link before it and the line's content, so a line that
// was changed, lost or moved is noticed. Names and machine are not kept.
//
// The signature is the last line and closes the attempt: in it stand the length and the digest
// of all before it. So a line cut off the end shows: the attempt is open then. The head holds
// when the attempt was begun and how many earlier ones at the same job its folder held, the
// signature when it was made, where a face has asked a clock; the package asks none. There is
// no key in a record: who can write files can write one from the beginning, with links, seal
// and times of their choice.
//
// A grade depends on version, seed and acts alone. The codes of what was shown let
// a replay prove that it reproduces the attempt; they are never an input to the
// grade.
//
// Reading sorts trouble into three: a foreign file (never was a record), a damaged
// one (a line was changed), and one cut short (the last line is incomplete, as
// after a power cut). For the last two the intact acts before the
// trouble are returned with the error, so nothing is lost.
package attempt
