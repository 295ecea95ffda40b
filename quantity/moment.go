package quantity

// Moment is a couple or a torque, in N mm. Read from N mm, N m, kN m, lbf in
// and lbf ft.
type Moment float64

var moment = dimension{"a moment", "2 N m or 20 lbf in", []unit{
	{"N mm", 1}, {"N m", 1000}, {"kN m", 1e6}, {"lbf in", lbf * inch}, {"lbf ft", lbf * 12 * inch},
	{"in lbf", lbf * inch}, {"ft lbf", lbf * 12 * inch}}, true, 1e-6, 1e15}

// Set reads the text and keeps the old value on error.
func (q *Moment) Set(text string) error { return read(moment, q, text) }

// UnmarshalText reads what Set reads.
func (q *Moment) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Moment) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Moment) String() string { return moment.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Moment) Type() string { return "moment" }
