package property

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// Prism returns a thin prism over a star, tilted and moved, with float32
// coordinates.
func Prism(random *rand.Rand, thin, far float64) (vertices []r3.Vec, faces [][3]int32) {
	const n = 9
	a, b := random.Float64()*6, random.Float64()*6
	add := func(x, y, z float64) {
		x, y = math.Cos(a)*x-math.Sin(a)*y, math.Sin(a)*x+math.Cos(a)*y
		y, z = math.Cos(b)*y-math.Sin(b)*z, math.Sin(b)*y+math.Cos(b)*z
		vertices = append(vertices, r3.Vec{X: float64(float32(x + far)), Y: float64(float32(y - far)), Z: float64(float32(z + far/3))})
	}
	for k := range 2 * n {
		angle := 2 * math.Pi * float64(k%n) / n
		radius := 20 + 80*random.Float64()
		add(radius*math.Cos(angle), radius*math.Sin(angle), 100*thin*float64(k/n))
	}
	add(0, 0, 0)
	add(0, 0, 100*thin)
	for k := range int32(n) {
		next := (k + 1) % n
		faces = append(faces, [3]int32{2 * n, next, k}, [3]int32{2*n + 1, n + k, n + next},
			[3]int32{k, next, n + next}, [3]int32{k, n + next, n + k})
	}
	return vertices, faces
}
