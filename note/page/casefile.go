package page

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"swapworth/swap/casefile"
)

// savedCase is what the page calls the case file that it writes.
const savedCase = "case.toml"

// saveCase writes the form as a case file. The meshes are named as they came, to lie
// beside it.
func (s *server) saveCase(w http.ResponseWriter, r *http.Request) {
	s.send(w, r, "application/toml", func(u upload) ([]byte, error) {
		text, err := s.caseText(u)
		if err == nil {
			w.Header().Set("Content-Disposition", `attachment; filename="`+savedCase+`"`)
		}
		return text, err
	})
}

// caseText is the case file of a form. What it has no key for stands in comments.
func (s *server) caseText(u upload) ([]byte, error) {
	for i := range u.files {
		u.files[i].path = u.files[i].name
	}
	a := u.asked(false)
	text, err := s.Case(a)
	if err != nil {
		return nil, u.inOwnWords(err)
	}
	var head []string
	if len(a.New) > 1 {
		head = append(head, "further redesigns: "+strings.Join(a.New[1:], ", "))
	}
	if tried := flags(u.values, true); len(tried) > len(flags(u.values, false)) {
		var only []string
		for _, f := range tried {
			if !slices.Contains(a.Flags, f) {
				only = append(only, f)
			}
		}
		head = append(head, "vary was asked with "+strings.Join(only, " "))
	}
	var b strings.Builder
	for _, line := range head {
		fmt.Fprintf(&b, "# %s\n", oneLine(errors.New(line)))
	}
	b.Write(text)
	return []byte(b.String()), nil
}

// openCase reads a case file and answers with the words of the form's fields, and what
// the form cannot take from it.
func (s *server) openCase(w http.ResponseWriter, r *http.Request) {
	values, says, err := readCase(http.MaxBytesReader(w, r.Body, maxText), r)
	if err != nil {
		http.Error(w, inFormWords(oneLine(err)), http.StatusUnprocessableEntity)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(map[string]any{"values": values, "says": says}) // a browser that has gone away needs no answer
}

func readCase(body io.ReadCloser, r *http.Request) (values map[string]string, says string, err error) {
	r.Body = body
	file, head, err := r.FormFile("case")
	if err != nil {
		return nil, "", fmt.Errorf("expected a case file of at most %d kB, as the page or swapworth init writes it", maxText>>10)
	}
	defer file.Close() // only read from
	text, err := io.ReadAll(file)
	if err != nil {
		return nil, "", err
	}
	name := harmless(head.Filename, savedCase)
	values, named, err := caseWords(text)
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", name, err)
	}
	says = name + " fills the form."
	if len(named) > 0 {
		says += " A page may not read files by itself: choose or drop " + strings.Join(named, ", ") + "."
	}
	return values, says, nil
}

// caseWords are the fields of the form that a case file fills, in the form in which
// the program writes them, and the files that it names.
func caseWords(text []byte) (values map[string]string, named []string, err error) {
	f, err := casefile.Parse(text)
	if err != nil {
		return nil, nil, err
	}
	if len(f.Pairs) > 0 {
		return nil, nil, errors.New("the page holds one stock part: several pairs are compared by swapworth compare --case")
	}
	plain, err := f.TOML(".")
	if err != nil {
		return nil, nil, err
	}
	var all map[string]any
	if err := toml.Unmarshal(plain, &all); err != nil {
		return nil, nil, err
	}
	values = map[string]string{}
	if cases, ok := all["load-case"]; ok {
		lines, err := toml.Marshal(map[string]any{"load-case": cases})
		if err != nil {
			return nil, nil, err
		}
		values["load-case"] = strings.TrimSpace(string(lines))
		delete(all, "load-case")
	}
	for key, v := range all {
		section, isSection := v.(map[string]any)
		if !isSection {
			key, section = "", map[string]any{key: v}
		}
		for k, v := range section {
			flag := flagOf(key, k)
			field, ok := fieldOf(flag)
			if !ok {
				named = append(named, fmt.Sprint(v))
				continue
			}
			values[flag] = field.joined(v)
		}
	}
	slices.Sort(named)
	return values, named, nil
}

// flagOf is the flag that says the same as a key of a case file.
func flagOf(section, key string) string {
	switch section {
	case "old", "new":
		return section + "-" + key
	case "load":
		if flag, other := map[string]string{"force": "load", "along": "load-along", "force-vector": "force"}[key]; other {
			return flag
		}
	case "joint":
		switch key {
		case "class", "hole", "tension", "shear":
			return "bolt-" + key
		case "repeats", "ratio":
			return "load-" + key
		}
	}
	return key
}

// joined writes a value of a case file as it is typed into the field.
func (f field) joined(v any) string {
	list, ok := v.([]any)
	if !ok {
		return fmt.Sprint(v)
	}
	var all []string
	for _, one := range list {
		word := fmt.Sprint(one)
		if f.Apart == "" {
			word = strings.ReplaceAll(word, " ", "") // blanks part the words of the field
		}
		all = append(all, word)
	}
	if f.Apart != "" {
		return strings.Join(all, f.Apart+" ")
	}
	return strings.Join(all, " ")
}
