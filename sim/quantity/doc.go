// Package quantity holds the typed amounts the bench works in, and reads and
// writes them in the inch and metric units a shop uses.
//
// Inside the program a Length is millimetres, a Torque newton millimetres, a
// Force newtons and an Angle degrees. Conversion happens here and only here, when
// an amount is read from or shown to a person. Converting what is shown never
// changes the amount itself.
//
// Exact factors (NIST Special Publication 811, appendix B, from memory; the inch
// and the pound-force are exact by definition):
//
//	1 in     = 25.4 mm
//	1 lbf    = 4.4482216152605 N
//	1 lb-in  = 112.9848290276167 N·mm
//	1 lb-ft  = 1355.8179483314004 N·mm
package quantity
