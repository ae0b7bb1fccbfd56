// Package scenarios makes jobs: from a seed, an axle with a history, a customer's
// complaint, a randomized hidden state that may carry faults, and a job card that
// tells the trainee all that may fairly be known.
//
// The card's figures and the disclosed base rates are exactly those the hidden
// state was drawn with. Before a job is handed out, the reference technician, who sees
// only what a trainee sees (package scenarios/technician), works it from first inspection
// to sign-off; a draw that cannot be finished with every line of the sheet met is thrown
// away and the next one tried.
//
// A job depends on its seed and the model version alone.
package scenarios
