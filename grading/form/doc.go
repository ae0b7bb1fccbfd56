// Package form puts together parallel forms: sets of jobs that may be given to different
// people, or to the same person before and after, because they are alike in what they ask
// and in how hard they are.
//
// A Blueprint says what is wanted. Every form has the same places; a place is a family and
// a kind, so that content is equal by construction. Then, in order:
//
//	pool    job numbers are tried in turn until every place has half as many jobs again as
//	        the forms need; a job that is outside the band, or does not set a named slip
//	        apart by difficulty.ApartSteps, is passed over. Where the forms then do not come
//	        out alike, more jobs are added, up to five times the need
//	trim    of each place the jobs farthest from its middle are set aside as spares
//	draft   the others are sorted by difficulty and dealt out to and fro, as in a draft
//	swap    as long as it brings the forms closer together, the best exchange is made: of
//	        two jobs of one place between two forms, or of a job against a spare
//
// "Closer" is the sum over forms and quantities of the square of the form's distance from
// the mean of all, counted in margins. Forms are handed out only if the greatest difference
// between any two of them is within the margin for every quantity matched; otherwise the
// error says which is not.
//
// No job stands in two forms, or twice in one. The same blueprint gives the same forms on
// any machine, with any number of workers.
//
// Limits: matched is what simulated hands show (see package difficulty, and what it says of
// people). Forms that agree there have not been shown to agree for people; for a decision
// about a person, give some jobs in common and compare. The margins are choices of this
// project. Whoever knows the blueprint can make the forms again: for an examination, keep
// the first number to yourself.
package form
