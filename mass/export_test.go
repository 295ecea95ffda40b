package mass

// OpenError is what tests from outside tell an open mesh by.
type OpenError = openError

// What they hold against known values.
var (
	Match     = match
	Principal = principal
	SpreadOf  = spreadOf
)
