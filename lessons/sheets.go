package lessons

import (
	"embed"
	"fmt"
	"strings"
)

// A Sheet is a page to print and take to a real axle.
type Sheet struct {
	ID, Title string
	Body      string // Markdown below the title
}

//go:embed sheets/*.md
var sheets embed.FS

// Sheets lists the sheets in the order they are needed.
func Sheets() []Sheet {
	var out []Sheet
	for _, id := range []string{"tools", "checks", "build"} {
		src, err := sheets.ReadFile("sheets/" + id + ".md")
		if err != nil {
			panic(fmt.Sprintf("built without a sheet: %v", err))
		}
		title, body, _ := strings.Cut(string(src), "\n")
		out = append(out, Sheet{id, strings.TrimPrefix(title, "# "), strings.TrimSpace(body) + "\n"})
	}
	return out
}

// FindSheet returns the sheet with an id. The error lists those there are.
func FindSheet(id string) (Sheet, error) {
	var ids []string
	for _, s := range Sheets() {
		if s.ID == strings.ToLower(id) {
			return s, nil
		}
		ids = append(ids, s.ID)
	}
	return Sheet{}, fmt.Errorf("no sheet is called %q: there are %s", id, strings.Join(ids, ", "))
}
