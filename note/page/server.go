package page

import (
	"context"
	"errors"
	"log"
	"net"
	"net/http"
	"slices"
	"time"

	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// Config is what a page needs of the program around it.
type Config struct {
	// Ask turns meshes and flags of `compare` and `vary` into a question. It ends with
	// an error when ctx is done.
	Ask func(ctx context.Context, a Asked) (Question, error)
	// Load reads one part, a redesign or the stock part, as Ask does, and says in which
	// units it is spoken of.
	Load func(ctx context.Context, path string, redesign bool, flags []string) (*mesh.Loaded, quantity.System, error)
	// Case writes what is asked as a case file that names the meshes by their paths.
	Case func(a Asked) ([]byte, error)
	// Materials are offered by name.
	Materials []string
	Version   string
	// MaxUpload is the largest form taken, files included, in bytes; 0 means
	// DefaultMaxUpload.
	MaxUpload int64
	// MaxTime is the longest a comparison may take; 0 means two minutes.
	MaxTime time.Duration
	// Log gets one line for every answer that failed for an inner reason.
	Log *log.Logger
}

// Asked is a form as the command line has it.
type Asked struct {
	Old       string   // path of the stock part's mesh; empty where a bar stands for it
	New       []string // paths of the redesigns' meshes
	Flags     []string // such as "--load=20N"
	LoadCases string   // further load cases in the words of a case file
}

// Question is what a form asks: which of the redesigns is worth making, or what
// other thicknesses and materials would do. The cases are in the order of the
// redesigns.
type Question struct {
	Cases     []swap.Case
	Variation swap.Variation
}

// defaultMaxUpload holds two binary STL files of a million triangles each.
const defaultMaxUpload = 128 << 20

const defaultMaxTime = 2 * time.Minute

// server answers the requests of one page.
type server struct {
	Config
	hosts []string // the names under which the page may be asked for
	kept  *shelf
	turn  chan struct{} // one comparison at a time: each uses every core
}

// Serve answers requests on the listener until ctx is done. The listener must be
// on a loopback address.
func Serve(ctx context.Context, l net.Listener, c Config) error {
	address, ok := l.Addr().(*net.TCPAddr)
	if !ok || !address.IP.IsLoopback() {
		return errors.New("the page is served on a loopback address only")
	}
	srv := &http.Server{
		Handler:           newHandler(c, address.Port),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       5 * time.Minute,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    32 << 10,
		BaseContext:       func(net.Listener) context.Context { return ctx },
		ErrorLog:          c.Log,
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		grace, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		stopped <- srv.Shutdown(grace)
	}()
	if err := srv.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-stopped
}

// newHandler returns the page with its guards, for requests to the given port.
func newHandler(c Config, port int) http.Handler {
	if c.MaxUpload == 0 {
		c.MaxUpload = defaultMaxUpload
	}
	if c.MaxTime == 0 {
		c.MaxTime = defaultMaxTime
	}
	if c.Log == nil {
		c.Log = log.Default()
	}
	s := &server{Config: c, hosts: localHosts(port), kept: newShelf(8), turn: make(chan struct{}, 1)}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.front)
	mux.HandleFunc("POST /compare", s.asked(compare))
	mux.HandleFunc("POST /vary", s.asked(vary))
	mux.HandleFunc("GET /note/{id}/{name}", s.download)
	mux.HandleFunc("GET /page.css", asset("text/css; charset=utf-8", render.PageStyle()+formStyle))
	for _, name := range scripts {
		mux.HandleFunc("GET /"+name, script(name))
	}
	mux.HandleFunc("POST /part", s.part)
	mux.HandleFunc("POST /match", s.match)
	mux.HandleFunc("POST /case", s.saveCase)
	mux.HandleFunc("POST /case/open", s.openCase)
	mux.HandleFunc("GET /note/{id}/shape/{part}", s.shape)
	mux.HandleFunc("GET /favicon.ico", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) })
	return s.guard(http.NewCrossOriginProtection().Handler(mux))
}

// guard refuses requests that were not meant for this page, such as those of a
// foreign site whose name was made to point here, and tells the browser to load
// and run nothing but the page's own files.
func (s *server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; "+
			"img-src data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !slices.Contains(s.hosts, r.Host) {
			http.Error(w, "this page answers only under its own local address", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *server) front(w http.ResponseWriter, _ *http.Request) {
	s.show(w, http.StatusOK, view{Values: map[string]string{}})
}
