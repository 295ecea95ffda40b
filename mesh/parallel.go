package mesh

// chunkSize is the number of faces or corners that one step of parallel work
// takes: long enough to hide the hand-over, short enough to balance two cores.
const chunkSize = 1 << 15
