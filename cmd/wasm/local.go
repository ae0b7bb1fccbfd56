//go:build js && wasm

package main

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"syscall/js"

	"shimwright/cmd/internal/web"
	"shimwright/scenarios/attempt"
)

// local keeps attempts in the browser, each as the text of its file.
type local struct{ store js.Value }

const (
	attemptKey = "shimwright-attempt-"
	orderKey   = "shimwright-order" // names, the one touched last first
)

// set puts a text into the store. Errors: a store that is full, or that the browser refuses.
func set(store js.Value, key, text string) (err error) {
	defer func() {
		if thrown := recover(); thrown != nil {
			err = fmt.Errorf("the browser does not keep it: %v", thrown)
		}
	}()
	store.Call("setItem", key, text)
	return nil
}

func (l *local) get(key string) (string, bool) {
	v := l.store.Call("getItem", key)
	if v.Type() != js.TypeString {
		return "", false
	}
	return v.String(), true
}

// order lists the names of attempts, the one touched last first.
func (l *local) order() []string {
	var names []string
	if text, ok := l.get(orderKey); ok {
		_ = json.Unmarshal([]byte(text), &names) // what is not ours is begun anew
	}
	return names
}

// keep writes an attempt and puts it in front.
func (l *local) keep(id, text string) error {
	names := slices.DeleteFunc(l.order(), func(n string) bool { return n == id })
	order, err := json.Marshal(append([]string{id}, names...))
	if err != nil {
		return err
	}
	return errors.Join(set(l.store, attemptKey+id, text), set(l.store, orderKey, string(order)))
}

func (l *local) Begin(_ context.Context, _ string, h attempt.Header) (string, error) {
	rec := attempt.New(h.Terms, h.Order, h.FamilyText, h.Seed, h.Units)
	rec.BeginAt(h.Begin)
	id := rand.Text()
	return id, l.keep(id, string(rec.HeaderLine()))
}

func (l *local) Record(_ context.Context, _, id string) (*attempt.Record, error) {
	text, ok := l.get(attemptKey + id)
	if !ok {
		return nil, web.ErrNotFound
	}
	return attempt.Read(strings.NewReader(text))
}

func (l *local) Append(_ context.Context, _, id string, had int, line []byte) error {
	text, ok := l.get(attemptKey + id)
	switch {
	case !ok:
		return web.ErrNotFound
	case strings.Count(text, "\n") != had+1:
		return web.ErrConflict // the same job in another tab
	}
	return l.keep(id, text+string(line))
}

func (l *local) List(ctx context.Context, owner string) ([]web.Kept, error) {
	var out []web.Kept
	for _, id := range l.order() {
		if rec, err := l.Record(ctx, owner, id); err == nil {
			out = append(out, web.Kept{ID: id, Header: rec.Header, Acts: len(rec.Entries), SignedOff: rec.Signed()})
		}
	}
	return out, nil
}
