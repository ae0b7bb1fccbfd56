package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/web"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// BenchmarkAct is an act far on in a job, and the page that shows what it did.
func BenchmarkAct(b *testing.B) {
	for _, help := range []attempt.Help{attempt.FullHelp, attempt.CoachHelp} {
		b.Run(help.String(), func(b *testing.B) {
			w := work(b, "BEECH", scenarios.WholeJob, 7)
			keeper := web.NewMemory()
			h := web.New(web.Config{Keeper: keeper, Who: func(*http.Request) (string, bool) { return "ann", true }, Rate: 1e9})
			id, err := keeper.Begin(b.Context(), "ann", attempt.New(attempt.Terms{Help: help}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch).Header)
			require.NoError(b, err)
			had := 0
			do := func(line string) {
				v := url.Values{"had": {strconv.Itoa(had)}, "line": {line}, "answer": {"skip"}}
				r := httptest.NewRequest(http.MethodPost, "/jobs/"+id+"/acts", strings.NewReader(v.Encode()))
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				r.Header.Set("HX-Request", "true")
				rec := httptest.NewRecorder()
				h.ServeHTTP(rec, r)
				require.Equal(b, http.StatusOK, rec.Code)
				had++
			}
			for _, line := range w.lines[:60] {
				do(line)
			}
			b.ReportAllocs()
			for b.Loop() {
				do("turn pinion 5turns")
			}
		})
	}
}
