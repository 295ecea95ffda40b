package render

import (
	"io"
	"math"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// JSON is the result itself, not the document.
const JSON Format = "json"

var jsonKind = kind{
	name: JSON, title: "JSON", endings: []string{".json"}, media: "application/json",
	write: func(w io.Writer, p printed) error { return writeJSON(w, p.result) },
}

// jsonOptions: JSON has no NaN and no infinity, so a value that could not be
// computed becomes null; file names may be any bytes; map keys are sorted.
var jsonOptions = json.JoinOptions(
	jsontext.WithIndent("  "),
	jsontext.AllowInvalidUTF8(true),
	json.Deterministic(true),
	json.WithMarshalers(json.MarshalToFunc(func(enc *jsontext.Encoder, v float64) error {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return enc.WriteToken(jsontext.Null)
		}
		return enc.WriteValue(jsontext.Value(number(v)))
	})),
)

// number writes the shortest digits that read back as v.
func number(v float64) string {
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e21) {
		return strconv.FormatFloat(v, 'e', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func writeJSON(w io.Writer, result any) error {
	b, err := json.Marshal(result, jsonOptions)
	if err != nil {
		return err
	}
	_, err = w.Write(append(b, '\n'))
	return err
}
