package swap

import "sync"

// memo keeps what was found for each question, whoever asks it first. An error is not
// kept. The zero value has answered nothing.
type memo struct {
	lock sync.Mutex
	kept map[any]any // by question: *once of what it asks for
}

// remembered returns what was found for a question, or finds it.
func remembered[K comparable, V any](m *memo, question K, find func() (V, error)) (V, error) {
	m.lock.Lock()
	if m.kept == nil {
		m.kept = map[any]any{}
	}
	one, ok := m.kept[question].(*once[V])
	if !ok {
		one = new(once[V])
		m.kept[question] = one
	}
	m.lock.Unlock()
	return one.of(find)
}

// once keeps the first answer to a question, whoever asks first.
type once[T any] struct {
	lock sync.Mutex
	kept *T
}

func (o *once[T]) of(find func() (T, error)) (T, error) {
	o.lock.Lock()
	defer o.lock.Unlock()
	if o.kept != nil {
		return *o.kept, nil
	}
	found, err := find()
	if err == nil {
		o.kept = &found
	}
	return found, err
}
