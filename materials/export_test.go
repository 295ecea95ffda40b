package materials

// AddFile reads rows from a file, for tests from outside.
func (t *Table) AddFile(path string) error { return t.addFile(path) }
