// Package difficulty measures how hard a job is by having simulated hands work it, before
// any trainee sees it.
//
// Seven hands play the job: a careful one, one that corrects the wrong way once, one that
// turns every sign, one that never measures, and three that make one slip each. Of their
// plays and grades are taken
//
//	minutes, acts and decisions of the careful hand (parts as minutes)
//	entropy  what the card leaves open and the careful hand looks into, bits
//	headroom expected minutes that a wrong move, turned signs, and no measuring lose
//	panel    mean score of the seven
//	discrimination  score of the careful hand less the mean of the two that cannot come right
//
// and one number from 0 to 100:
//
//	difficulty = 60 (100 - panel)/100 + 20 min(1, minutes/240)
//	           + 10 min(1, decisions/30) + 10 min(1, entropy/8)
//
// Below 35 is easy, from 52 hard, medium between. What mistakes cost weighs most; length
// weighs because every decision more is one more to get wrong. Weights, ends of the scales
// and limits of the bands are choices of this project, made so that the jobs of all kinds
// and families that come with the program fill the scale; they come from no study.
//
// A slip can be asked about: how far it sets the finished axle apart from that of the
// careful hand, in steps (Sign). Where it is less than ApartSteps, the job does not tell
// those who make the slip from those who do not.
//
// Limits: simulated hands are not people. A person tires, guesses, reads the card badly and
// knows one design better than another; none of that is here, and no attempt by a person
// has gone into the weights. The number sorts jobs and makes sets of them alike; it foretells
// nobody's score. The grade counts expected minutes, so luck of one axle moves it little.
// Jobs of one kind on one family lie close together: a depth job is always easy by it.
//
// This package opens no envelope, but compares finished axles through package verdict: it
// is for choosing jobs, not for grading attempts.
package difficulty
