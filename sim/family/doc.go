// Package family describes axle families: the sheet a technician works to, and
// the nominal parameters and spreads from which a particular axle is drawn.
//
// Every family here is invented for practice. None stands for a real axle, and no
// figure may be used on one: the maker's manual for the axle on the bench is what
// counts. Figures are chosen to hang together and to be typical in proportion.
//
// Lengths are millimetres, torques newton millimetres unless a field says
// otherwise. A family is plain data: a collapsible-spacer axle with outside side
// shims is the one design described so far, and a new design adds its choice to
// Design rather than a second description.
package family
