package fit

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
)

// AcceptedIn is readAccepted for a file; an empty path accepts nothing.
func AcceptedIn(path string) ([]string, error) {
	if path == "" {
		return nil, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("--accept: %w", err)
	}
	defer f.Close()
	list, err := readAccepted(f)
	if err != nil {
		return nil, fmt.Errorf("--accept %s: %w", path, err)
	}
	return list, nil
}

// readAccepted reads the findings that a person means to be so from the JSON of an
// earlier `fit` or `compare`: those of its `findings` that blocked then, or were
// accepted already. What a person deleted from `findings` is not accepted.
func readAccepted(r io.Reader) ([]string, error) {
	type report struct {
		Findings []string `json:"findings"`
		Blocking []string `json:"blocking"`
		Accepted []string `json:"accepted"`
	}
	var file struct {
		report
		Fit *report `json:"fit"` // of compare
	}
	if err := json.NewDecoder(r).Decode(&file); err != nil {
		return nil, fmt.Errorf("expected the JSON that `fit --format json` writes: %w", err)
	}
	from := file.report
	if file.Fit != nil {
		from = *file.Fit
	}
	if from.Findings == nil {
		return nil, errors.New("it holds no `findings`: expected what `fit --format json` writes")
	}
	var out []string
	for _, text := range from.Findings {
		if slices.Contains(from.Blocking, text) || slices.Contains(from.Accepted, text) {
			out = append(out, text)
		}
	}
	if len(out) == 0 {
		return nil, errors.New("none of its `findings` blocks, so there is nothing to accept")
	}
	return out, nil
}
