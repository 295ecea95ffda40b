package page

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"log"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"swapworth/swap"
)

// form returns a request with both parts, as a browser sends it.
func form(t *testing.T, ctx context.Context, url string) *http.Request {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, name := range []string{"old", "new"} {
		p, err := w.CreateFormFile(name, name+".stl")
		if err != nil {
			t.Fatal(err)
		}
		_, _ = p.Write(slab(t))
	}
	_ = w.Close()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, url, &b)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", w.FormDataContentType())
	return r
}

func TestARequestEndsWhenItsClientLeaves(t *testing.T) {
	began, ended := make(chan bool, 1), make(chan error, 1)
	first := true
	srv, _ := started(t, func(c *Config) {
		usual := c.Ask
		c.Ask = func(ctx context.Context, a Asked) (Question, error) {
			if !first {
				return usual(ctx, a)
			}
			first = false
			began <- true
			select {
			case <-ctx.Done():
				ended <- ctx.Err()
			case <-time.After(20 * time.Second):
				ended <- errors.New("the work went on after the client had left")
			}
			return Question{}, ctx.Err()
		}
	})
	ctx, leave := context.WithCancel(t.Context())
	go func() {
		<-began
		leave()
	}()
	if _, err := http.DefaultClient.Do(form(t, ctx, srv.URL+"/compare")); !errors.Is(err, context.Canceled) {
		t.Fatalf("the client did not leave: %v", err)
	}
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	// The turn is free again, and nothing of the first form is left.
	res, err := http.DefaultClient.Do(form(t, t.Context(), srv.URL+"/compare"))
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if res.StatusCode != http.StatusOK {
		t.Errorf("the next client got %s", res.Status)
	}
	var left []os.DirEntry
	for range 100 { // the last folder goes after its answer has been sent
		if left, _ = os.ReadDir(os.TempDir()); len(left) == 0 {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Errorf("left behind: %v", left)
}

func TestAFaultOfTheProgramIsToldAndThePageGoesOn(t *testing.T) {
	srv, _ := started(t, func(c *Config) {
		c.Ask = func(context.Context, Asked) (Question, error) { panic("broken") }
	})
	for range 2 {
		res, text := send(t, srv.URL+"/compare", both(t), nil)
		if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(text, "a fault of this program, not of your files: broken") {
			t.Fatalf("status %d: %s", res.StatusCode, text)
		}
	}
}

func TestAnUploadThatBreaksOffIsSaidInItsOwnWords(t *testing.T) {
	srv, _ := started(t, nil)
	whole := form(t, t.Context(), srv.URL+"/compare")
	body, err := io.ReadAll(whole.Body)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, srv.URL+"/compare", bytes.NewReader(body[:len(body)/2]))
	if err != nil {
		t.Fatal(err)
	}
	r.Header = whole.Header
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, _ := io.ReadAll(res.Body)
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(string(text), "the upload broke off before its end: send it again") {
		t.Errorf("status %d: %s", res.StatusCode, text)
	}
}

// A solve that runs for seconds ends where it is when its client leaves.
func TestASolveEndsWhenItsClientLeaves(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	s := &server{Config: Config{Ask: ask(new([]string)), MaxUpload: defaultMaxUpload, MaxTime: time.Minute, Log: log.New(io.Discard, "", 0)},
		kept: newShelf(1), turn: make(chan struct{}, 1)}
	working, ended := make(chan bool), make(chan error, 1)
	var once sync.Once
	spy := command{"compare", func(ctx context.Context, q Question, progress func(float64)) (answer, error) {
		q.Cases[0].Loading.Method = swap.BySolid // the full budget
		a, err := compare.decide(ctx, q, func(share float64) {
			progress(share)
			once.Do(func() { close(working) })
		})
		ended <- err
		return a, err
	}}
	srv := httptest.NewServer(s.asked(spy))
	defer srv.Close()
	ctx, leave := context.WithCancel(t.Context())
	go func() {
		<-working
		leave()
	}()
	res, err := http.DefaultClient.Do(form(t, ctx, srv.URL+"/?steps"))
	if err == nil {
		_, err = io.Copy(io.Discard, res.Body)
		res.Body.Close()
	}
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("the client did not leave: %v", err)
	}
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("the solve ended with %v", err)
	}
	select { // the turn is free
	case s.turn <- struct{}{}:
	case <-time.After(20 * time.Second):
		t.Error("the turn is still taken")
	}
}

func TestAnAnswerTellsHowFarItIs(t *testing.T) {
	srv, _ := started(t, func(c *Config) {
		usual := c.Ask
		c.Ask = func(ctx context.Context, a Asked) (Question, error) {
			q, err := usual(ctx, a)
			if err == nil {
				q.Cases[0].Loading.Method = swap.Auto
			}
			return q, err
		}
	})
	_, text := send(t, srv.URL+"/compare?steps", both(t), map[string]string{"load": "20N"})
	var last step
	shares := 0
	for line := range strings.Lines(text) {
		last = step{}
		if err := json.Unmarshal([]byte(line), &last); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
		if last.Share > 0 && last.Share <= 1 {
			shares++
		}
	}
	if shares == 0 || last.Failed || !strings.Contains(last.Answer, "Verdict: ") || last.ID == "" || len(last.Drawn) != 2 {
		t.Errorf("%d shares, and at last failed %v, %d bytes, %d parts drawn", shares, last.Failed, len(last.Answer), len(last.Drawn))
	}
	_, text = send(t, srv.URL+"/compare?steps", both(t)[:1], nil)
	if !strings.Contains(text, "no file of the redesign") || !strings.Contains(text, `"failed":true`) {
		t.Errorf("got %s", text)
	}
}
