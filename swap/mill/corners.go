package mill

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/feature"
	"swapworth/mesh/reach"
	"swapworth/quantity"
)

// corners holds inside corners against the smallest cutter that reaches down to
// them, and says what it leaves there.
func (c *checker) corners() {
	mills := c.limits.EndMills
	if c.out.MadeBy == Lathe {
		return // its shoulders are cut with the point of a tool
	}
	for _, k := range c.Corners(c.setUps) {
		if c.out.MadeBy == Saw && math.Abs(r3.Dot(k.Along, c.Square[c.tube])) > 0.9999 {
			continue // the tube's own
		}
		least := mills[0].Diameter / 2
		i := slices.IndexFunc(mills, func(m EndMill) bool { return m.Reach >= k.Depth-sameFit })
		if i < 0 {
			continue // the walls that make it are too deep themselves
		}
		radius := mills[i].Diameter / 2
		c.deepCorner(k)
		if k.Radius < c.finisher/2-sameFit {
			h := &c.out.Hard
			h.Corners++
			h.Height += k.Height
			h.Cutter = 2 * max(radius, min(k.Radius, c.finisher/2))
		}
		if k.Radius >= radius-sameFit {
			continue
		}
		grams := k.Filled(radius) * k.Height * c.stuff.Density * 1e-6
		c.out.Corners += grams
		f := Finding{Kind: InsideRadius, Where: where(k.At), Value: k.Radius, Limit: radius, Count: 1}
		f.Says = said("inside corners are sharp: a cutter of %v mm leaves a radius of %v mm there", 2*radius, radius)
		if k.Radius > 0 {
			f.Says = said("inside corners have a radius of %v mm: a cutter of %v mm leaves %v mm there", k.Radius, 2*radius, radius)
		}
		f.Change = said("draw them with %v mm or more, or relieve them where something square goes in", radius)
		if radius > least {
			f.Change = said("draw them with %v mm or more: a smaller cutter does not reach that deep", radius)
		}
		c.add(f, smaller)
	}
	for i := range c.out.Findings {
		if f := &c.out.Findings[i]; f.Kind == InsideRadius {
			f.Says += fmt.Sprintf("; %s g stay in all such corners", quantity.Short(c.out.Corners, 2))
		}
	}
}

// deepCorner judges how deep a round corner lies for the cutter that its radius asks
// for.
func (c *checker) deepCorner(k reach.Corner) {
	fits := -1.0
	for _, m := range c.limits.EndMills {
		if m.Diameter/2 <= k.Radius+sameFit {
			fits = m.Diameter
		}
	}
	if fits < 0 || k.Depth <= c.limits.Depth*fits+sameFit {
		return
	}
	c.add(Finding{
		Kind: DeepPocket, Where: where(k.At), Value: k.Depth, Limit: c.limits.Depth * fits, Count: 1,
		Says: said("corners of %v mm radius are %v mm deep, over %v times the cutter of %v mm that cuts them: light cuts, and it may chatter",
			k.Radius, k.Depth, c.limits.Depth, fits),
		Change: said("draw the corners rounder, or %v mm deep or less", c.limits.Depth*fits),
	}, larger)
}

// drillPoint is the height of a drill's point over its diameter: half of the
// cotangent of 59 degrees, for the usual point of 118.
const drillPoint = 0.300

// holes judges drilled holes: how deep they are, and what the point of the drill
// leaves under a blind one. A bore that is milled was judged as a wall.
func (c *checker) holes() {
	for _, h := range c.Features.Holes {
		if h.Diameter > c.drilled || c.out.MadeBy == Lathe && math.Abs(r3.Dot(h.Axis, c.axis)) > 0.9999 {
			continue
		}
		c.depth(h)
		c.point(h)
	}
}

func (c *checker) depth(h feature.Hole) {
	deep := h.Depth
	if h.Kind == feature.Counterbore {
		deep -= h.HeadDepth
	}
	if deep <= c.limits.Drill*h.Diameter*(1+1e-3) {
		return
	}
	f := Finding{
		Kind: DeepPocket, Where: where(h.Centre), Value: deep, Limit: c.limits.Drill * h.Diameter, Count: 1,
		Says:   said("a hole of %v mm is %v mm deep, over %v diameters: a long drill, with many pecks", h.Diameter, deep, c.limits.Drill),
		Change: "drill it wider, or from both sides",
	}
	if deep > c.limits.LongDrill*h.Diameter {
		f.Blocks, f.Limit = true, c.limits.LongDrill*h.Diameter
		f.Says = said("a hole of %v mm is %v mm deep, over %v diameters: no drill of a bench-top mill does that", h.Diameter, deep, c.limits.LongDrill)
		f.Change = "drill it wider, or counterbore it most of the way"
	}
	c.add(f, larger)
}

// point looks at the material under a blind hole.
func (c *checker) point(h feature.Hole) {
	if h.Open {
		return
	}
	under, ok := c.Beyond(h.Bottom(), r3.Scale(-1, h.Axis))
	if !ok {
		return
	}
	left := under - drillPoint*h.Diameter
	if under < c.careful-sameFit || left >= c.wall-sameFit {
		return // the floor itself is spoken of, or all is well
	}
	c.add(Finding{
		Kind: ThinFloor, Where: where(h.Bottom()), Value: max(0, left), Limit: c.wall, Count: 1,
		Says:   said("under the hole of %v mm the point of the drill leaves %v mm", h.Diameter, max(0, left)),
		Change: "finish the hole with an end mill, or make it less deep",
	}, smaller)
}
