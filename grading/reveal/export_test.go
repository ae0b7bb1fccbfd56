package reveal

// For the tests.
var (
	DrawnFrom = drawnFrom
	Governs   = governs
	LuckOf    = luckOf
)
