package page

import (
	"bytes"
	"encoding/json"
	"net/http"
	"sync"
	"time"
)

// step is one line of an answer that tells how far it is.
type step struct {
	Share  float64 `json:"share,omitempty"` // of the work that is done, 0 to 1
	Answer string  `json:"answer,omitempty"`
	Failed bool    `json:"failed,omitempty"` // the answer says what went wrong
	ID     string  `json:"id,omitempty"`     // under which the answer is kept
	Drawn  []shown `json:"drawn,omitempty"`  // what the view may show of it
}

// betweenSteps is how often a person's eye is told.
const betweenSteps = 150 * time.Millisecond

// inSteps answers with lines of JSON: shares while it works, then the answer. A
// client that leaves ends the work, since the request's context ends.
func (s *server) inSteps(w http.ResponseWriter, r *http.Request, c command, u upload, wrong error) {
	w.Header().Set("Content-Type", "application/x-ndjson")
	lines := &lineWriter{to: json.NewEncoder(w), out: http.NewResponseController(w)}
	lines.write(step{})
	v := view{Values: u.values}
	if wrong == nil {
		wrong = s.fill(r.Context(), &v, c, u, lines.progress)
	}
	if wrong != nil {
		v.Error = inFormWords(oneLine(wrong))
	}
	var b bytes.Buffer
	if err := s.lay(&b, "answer", v); err != nil {
		s.Log.Printf("page: %v", err)
		b.WriteString("the answer cannot be shown")
	}
	lines.write(step{Answer: b.String(), Failed: wrong != nil, ID: v.ID, Drawn: v.Drawn})
}

// lineWriter sends each line at once. It is safe for use by several goroutines.
type lineWriter struct {
	mu   sync.Mutex
	to   *json.Encoder
	out  *http.ResponseController
	last time.Time
}

func (l *lineWriter) progress(share float64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if time.Since(l.last) >= betweenSteps && share > 0 {
		l.send(step{Share: share})
	}
}

func (l *lineWriter) write(s step) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.send(s)
}

// send is for callers that hold the lock.
func (l *lineWriter) send(s step) {
	l.last = time.Now()
	_ = l.to.Encode(s) // a browser that has gone away needs no answer
	_ = l.out.Flush()
}
