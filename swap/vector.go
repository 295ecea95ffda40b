package swap

import "gonum.org/v1/gonum/spatial/r3"

func vec(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
