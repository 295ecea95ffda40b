package swap

// Indices of loadCase.on.
const (
	onStock    = 0
	onRedesign = 1
)

func sideName(side int) string { return [2]string{"stock part", "redesign"}[side] }

// sideKeys name the parts in JSON and in a case file.
var sideKeys = [2]string{"old", "new"}
