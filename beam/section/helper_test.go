package section

// checker is what the checks need of *testing.T and *rapid.T.
type checker interface {
	Helper()
	Errorf(format string, args ...any)
	Fatal(args ...any)
}
