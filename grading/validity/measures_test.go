package validity

import (
	"errors"
	"fmt"
	"math"
)

// Mean returns the mean of numbers in any unit; NaN of none. The sum is corrected once, so
// that a large common part costs no digits.
func Mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	n := float64(len(x))
	mean, rest := sum/n, 0.0
	for _, v := range x {
		rest += v - mean
	}
	return mean + rest/n
}

// SD returns the standard deviation of a sample, divisor n - 1, in the unit of the
// numbers; NaN of fewer than two.
func SD(x []float64) float64 {
	if len(x) < 2 {
		return math.NaN()
	}
	mean, sum := Mean(x), 0.0
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}

// Correlation returns the product-moment correlation of two equally long rows, -1 to 1; NaN
// where one of them does not vary. With a row of zeros and ones it is the point-biserial
// correlation.
func Correlation(x, y []float64) float64 {
	mx, my := Mean(x), Mean(y)
	var xx, yy, xy float64
	for i := range min(len(x), len(y)) {
		dx, dy := x[i]-mx, y[i]-my
		xx, yy, xy = xx+dx*dx, yy+dy*dy, xy+dx*dy
	}
	return xy / math.Sqrt(xx*yy)
}

// Ranks returns the places of numbers in their order, 1 the smallest; equal numbers share the
// mean of their places. The correlation of two rows of ranks is Spearman's.
func Ranks(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		below, equal := 0, 0
		for _, w := range x {
			switch {
			case w < v:
				below++
			case w == v:
				equal++
			}
		}
		out[i] = float64(below) + float64(equal+1)/2
	}
	return out
}

// Discrimination returns how a job's scores go with the mean of all other jobs, -1 to 1.
func Discrimination(scores [][]float64, job int) float64 {
	own, rest := make([]float64, len(scores)), make([]float64, len(scores))
	for p, row := range scores {
		own[p] = row[job]
		for j, v := range row {
			if j != job {
				rest[p] += v
			}
		}
	}
	return Correlation(own, rest)
}

// Alpha returns Cronbach's alpha of a table of scores. Errors: a table that is not one.
func Alpha(scores [][]float64) (float64, error) {
	if err := table(scores); err != nil {
		return 0, err
	}
	jobs := float64(len(scores[0]))
	total := make([]float64, len(scores))
	sum := 0.0
	for j := range scores[0] {
		column := make([]float64, len(scores))
		for p, row := range scores {
			column[p] = row[j]
			total[p] += row[j]
		}
		sum += math.Pow(SD(column), 2)
	}
	return jobs / (jobs - 1) * (1 - sum/math.Pow(SD(total), 2)), nil
}

// table says what is wrong with a table of scores.
func table(scores [][]float64) error {
	if len(scores) < 2 || len(scores[0]) < 2 {
		return errors.New("a table of scores needs two persons and two jobs at least")
	}
	for p, row := range scores {
		if len(row) != len(scores[0]) {
			return fmt.Errorf("person %d has %d scores where the first has %d: every person does every job", p+1, len(row), len(scores[0]))
		}
	}
	return nil
}

// A Study is the analysis of persons by jobs. Mean squares and variances are in points
// squared.
type Study struct {
	MSPerson, MSJob, MSRest    float64
	VarPerson, VarJob, VarRest float64
}

// Analyse takes a table of scores apart. Errors: a table that is not one.
func Analyse(scores [][]float64) (Study, error) {
	var s Study
	if err := table(scores); err != nil {
		return s, err
	}
	persons, jobs := float64(len(scores)), float64(len(scores[0]))
	byPerson, byJob := make([]float64, len(scores)), make([]float64, len(scores[0]))
	grand := 0.0
	for p, row := range scores {
		for j, v := range row {
			byPerson[p] += v / jobs
			byJob[j] += v / persons
			grand += v / (persons * jobs)
		}
	}
	square := func(x float64) float64 { return x * x }
	for _, m := range byPerson {
		s.MSPerson += jobs * square(m-grand) / (persons - 1)
	}
	for _, m := range byJob {
		s.MSJob += persons * square(m-grand) / (jobs - 1)
	}
	for p, row := range scores {
		for j, v := range row {
			s.MSRest += square(v-byPerson[p]-byJob[j]+grand) / ((persons - 1) * (jobs - 1))
		}
	}
	s.VarPerson = math.Max(0, (s.MSPerson-s.MSRest)/jobs)
	s.VarJob = math.Max(0, (s.MSJob-s.MSRest)/persons)
	s.VarRest = s.MSRest
	return s, nil
}

// G returns the generalizability coefficient of n jobs, 0 to 1.
func (s Study) G(n int) float64 { return s.VarPerson / (s.VarPerson + s.VarRest/float64(n)) }

// Phi returns the dependability of n jobs, 0 to 1.
func (s Study) Phi(n int) float64 {
	return s.VarPerson / (s.VarPerson + (s.VarJob+s.VarRest)/float64(n))
}

// Needed returns how many jobs a G of g asks for, not rounded; g between 0 and 1. It is
// infinite where the persons do not differ.
func (s Study) Needed(g float64) float64 { return g / (1 - g) * s.VarRest / s.VarPerson }

// AUC returns the chance that one of the high group scores above one of the low, ties
// counted half: the area under the receiver's curve. NaN where a group is empty.
func AUC(low, high []float64) float64 {
	sum := 0.0
	for _, h := range high {
		for _, l := range low {
			switch {
			case h > l:
				sum++
			case h == l:
				sum += 0.5
			}
		}
	}
	return sum / float64(len(low)*len(high))
}
