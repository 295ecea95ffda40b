package swap

import (
	"sync"

	"swapworth/swap/internal/draw"
)

// sampler keeps what was drawn, of ranges and of whole parts.
type sampler struct {
	draw.Sampler
	lots sync.Map // lotKey -> lot
}

// The uncertain inputs, each by the stream that draws it.
const (
	oldWeight draw.Stream = iota + 1
	newWeight
	oldDensity
	newDensity
	oldVolume
	newVolume
	oldModulus
	newModulus
	oldStrength
	newStrength
	oldStress
	newStress
	oldMethod
	newMethod
	oldDepth
	newDepth
	oldOutline
	newOutline
	scaleError // the same for both parts: one scale
	loadSize   // the same for every load case
	hoursTaken
	priceOfHour
	priceOfStock
	priceQuoted
	priceOfParts
	oldGrain
	newGrain
)

// streams name the uncertain inputs of one part.
type streams struct {
	weight, density, volume, modulus, strength, method, stress, grain draw.Stream
	size                                                              [sizeErrors]draw.Stream
}
