package fit

// compare lists everything that differs under a motion.
func compare(old *shape, new *laid, opt Options) *comparison {
	c := &comparison{opt: opt, old: old, new: new, along: map[int]*[2]float64{}, told: map[string]bool{}}
	c.matches = pairAll(old.holes, new.holes)
	c.compareSeats()
	c.compareHoles()
	c.compareOpenings()
	c.compareNotches()
	c.compareSpigots()
	c.compareEdges()
	return c
}
