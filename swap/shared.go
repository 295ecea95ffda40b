package swap

import "sync"

// shared is a part that several comparisons have in common: measured once, and with it
// solved once in every way that is asked for. The zero value has seen no part.
type shared struct {
	one  sync.Mutex // held by a comparison that asks more of the part than to be solved
	lock sync.Mutex
	part func() (part, error)
}

// measured measures the part the first time.
func (s *shared) measured(side Side) (part, error) {
	s.lock.Lock()
	if s.part == nil {
		s.part = sync.OnceValues(func() (part, error) { return measure(side) })
	}
	s.lock.Unlock()
	return s.part()
}
