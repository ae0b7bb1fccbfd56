package web_test

import (
	"testing"

	"shimwright/cmd/internal/web"
	"shimwright/cmd/internal/web/keepertest"
)

func TestMemoryKeeps(t *testing.T) {
	keepertest.Run(t, func(*testing.T) web.Keeper { return web.NewMemory() })
}
