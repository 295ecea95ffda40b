// Package mesh reads triangle meshes from STL files, says whether they bound a
// solid, places them and finds what lines meet. Package mesh/repair mends them,
// mesh/cut takes sections.
//
// All lengths are millimetres. A Mesh is not changed once it is made: whatever
// alters a part returns a new one.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	reading   stream.go load.go source.go binary.go ascii.go number.go blocks.go
//	          memory.go format.go
//	writing   write.go repair.go
//	joining   weld.go unit.go settle.go patch.go doubles.go join.go
//	checking  check.go winding.go solidvolume.go overlap.go selfcross.go intersect.go
//	asking    ray.go plane.go stretch.go neighbours.go
//	parts     shells.go volume.go faces.go edges.go
//	mesh      build.go transform.go mesh.go parallel.go
package mesh
