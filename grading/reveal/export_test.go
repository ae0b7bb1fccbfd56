package reveal

// DrawnFrom is for the tests.
var DrawnFrom = drawnFrom
