package note

// Origin is what a note says of the run that made it: the version, the command
// line that reproduces it, and the files beside the meshes that went into it.
type Origin struct {
	Version, Command string
	Files            []string // each with its SHA-256
}

// MadeBy returns the document with its origin at the end.
func (d Document) MadeBy(o Origin) Document {
	made := Lines{Title: "How this was made", Lines: []Line{
		{Text: "swapworth " + o.Version}, {Text: "Reproduce it with: " + o.Command},
	}}
	for _, f := range o.Files {
		made.Lines = append(made.Lines, Line{Text: "With " + f})
	}
	d.Blocks = append(d.Blocks[:len(d.Blocks):len(d.Blocks)], Detail{made})
	return d
}
