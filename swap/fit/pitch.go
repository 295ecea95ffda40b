package fit

// CoarsePitch returns the pitch, in mm, of the ISO 261 coarse thread of the
// given diameter in mm.
func CoarsePitch(diameter float64) (pitch float64, ok bool) {
	for _, s := range screws {
		if s.diameter == diameter {
			return s.pitch, true
		}
	}
	return 0, false
}
