package page

import "strings"

// inFormWords puts the labels of the form in place of the flags that an answer
// names. The command line that reproduces it has values and stays as it is.
func inFormWords(text string) string {
	return flagWord.ReplaceAllStringFunc(text, func(m string) string {
		part := flagWord.FindStringSubmatch(m)
		if label := labelOf(part[1]); label != "" {
			return "\u201c" + label + "\u201d" + part[2]
		}
		return m
	})
}

func oneLine(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }
