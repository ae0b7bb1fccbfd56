package uncertaintytest

import (
	"fmt"
	"math"
)

// A Component is one doubt in a measurement.
type Component struct {
	Name             string
	Standard         float64 // standard uncertainty, in the unit of the input it belongs to
	Sensitivity      float64 // change of the result for a change of one in the input
	DegreesOfFreedom float64 // 1 or more; +Inf when taken as exactly known
}

// Rectangular makes a component from limits plus and minus half, with every value
// between them as likely as any other: an instrument's stated error limit. The
// standard uncertainty is half/√3 (GUM 4.3.7). half must be zero or more.
func Rectangular(name string, half float64) (Component, error) {
	return exact(name, "half of the range", half, math.Sqrt(3))
}

// Triangular makes a component from limits plus and minus half, with the middle most
// likely and the ends not at all. The standard uncertainty is half/√6 (GUM 4.3.9).
// half must be zero or more.
func Triangular(name string, half float64) (Component, error) {
	return exact(name, "half of the range", half, math.Sqrt(6))
}

// Step makes a component from the smallest step that a scale or display can show and
// a reader rounds to. The standard uncertainty is resolution/√12 (GUM F.2.2.1).
// resolution must be zero or more.
func Step(name string, resolution float64) (Component, error) {
	return exact(name, "the scale's step", resolution, math.Sqrt(12))
}

// Normal makes a component from a standard uncertainty that is already one: a
// certificate's expanded figure over its k, or a scatter known from long use. sigma
// must be zero or more.
func Normal(name string, sigma float64) (Component, error) {
	return exact(name, "the standard uncertainty", sigma, 1)
}

// Mean makes a component from the scatter sigma (the experimental standard
// deviation) of n readings whose mean is used: sigma/√n with n - 1 degrees of freedom
// (GUM 4.2.3). sigma must be zero or more, n at least 2.
func Mean(name string, sigma float64, n int) (Component, error) {
	if n < 2 {
		return Component{}, fmt.Errorf("%s: scatter needs at least two readings, there are %d", label(name), n)
	}
	c, err := exact(name, "the scatter of the readings", sigma, math.Sqrt(float64(n)))
	if err != nil {
		return Component{}, err
	}
	return c.WithDegrees(float64(n - 1)), nil
}

// Times returns the component with its sensitivity set: how much the result changes
// for a change of one in this input, with sign.
func (c Component) Times(sensitivity float64) Component {
	c.Sensitivity = sensitivity
	return c
}

// WithDegrees returns the component with its degrees of freedom set, 1 or more; +Inf
// for exactly known.
func (c Component) WithDegrees(degrees float64) Component {
	c.DegreesOfFreedom = degrees
	return c
}

// Contribution returns the component's part in the result, without sign, in the
// result's unit.
func (c Component) Contribution() float64 { return math.Abs(c.Sensitivity * c.Standard) }

func (c Component) check() error {
	switch {
	case !(c.Standard >= 0) || math.IsInf(c.Standard, 0):
		return fmt.Errorf("%s: a standard uncertainty of %g makes no sense, it has to be zero or more", label(c.Name), c.Standard)
	case math.IsNaN(c.Sensitivity) || math.IsInf(c.Sensitivity, 0):
		return fmt.Errorf("%s: its effect on the result is not a number", label(c.Name))
	case !(c.DegreesOfFreedom >= 1):
		return fmt.Errorf("%s: degrees of freedom are %g, they have to be 1 or more", label(c.Name), c.DegreesOfFreedom)
	case math.IsInf(c.Contribution(), 0):
		return fmt.Errorf("%s: too large to work with", label(c.Name))
	}
	return nil
}

func exact(name, what string, amount, divisor float64) (Component, error) {
	if !(amount >= 0) || math.IsInf(amount, 0) {
		return Component{}, fmt.Errorf("%s: %s is %g, it has to be a number of zero or more", label(name), what, amount)
	}
	return Component{Name: name, Standard: amount / divisor, Sensitivity: 1, DegreesOfFreedom: math.Inf(1)}, nil
}

func label(name string) string {
	if name == "" {
		return "a component without a name"
	}
	return name
}
