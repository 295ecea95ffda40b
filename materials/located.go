package materials

import (
	"errors"
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Located says in one line what is wrong with a TOML file of any kind: line,
// column, key, and what was expected. Other errors come back as they are.
func Located(err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		line, column := unknown.Errors[0].Position()
		return at(line, column, fmt.Errorf("unknown key %q", strings.Join(unknown.Errors[0].Key(), ".")))
	}
	var decode *toml.DecodeError
	if !errors.As(err, &decode) {
		return err
	}
	line, column := decode.Position()
	what := strings.TrimPrefix(decode.Error(), "toml: ")
	if strings.HasPrefix(what, "cannot decode") {
		what = wanted(what)
	}
	if key := decode.Key(); len(key) > 0 { // a fault of the writing has none
		what = strings.Join(key, ".") + ": " + what
	}
	return at(line, column, errors.New(what))
}

func at(line, column int, err error) error {
	return fmt.Errorf("line %d, column %d: %w", line, column, err)
}

// wanted says in plain words which kind of value belongs where another one
// stands; the decoder says it in terms of Go.
func wanted(what string) string {
	_, kind, _ := strings.Cut(what, " of type ")
	switch {
	case strings.HasPrefix(kind, "[]"):
		return "expected a list in [ ]"
	case kind == "bool":
		return "expected true or false"
	case kind == "string":
		return "expected text in quotes"
	case kind == "int", kind == "float64":
		return "expected a number"
	}
	return "a value of the wrong kind"
}
