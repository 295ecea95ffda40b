package swap

import "sync"

// stock is the stock part as several redesigns share it: measured once, and bent
// once in every way that is asked for. The zero value has seen no part.
type stock struct {
	lock sync.Mutex
	part func() (part, error)
	bent map[string]func() ([]response, error)
}

// measured measures the part the first time.
func (s *stock) measured(side Side) (part, error) {
	s.lock.Lock()
	if s.part == nil {
		s.part = sync.OnceValues(func() (part, error) { return measure(side) })
	}
	s.lock.Unlock()
	return s.part()
}

// once returns bend, or what has been bent that way before.
func (s *stock) once(way string, bend func() ([]response, error)) func() ([]response, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.bent == nil {
		s.bent = map[string]func() ([]response, error){}
	}
	if s.bent[way] == nil {
		s.bent[way] = sync.OnceValues(bend)
	}
	return s.bent[way]
}
