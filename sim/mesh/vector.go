package mesh

import "math"

// vec is a vector of the fixed frame or of a gear's own body, mm or a pure direction.
type vec [3]float64

func (a vec) plus(b vec) vec      { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) minus(b vec) vec     { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec) times(k float64) vec { return vec{k * a[0], k * a[1], k * a[2]} }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) length() float64     { return math.Sqrt(a.dot(a)) }
func (a vec) unit() vec           { return a.times(1 / a.length()) }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// alongside returns a or −a, whichever points with b.
func (a vec) alongside(b vec) vec {
	if a.dot(b) < 0 {
		return a.times(-1)
	}
	return a
}

// turnX turns a about x by the right-hand rule.
func (a vec) turnX(rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{a[0], c*a[1] - s*a[2], s*a[1] + c*a[2]}
}

// turnY turns a about y by the right-hand rule.
func (a vec) turnY(rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{c*a[0] + s*a[2], a[1], c*a[2] - s*a[0]}
}

// turnZ turns a about z by the right-hand rule.
func (a vec) turnZ(rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{c*a[0] - s*a[1], s*a[0] + c*a[1], a[2]}
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// wrap brings an angle into (−π, π].
func wrap(rad float64) float64 {
	rad = math.Mod(rad, 2*math.Pi)
	switch {
	case rad > math.Pi:
		rad -= 2 * math.Pi
	case rad <= -math.Pi:
		rad += 2 * math.Pi
	}
	return rad
}
