// Package picture draws contact patterns and simple bars for people: on a
// terminal, as plain text, as a sentence, as SVG and as PNG.
//
// What is drawn. One ring gear tooth flank, looked at square on and straightened
// out flat: toe on the left, heel on the right, root at the bottom, tooth top at
// the top, for both flanks. On the gear the drive and the coast flank are looked
// at from opposite sides, so one of them is mirrored here; every picture says
// which end is which. The outline is taller at the heel than at the toe, as a
// tooth of tapered depth is. It is a sketch of where the pattern sits, not a scale
// drawing: the taper and the height are fixed, whatever the gear set.
//
// Positions are shares of the flank: s from 0 at the toe to 1 at the heel, t from
// 0 at the root end of the working depth to 1 at the tooth top. Ink runs from 0
// (compound untouched, drawn dark) to 1 (rubbed bright, drawn light); values
// outside that range are brought to its end, and a cell that is not a number
// counts as untouched. The cross is the pattern's center as recorded in the pattern,
// that is, as an eye judged it; where nothing usable is recorded it is computed
// from the ink. The dashed or dotted lines are the middle of the tooth.
//
// Drive is called convex and coast concave, as is usual for a ring gear turning
// the way it was cut for, and the other way round where the pattern says so; another
// flank name is shown as it stands.
//
// Words describes and does not judge: whether a pattern is acceptable belongs to
// the grader. A pattern whose ink was not kept, or whose grid does not fit its ink,
// is still described and marked from the recorded numbers.
//
// Color is never the only carrier: rubbed and untouched differ in brightness,
// the edge of the pattern has a line of its own in SVG and PNG, and the words say
// the rest. The colors are this package's choice and mean nothing beyond dark
// for compound and light for bare metal.
//
// Everything depends on the arguments alone: no terminal, environment, clock or
// random source is consulted, and the same arguments give the same bytes.
//
// Beside the flat view of SVG and PNG stand three teeth of the ring gear in perspective, the
// pattern on the middle one: a sketch too. Letters in PNG are those of the Go typeface, whose
// outlines come with golang.org/x/image under the BSD license.
//
// Left out: the profile and lengthwise curvature of the flank, and the tooth's spiral.
//
// Source: the names of the flanks, ends and edges are common practice, no single
// source.
package picture
