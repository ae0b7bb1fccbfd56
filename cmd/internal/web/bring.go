package web

import (
	"errors"
	"io"
	"net/http"
	"net/url"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/scenarios/attempt"
)

// bring takes in an attempt file, to go on with it or to read its debrief here. Only whole
// attempts of practice are taken, and only what plays again as it was.
func (f *face) bring(w http.ResponseWriter, r *http.Request, v visitor) error {
	if !f.Begin {
		return ErrNotFound
	}
	text, err := brought(r)
	if err != nil {
		return err
	}
	no := func(why string) error {
		return f.startWith(w, r, v, http.StatusUnprocessableEntity, form{url.Values{}}, why)
	}
	rec, err := attempt.Read(strings.NewReader(text))
	if err != nil {
		return no("This is no whole attempt file of this version: " + v.pen.Error(err) + ".")
	}
	if hides(rec.Header) {
		return no("An attempt at a check or an examination is not worked here.")
	}
	if !f.limits.begins(v.owner) {
		return no("Too many jobs at once. Wait a few seconds.")
	}
	head := rec.Header
	if _, err := bench.Open(rec); err != nil {
		return no("This attempt does not play again: " + v.pen.Error(err) + ".")
	}
	id, err := f.Keeper.Begin(r.Context(), v.owner, head)
	if err != nil {
		return err
	}
	for n, line := range strings.SplitAfter(text, "\n")[1:] {
		if line == "" {
			break
		}
		if err := f.Keeper.Append(r.Context(), v.owner, id, n, []byte(line)); err != nil {
			return err
		}
	}
	http.Redirect(w, r, f.Base+"/jobs/"+url.PathEscape(id), http.StatusSeeOther)
	return nil
}

// brought is the text of the file that a page sent, or of a field in its place.
func brought(r *http.Request) (string, error) {
	var large *http.MaxBytesError
	if err := r.ParseForm(); errors.As(err, &large) {
		return "", large
	}
	file, _, err := r.FormFile("file")
	switch {
	case errors.As(err, &large):
		return "", large
	case err != nil:
		return r.PostForm.Get("file"), nil
	}
	defer file.Close()
	text, err := io.ReadAll(file)
	return string(text), err
}
