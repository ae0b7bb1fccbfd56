// Package screen is the bench as a full screen: the stage, the axle cut open, the paper with
// every reading beside its specification, the tool in hand, and what can be done next.
//
// Draw is pure: a scene and a size in, rows of text out. Model changes the scene by keys and
// does acts at the bench; it knows nothing of a terminal. Run joins a model to one. What a key
// does and what is shown for it come from one list (entries), so that neither goes without
// the other.
package screen
