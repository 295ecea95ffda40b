package page

import (
	"crypto/rand"
	"sync"

	"swapworth/note/render"
)

// answer is one answer, kept so that its note can be saved.
type answer struct {
	result any
	doc    render.Document
	short  *render.Document // what fits one screen; nil where the note has no such form
	drawn  []drawn
}

// shelf keeps the last few answers in memory. It is safe for use by several
// requests at once.
type shelf struct {
	mu    sync.Mutex
	most  int
	order []string
	byID  map[string]answer
}

func newShelf(most int) *shelf { return &shelf{most: most, byID: map[string]answer{}} }

// put keeps an answer under a name that cannot be guessed, and drops the oldest
// when there are too many.
func (s *shelf) put(a answer) (id string) {
	id = rand.Text()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.order = append(s.order, id)
	s.byID[id] = a
	for len(s.order) > s.most {
		delete(s.byID, s.order[0])
		s.order = s.order[1:]
	}
	return id
}

func (s *shelf) get(id string) (answer, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	a, ok := s.byID[id]
	return a, ok
}
