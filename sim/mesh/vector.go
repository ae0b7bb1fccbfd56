package mesh

import "math"

// vec is a vector of the fixed frame or of a gear's own body, mm or a pure direction. It is no
// array because a compiler keeps the parts of this in registers.
type vec struct{ x, y, z float64 }

func vecOf(a [3]float64) vec      { return vec{a[0], a[1], a[2]} }
func (a vec) array() [3]float64   { return [3]float64{a.x, a.y, a.z} }
func (a vec) plus(b vec) vec      { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) minus(b vec) vec     { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(k float64) vec { return vec{k * a.x, k * a.y, k * a.z} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) length() float64     { return math.Sqrt(a.dot(a)) }
func (a vec) unit() vec           { return a.times(1 / a.length()) }
func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
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
	return a.turnedX(s, c)
}

// turnedX is turnX by the angle of a sine and a cosine.
func (a vec) turnedX(s, c float64) vec { return vec{a.x, c*a.y - s*a.z, s*a.y + c*a.z} }

// turnY turns a about y by the right-hand rule.
func (a vec) turnY(rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{c*a.x + s*a.z, a.y, c*a.z - s*a.x}
}

// turnZ turns a about z by the right-hand rule.
func (a vec) turnZ(rad float64) vec {
	s, c := math.Sincos(rad)
	return a.turnedZ(s, c)
}

// turnedZ is turnZ by the angle of a sine and a cosine.
func (a vec) turnedZ(s, c float64) vec { return vec{c*a.x - s*a.y, s*a.x + c*a.y, a.z} }

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// wrap brings an angle into (−π, π].
func wrap(rad float64) float64 {
	if math.Abs(rad) >= 2*math.Pi {
		rad = math.Mod(rad, 2*math.Pi)
	}
	switch {
	case rad > math.Pi:
		rad -= 2 * math.Pi
	case rad <= -math.Pi:
		rad += 2 * math.Pi
	}
	return rad
}
