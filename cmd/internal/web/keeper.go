package web

import (
	"context"
	"errors"

	"shimwright/scenarios/attempt"
)

// What a Keeper cannot do. Somebody else's attempt and one that was never there are told
// alike, so that nobody learns which there are.
var (
	ErrNotFound = errors.New("no such attempt of this owner")
	ErrConflict = errors.New("the attempt has more lines than its owner saw")
)

// ErrClosed is what a keeper returns for an act when the time of its attempt is over.
var ErrClosed = errors.New("the time of the attempt is over")

// A Keeper keeps attempts for a web bench. All of its methods are safe for many requests at
// once, and an act is kept for good before Append returns.
type Keeper interface {
	// Begin begins an attempt of an owner and names it. Names are not to be guessed.
	Begin(ctx context.Context, owner string, h attempt.Header) (id string, err error)
	// Record is the whole of an attempt, the caller's own to change. Errors: ErrNotFound.
	Record(ctx context.Context, owner, id string) (*attempt.Record, error)
	// Append adds a line to an attempt of which the caller saw so many after its head.
	// Errors: ErrNotFound, and ErrConflict where it has another number by now.
	Append(ctx context.Context, owner, id string, had int, line []byte) error
	// List lists the attempts of an owner, the one touched last first.
	List(ctx context.Context, owner string) ([]Kept, error)
}

// Kept is an attempt as it is listed.
type Kept struct {
	ID        string
	Header    attempt.Header
	Acts      int // lines after the head
	SignedOff bool
}
