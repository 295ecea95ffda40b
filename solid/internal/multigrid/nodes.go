package multigrid

// Nodes returns how many nodes bricks meet at; they are numbered from zero.
func (s *System) Nodes() int { return len(s.op.pos) }

// Node returns which node (i, j, k) of the grid active node t is.
func (s *System) Node(t int) [3]int32 { return s.op.at[t] }

// Place returns the coordinates of active node t in mm.
func (s *System) Place(t int) [3]float64 {
	at := s.op.at[t]
	return [3]float64{s.g.Lines[0][at[0]], s.g.Lines[1][at[1]], s.g.Lines[2][at[2]]}
}

// Entry returns where the three numbers of active node t start in a vector.
func (s *System) Entry(t int) int { return 3 * int(s.op.pos[t]) }

// EntryAt returns where the three numbers of node (i, j, k) start, and that of numbers
// that are always zero where no brick meets it.
func (s *System) EntryAt(i, j, k int) int { return 3 * int(s.op.storedAt(i, j, k)) }

// NodeOf returns the active node of an entry, below zero where there is none.
func (s *System) NodeOf(entry int) int { return int(s.node[entry/3]) }

// Around returns the number of the brick on side v of active node t: above it along
// axis 0 where bit 2 of v is set, along axis 1 for bit 1, along axis 2 for bit 0. It is
// below zero outside the grid.
func (s *System) Around(t, v int) int { return s.op.cellAround(t, v) }
