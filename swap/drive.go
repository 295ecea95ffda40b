package swap

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// Machine is what the parts move with. A pivot makes it a swinging arm.
type Machine struct {
	MovingMass    float64 // g, everything that moves, stock parts included
	Pivot         *r3.Vec // mm, in the stock part's coordinates
	PivotAxis     mesh.Axis
	MovingInertia float64 // kg mm2 about the pivot, stock parts included
	Drive         Drive   // of a linear axis
}

// Drive is what moves a linear axis.
type Drive struct {
	Inertia float64 // kg mm2, of all that the motor turns, at the motor
	Travel  float64 // mm for each of its turns
	Limited Limited
}

// Limited says what a drive cannot go beyond.
type Limited string

// What may limit a drive. One that nobody spoke of is taken to be limited by its
// force.
const (
	ByForce      Limited = "force"
	BySpeed      Limited = "speed" // and acceleration that its controller sets
	LimitUnknown Limited = "unknown"
)

// UnmarshalText reads force, speed or unknown.
func (l *Limited) UnmarshalText(text []byte) error {
	switch Limited(text) {
	case "", ByForce, BySpeed, LimitUnknown:
		*l = Limited(text)
		return nil
	}
	return fmt.Errorf("%q: expected force, speed or unknown", text)
}

// swinging reports whether the motion is a rotation whose inertia is known.
func (m Machine) swinging() bool { return m.Pivot != nil && m.MovingInertia > 0 }

// missing names the flag that would make a gain known.
func (m Machine) missing() string {
	if m.Pivot != nil {
		return "--moving-inertia"
	}
	return "--moving-mass"
}

// known reports whether the motion is known well enough for a gain.
func (m Machine) known() bool { return m.MovingMass > 0 || m.swinging() }

// pushed is the mass or moment of inertia that the drive accelerates, its own
// included, in g or kg mm2.
func (m Machine) pushed() float64 {
	if m.swinging() {
		return m.MovingInertia
	}
	return m.MovingMass + m.Drive.mass()
}

// gain returns the gain of acceleration, as a fraction, by what is saved of what
// moves, in g or kg mm2. At the same drive force it is M/(M-dm) - 1, M with what the
// drive itself turns; a drive whose controller sets the acceleration gains nothing.
func (m Machine) gain(saved float64) float64 {
	if m.Drive.Limited == BySpeed {
		return 0
	}
	return lightened(m.pushed(), saved)
}

// eased returns by which fraction less force, or torque, does for the same
// acceleration: dm/M.
func (m Machine) eased(saved float64) float64 { return saved / m.pushed() }

// ring returns the gain of the frequency at the same mount stiffness, as a
// fraction: sqrt(M/(M-dm)) - 1, M without the drive, which the mount does not
// carry.
func (m Machine) ring(saved float64) float64 {
	moving := m.MovingMass
	if m.swinging() {
		moving = m.MovingInertia
	}
	return math.Sqrt(1+lightened(moving, saved)) - 1
}

// largestMoving returns up to which moving mass, in g, a saving gains g; what the
// drive turns moves along and does not count. A drive that its controller limits
// gains at none.
func (m Machine) largestMoving(saved, g float64) float64 {
	if m.Drive.Limited == BySpeed {
		return 0
	}
	return saved*(1+g)/g - m.Drive.mass()
}

// lightened returns M/(M-dm) - 1.
func lightened(moving, saved float64) float64 {
	if saved >= moving {
		return math.Inf(1)
	}
	return moving/(moving-saved) - 1
}

// unsaid reports whether nobody said what the drive cannot go beyond.
func (d Drive) unsaid() bool { return d.Limited != ByForce && d.Limited != BySpeed }

const gramsPerKilogram = 1000

// mass returns what the drive turns as mass that moves along the axis, in g:
// J (2 pi / p)2, for 1/2 J w2 = 1/2 m v2 and v = p w / (2 pi).
func (d Drive) mass() float64 {
	if d.Travel <= 0 {
		return 0
	}
	turns := 2 * math.Pi / d.Travel // rad/mm
	return gramsPerKilogram * d.Inertia * turns * turns
}
