package setup

import (
	"math"

	"shimwright/sim/text"
)

// isNumber tells an ordinary number from NaN and the infinities.
func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// plain is a figure of a text, in whatever unit its caller works in.
func plain(name string, x float64) text.Arg { return text.Number(name, x, -1) }

// number refuses anything that is not an ordinary number. what names the amount as
// the person knows it.
func number(what text.Message, x float64) error {
	if !isNumber(x) {
		return text.Fail(nil, text.Say("setup.no-number", "{what} is not a number: enter it again", text.Of("what", what)))
	}
	return nil
}

// positive refuses anything that is not above zero.
func positive(what text.Message, x float64) error {
	if err := number(what, x); err != nil {
		return err
	}
	if x <= 0 {
		return text.Fail(nil, text.Say("setup.not-positive", "{what} is {x}: it must be more than zero", text.Of("what", what), plain("x", x)))
	}
	return nil
}

// notNegative refuses anything below zero.
func notNegative(what text.Message, x float64) error {
	if err := number(what, x); err != nil {
		return err
	}
	if x < 0 {
		return text.Fail(nil, text.Say("setup.negative", "{what} is {x}: it cannot be less than zero", text.Of("what", what), plain("x", x)))
	}
	return nil
}

// belowSquare refuses an angle of 90 degrees or more.
func belowSquare(what text.Message, deg float64) error {
	if deg >= 90 {
		return text.Fail(nil, text.Say("setup.not-below-square", "{what} is {x} degrees: it must be less than 90", text.Of("what", what), plain("x", deg)))
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
