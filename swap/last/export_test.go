package last

// What tests hold against tables from outside.
var (
	ClampedPlate = clampedPlate
	Strip        = strip
	Bends        = bends
)
