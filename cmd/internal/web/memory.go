package web

import (
	"bytes"
	"context"
	"crypto/rand"
	"slices"
	"sync"

	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
)

// Memory keeps attempts for as long as the program runs.
type Memory struct {
	mu    sync.Mutex
	all   map[string]*held
	count int // of what was done, for the order of lists
}

// held is an attempt in memory.
type held struct {
	owner   string
	header  attempt.Header
	lines   []byte // as a file holds them
	acts    int
	signed  bool
	touched int
}

// NewMemory returns an empty Memory.
func NewMemory() *Memory { return &Memory{all: map[string]*held{}} }

// Begin implements Keeper.
func (m *Memory) Begin(_ context.Context, owner string, h attempt.Header) (string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	rec := attempt.New(h.Terms, h.Order, h.FamilyText, h.Seed, h.Units)
	rec.BeginAt(h.Begin)
	id := rand.Text()
	m.count++
	m.all[id] = &held{owner: owner, header: rec.Header, lines: rec.HeaderLine(), touched: m.count}
	return id, nil
}

// of finds an attempt of an owner.
func (m *Memory) of(owner, id string) (*held, error) {
	h, ok := m.all[id]
	if !ok || h.owner != owner {
		return nil, ErrNotFound
	}
	return h, nil
}

// Record implements Keeper.
func (m *Memory) Record(_ context.Context, owner, id string) (*attempt.Record, error) {
	m.mu.Lock()
	h, err := m.of(owner, id)
	var lines []byte
	if err == nil {
		lines = h.lines[:len(h.lines):len(h.lines)]
	}
	m.mu.Unlock()
	if err != nil {
		return nil, err
	}
	return attempt.Read(bytes.NewReader(lines))
}

// Append implements Keeper.
func (m *Memory) Append(_ context.Context, owner, id string, had int, line []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	h, err := m.of(owner, id)
	switch {
	case err != nil:
		return err
	case h.acts != had:
		return ErrConflict
	}
	m.count++
	h.lines, h.acts, h.touched = append(h.lines, line...), had+1, m.count
	h.signed = h.signed || bytes.Contains(line, []byte(`"act":"`+act.SignOff.String()+`"`))
	return nil
}

// List implements Keeper.
func (m *Memory) List(_ context.Context, owner string) ([]Kept, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var found []string
	for id, h := range m.all {
		if h.owner == owner {
			found = append(found, id)
		}
	}
	slices.SortFunc(found, func(a, b string) int { return m.all[b].touched - m.all[a].touched })
	out := make([]Kept, len(found))
	for i, id := range found {
		h := m.all[id]
		out[i] = Kept{id, h.header, h.acts, h.signed}
	}
	return out, nil
}
