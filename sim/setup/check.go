package setup

import (
	"fmt"
	"math"
)

// isNumber tells an ordinary number from NaN and the infinities.
func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// number refuses anything that is not an ordinary number. what names the amount as
// the person knows it.
func number(what string, x float64) error {
	if !isNumber(x) {
		return fmt.Errorf("%s is not a number: enter it again", what)
	}
	return nil
}

// positive refuses anything that is not above zero.
func positive(what string, x float64) error {
	if err := number(what, x); err != nil {
		return err
	}
	if x <= 0 {
		return fmt.Errorf("%s is %g: it has to be more than zero", what, x)
	}
	return nil
}

// notNegative refuses anything below zero.
func notNegative(what string, x float64) error {
	if err := number(what, x); err != nil {
		return err
	}
	if x < 0 {
		return fmt.Errorf("%s is %g: it cannot be less than zero", what, x)
	}
	return nil
}

// first returns the first error there is.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }
