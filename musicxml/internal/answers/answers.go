package answers

import "sync"

// Kept remembers answers, for questions that all parts of a score ask over again:
// what their words mean. The zero value is ready; it serves several goroutines.
type Kept[K comparable, V any] struct {
	mutex   sync.RWMutex
	answers map[K]V
}

// Ask returns the answer to a question, worked out if it is asked for the first
// time.
func (m *Kept[K, V]) Ask(question K, work func() V) V {
	m.mutex.RLock()
	answer, known := m.answers[question]
	m.mutex.RUnlock()
	if known {
		return answer
	}
	answer = work()
	m.mutex.Lock()
	defer m.mutex.Unlock()
	if m.answers == nil {
		m.answers = map[K]V{}
	}
	m.answers[question] = answer
	return answer
}
