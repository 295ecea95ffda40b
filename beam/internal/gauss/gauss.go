// Package gauss holds the rules of Gauss and Legendre on a stretch.
package gauss

// Point is a place with what it weighs in an integral.
type Point struct{ X, W float64 }

// Two has two points and is exact to the third degree.
func Two(a, b float64) [2]Point {
	const t = 0.5773502691896257645
	m, h := (a+b)/2, (b-a)/2
	return [2]Point{{m - t*h, h}, {m + t*h, h}}
}

// Three has three points and is exact to the fifth degree.
func Three(a, b float64) [3]Point {
	const t = 0.7745966692414833770
	m, h := (a+b)/2, (b-a)/2
	return [3]Point{{m - t*h, 5 * h / 9}, {m, 8 * h / 9}, {m + t*h, 5 * h / 9}}
}
