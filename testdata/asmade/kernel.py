"""Solids, edges and meshes of the kernel, as testdata/asmade uses them."""
import gzip
import math
import os
import struct

import gmsh

HERE = os.path.dirname(os.path.abspath(__file__))
occ = gmsh.model.occ
truth = []


def box(x, y, z, a, b, c):
    return occ.addBox(x, y, z, a, b, c)


def prism(wire_curves, z, h):
    """The prism of height h over closed curves at height z."""
    loop = occ.addCurveLoop(wire_curves)
    face = occ.addPlaneSurface([loop])
    return [t for d, t in occ.extrude([(2, face)], 0, 0, h) if d == 3][0]


def rounded(x, y, z, a, b, h, r):
    """A block a x b x h with upright edges of radius r."""
    if r <= 0:
        return box(x, y, z, a, b, h)
    face = occ.addRectangle(x, y, z, a, b, -1, r)
    return [t for d, t in occ.extrude([(2, face)], 0, 0, h) if d == 3][0]


def cylinder(x, y, z, r, h):
    return occ.addCylinder(x, y, z, 0, 0, h, r)


def cone(x, y, z, r1, r2, h):
    return occ.addCone(x, y, z, 0, 0, h, r1, r2)


def ellipse(x, y, z, a, b, h):
    return prism([occ.addEllipse(x, y, z, a, b)], z, h)


def frustum(x0, y0, x1, y1, z0, z1, draft):
    """A block over the rectangle at z0 whose walls lean out by draft (mm a mm)."""
    def corners(z, by):
        return [occ.addPoint(*p) for p in (
            (x0 - by, y0 - by, z), (x1 + by, y0 - by, z), (x1 + by, y1 + by, z), (x0 - by, y1 + by, z))]
    low, high = corners(z0, 0), corners(z1, draft * (z1 - z0))
    def ring(p):
        return [occ.addLine(p[i], p[(i + 1) % 4]) for i in range(4)]
    bottom, top = ring(low), ring(high)
    up = [occ.addLine(low[i], high[i]) for i in range(4)]
    faces = [occ.addPlaneSurface([occ.addCurveLoop(bottom)]), occ.addPlaneSurface([occ.addCurveLoop(top)])]
    for i in range(4):
        faces.append(occ.addPlaneSurface([occ.addCurveLoop([bottom[i], up[(i + 1) % 4], top[i], up[i]])]))
    return occ.addVolume([occ.addSurfaceLoop(faces)])


def cut(a, *tools):
    out, _ = occ.cut([(3, a)], [(3, t) for t in tools])
    assert len(out) == 1, out
    return out[0][1]


def fuse(a, *others):
    out, _ = occ.fuse([(3, a)], [(3, t) for t in others])
    assert len(out) == 1, out
    return out[0][1]


def edges(v, keep):
    """Curves of a volume whose box (x0, y0, z0, x1, y1, z1) keep accepts."""
    occ.synchronize()
    out = []
    for d, c in gmsh.model.getBoundary([(3, v)], combined=False, oriented=False):
        for _, e in gmsh.model.getBoundary([(d, c)], combined=False, oriented=False):
            if e not in out and keep(*gmsh.model.getBoundingBox(1, e)):
                out.append(e)
    return out


def at(z, inside=None):
    """Accepts level edges at height z, within the rectangle inside if given."""
    def keep(x0, y0, z0, x1, y1, z1):
        if abs(z0 - z) > 1e-4 or abs(z1 - z) > 1e-4:
            return False
        return inside is None or (x0 > inside[0] - 1e-3 and y0 > inside[1] - 1e-3 and x1 < inside[2] + 1e-3 and y1 < inside[3] + 1e-3)
    return keep


def fillet(v, r, keep):
    return occ.fillet([v], edges(v, keep), [r])[0][1]


def chamfer(v, c, keep):
    """Breaks edges by c x 45 degrees."""
    chosen, faces = edges(v, keep), []
    for e in chosen:
        up, _ = gmsh.model.getAdjacencies(1, e)
        faces.append(int(up[0]))
    return occ.chamfer([v], chosen, faces, [c])[0][1]


def volume(v):
    return occ.getMass(3, v)


def oriented(stl):
    """The triangles of a closed binary STL, all looking outwards: the kernel's
    surfaces carry normals of their own."""
    n, = struct.unpack_from("<I", stl, 80)
    faces = []
    for i in range(n):
        c = struct.unpack_from("<12f", stl, 84 + 50 * i)[3:]
        faces.append([c[0:3], c[3:6], c[6:9]])
    across = {}
    for i, f in enumerate(faces):
        for k in range(3):
            across.setdefault(frozenset((f[k], f[(k + 1) % 3])), []).append(i)
    seen, turned = [False] * n, [False] * n
    for start in range(n):
        stack = [] if seen[start] else [start]
        seen[start] = True
        while stack:
            i = stack.pop()
            f = faces[i][::-1] if turned[i] else faces[i]
            for k in range(3):
                a, b = f[k], f[(k + 1) % 3]
                pair = across[frozenset((a, b))]
                assert len(pair) == 2, "the mesh is open"
                j = pair[0] if pair[1] == i else pair[1]
                if seen[j]:
                    continue
                g = faces[j]
                same = any(g[m] == a and g[(m + 1) % 3] == b for m in range(3))
                seen[j], turned[j] = True, same
                stack.append(j)
    faces = [f[::-1] if t else f for f, t in zip(faces, turned)]
    volume = sum(a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])
                 for a, b, c in faces)
    return faces if volume > 0 else [f[::-1] for f in faces]


def write(name, v, chords, size, refine):
    occ.synchronize()
    gmsh.option.setNumber("Mesh.CharacteristicLengthFromCurvature", 1)
    gmsh.option.setNumber("Mesh.MinimumElementsPerTwoPi", chords)
    gmsh.option.setNumber("Mesh.CharacteristicLengthMax", size)
    gmsh.option.setNumber("Mesh.CharacteristicLengthMin", 0.9)
    gmsh.option.setNumber("Mesh.Algorithm", refine)
    keep = {t for _, t in gmsh.model.getBoundary([(3, v)], combined=False, oriented=False)}
    gmsh.model.mesh.generate(2)
    path = os.path.join("/tmp", name + ".stl")
    gmsh.option.setNumber("Mesh.Binary", 1)
    gmsh.model.removePhysicalGroups()
    gmsh.model.addPhysicalGroup(2, sorted(keep))
    gmsh.write(path)
    with open(path, "rb") as f:
        faces = oriented(f.read())
    with open(os.path.join(HERE, name + ".stl.gz"), "wb") as f:
        with gzip.GzipFile(filename="", fileobj=f, mode="wb", compresslevel=9, mtime=0) as z:
            z.write(b"\0" * 80 + struct.pack("<I", len(faces)))
            for face in faces:
                z.write(struct.pack("<12fH", 0, 0, 0, *face[0], *face[1], *face[2], 0))
    n = len(faces)
    os.remove(path)
    return n


def part(name, departure, build, chords=24, size=200, algorithm=6, **amounts):
    """build(None) draws the part, build(amounts) makes it."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    try:
        v = build()
        occ.synchronize()
        drawn = volume(v)
        n = write(name, v, chords, size, algorithm)
        gmsh.clear()
        v = build(**amounts)
        occ.synchronize()
        made = volume(v)
        truth.append(dict(name=name, departure=departure, triangles=n, drawn_mm3=drawn, made_mm3=made, **amounts))
        print("%-42s %6d triangles %12.3f -> %12.3f" % (name, n, drawn, made), flush=True)
    except Exception as e:
        print("%-42s FAILED %s" % (name, e), flush=True)
    finally:
        gmsh.finalize()
