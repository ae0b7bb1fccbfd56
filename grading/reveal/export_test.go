package reveal

// For the tests.
var (
	Governs = governs
	LuckOf  = luckOf
)
