// Package skill tells from a person's last jobs how much of a coach each area of a job still
// needs. It goes by what the grade of those jobs says and by nothing else: the minutes lost in
// the area, the lines of the acceptance list that were left open in it, and the misconception
// that the acts fit, where they fit one.
//
// The bounds are this package's own (common practice, no source). The reference technician
// loses up to 8 minutes in an area; a job is sound in it up to SoundMin with nothing open, and
// two sound jobs one after the other are enough to be left alone in it. The tests hold them by simulated technicians: one who works as the procedure asks has
// most areas to itself after a few jobs, and one with a misconception keeps the coach in the
// area that it belongs to.
package skill
