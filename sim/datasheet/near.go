package datasheet

// Nearest returns the word that takes the fewest single-letter changes to reach, when
// that is few enough to be a slip of the pen. Of several it takes the first.
func Nearest(word string, words []string) (string, bool) {
	a := []rune(word)
	if len(a) > 60 {
		return "", false
	}
	best, least := "", max(2, len(a)/3)+1
	for _, w := range words {
		if d := edits(a, []rune(w)); d < least {
			best, least = w, d
		}
	}
	return best, best != ""
}

// edits counts the letters to change, add, drop or swap with their neighbour to make
// one word of another (optimal string alignment distance).
func edits(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
