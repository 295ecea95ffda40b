"""Makes the parts of testdata/asmade and what the kernel says of them.

    /usr/bin/python3 make.py               # the committed ones
    /usr/bin/python3 make.py 60 7 /tmp/x   # 60 at random from seed 7, for
                                           # go test ./mesh/asmade -run Truth -family /tmp/x

gmsh 4.8 with OpenCASCADE, from Debian. Every part is drawn twice in the kernel: as the drawing has it, and as it comes
off the mill in one respect. The first is written as a mesh (NAME.stl.gz, with the
stated number of chords to a full circle), the exact volumes of both go into
truth.json. A name that begins with "apart" belongs to the set that no rule was
chosen on.
"""
import gzip
import json
import math
import os
import random
import struct
import sys

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


# Not faced: the top rides up by extra; what breaks its edges keeps its shape.

def filleted_box(a, b, h, r, upright=0.0):
    def build(extra=0.0):
        v = rounded(0, 0, 0, a, b, h + extra, upright)
        return fillet(v, r, at(h + extra))
    return build


def filleted_all_round(a, b, h, r):
    def build(extra=0.0):
        v = box(0, 0, 0, a, b, h + extra)
        return fillet(v, r, lambda x0, y0, z0, x1, y1, z1: z1 > h + extra - 1e-4)  # top and upright edges
    return build


def chamfered_box(a, b, h, c, upright=0.0, hole=0.0):
    def build(extra=0.0, skipped=0.0):
        v = rounded(0, 0, 0, a, b, h + extra, upright)
        if hole:
            v = cut(v, cylinder(a / 3, b / 2, -1, hole, h + extra + 2), cylinder(2 * a / 3, b / 2, -1, hole, h + extra + 2))
        return v if skipped else chamfer(v, c, at(h + extra))
    return build


def disc(r, bore, h, edge, c):
    def build(extra=0.0):
        v = cut(cylinder(0, 0, 0, r, h + extra), cylinder(0, 0, -1, bore, h + extra + 2))
        v = fillet(v, edge, lambda *b: at(h + extra)(*b) and b[3] - b[0] > r)
        return chamfer(v, c, lambda *b: at(h + extra)(*b) and b[3] - b[0] < 2 * bore + 0.1)
    return build


def boss(foot, edge):
    def build(extra=0.0):
        v = fuse(box(0, 0, 0, 60, 40, 6), cylinder(25, 20, 6, 10, 8 + extra))
        v = fillet(v, foot, at(6, (14, 9, 36, 31)))
        return fillet(v, edge, at(14 + extra))
    return build


def drafted(draft, edge=0.0):
    def build(extra=0.0):
        v = frustum(0, 0, 60, 40, 0, 12 + extra, draft)
        return fillet(v, edge, at(12 + extra)) if edge else v
    return build


def drafted_pocket(draft):
    def build(extra=0.0):
        return cut(box(0, 0, 0, 80, 60, 10 + extra), frustum(20, 15, 60, 45, 4, 10 + extra, draft))
    return build


def pocketed(edge, rim, corner):
    def build(extra=0.0):
        v = cut(rounded(0, 0, 0, 80, 60, 10 + extra, 6), rounded(20, 15, 4, 40, 30, 10 + extra, corner),
                cylinder(8, 8, -1, 2.75, 20 + extra))
        v = fillet(v, edge, lambda *b: at(10 + extra)(*b) and not at(10 + extra, (2.5, 2.5, 77.5, 57.5))(*b))
        return chamfer(v, rim, at(10 + extra, (15, 10, 65, 50)))
    return build


def stepped(edge, below):
    # a step close under the edges' roundings, which stay clear of it
    def build(extra=0.0):
        v = fuse(box(0, 0, 0, 80, 40, 8), box(30, 8, 0, 42, 24, 8 + below + extra))
        return fillet(v, edge, at(8 + below + extra))
    return build


def sunk(counter):
    def build(extra=0.0):
        v = rounded(0, 0, 0, 70, 40, 8 + extra, 5)
        for x in (12, 35, 58):
            v = cut(v, cylinder(x, 20, -1, 2.75, 20))
            v = cut(v, cone(x, 20, 8 + extra - 2.5, 2.75, 5.25, 2.5) if counter else cylinder(x, 20, 4, 5, 20))
        return v
    return build


# Stock left: walls by wall, floors by floor, into the pocket; a foot radius is
# the cutter's and stays.

def pocket(corner, foot=0.0, rim=0.0, island=0.0, holes=True):
    def build(wall=0.0, floor=0.0):
        v = box(0, 0, 0, 90, 60, 12)
        t = rounded(20 + wall, 12 + wall, 5 + floor, 50 - 2 * wall, 36 - 2 * wall, 20, corner - wall if corner else 0)
        if foot:
            t = fillet(t, foot, at(5 + floor))
        v = cut(v, t)
        if island:
            v = fuse(v, cylinder(45, 30, 3, island + wall, 9))
        if holes:
            v = cut(v, cylinder(9, 9, -1, 2.75, 20), cylinder(81, 51, -1, 2.75, 20))
        if rim:
            v = chamfer(v, rim, at(12, (19, 11, 71, 49)))
        return v
    return build


def circle(r, foot=0.0, bore=0.0):
    def build(wall=0.0, floor=0.0):
        t = cylinder(35, 30, 5 + floor, r - wall, 20)
        if foot:
            t = fillet(t, foot, at(5 + floor))
        v = cut(box(0, 0, 0, 70, 60, 12), t)
        return cut(v, cylinder(35, 30, -1, bore, 30)) if bore else v
    return build


def slanted(degrees, corner=False):
    tan, cos = math.tan(math.radians(degrees)), math.cos(math.radians(degrees))
    def build(wall=0.0, floor=0.0):
        # the wall moves by wall along its normal: by wall/cos along the floor
        if corner:  # a round recess with a slanted wall
            at0 = wall / cos - floor * tan
            return cut(box(0, 0, 0, 70, 60, 12), cone(35, 30, 5 + floor, 18 - at0, 18 - at0 + tan * (7 - floor), 7 - floor))
        at0 = wall / cos - floor * tan
        return cut(box(0, 0, 0, 90, 60, 12), frustum(22 + at0, 15 + at0, 68 - at0, 45 - at0, 5 + floor, 12, tan))
    return build


def window(corner):
    def build(wall=0.0, floor=0.0):
        v = cut(box(0, 0, 0, 90, 60, 8), rounded(20 + wall, 15 + wall, -1, 50 - 2 * wall, 30 - 2 * wall, 20, corner - wall))
        return cut(v, cylinder(9, 9, -1, 2.25, 20))
    return build


def several(shift):
    def build(wall=0.0, floor=0.0):
        v = rounded(0, 0, 0, 140, 70, 12, 8)
        return cut(v,
                   rounded(12 + wall, 12 + wall, 4 + floor, 34 - 2 * wall, 44 + shift - 2 * wall, 20, 4 - wall),
                   cylinder(70, 30, 5 + floor, 14 + shift / 2 - wall, 20),
                   rounded(95 + wall, 15 + wall, -1, 30 - 2 * wall, 38 - 2 * wall, 30, 5 - wall),
                   cylinder(6, 6, -1, 2, 20), cylinder(134, 64, -1, 2, 20), cylinder(70, 58, -1, 3, 20))
    return build


def nested(r):
    def build(wall=0.0, floor=0.0):
        return cut(box(0, 0, 0, 90, 60, 14),
                   rounded(12 + wall, 10 + wall, 9 + floor, 66 - 2 * wall, 40 - 2 * wall, 20, 6 - wall),
                   rounded(25 + wall, 18 + wall, 4 + floor, 40 - 2 * wall, 24 - 2 * wall, 20, r - wall))
    return build


def elliptic(a, b):
    def build(wall=0.0, floor=0.0):
        if not wall:
            return cut(box(0, 0, 0, 80, 60, 12), ellipse(40, 30, 5, a, b, 20))
        # The inner parallel of an ellipse is none: it encloses pi a b - L w + pi w^2
        # (Steiner's formula, from memory; w below the least radius of curvature). A
        # round recess of that area holds the same.
        n = 4096
        length = sum(2 * math.pi / n * math.hypot(a * math.sin(2 * math.pi * k / n), b * math.cos(2 * math.pi * k / n)) for k in range(n))
        area = math.pi * a * b - length * wall + math.pi * wall * wall
        return cut(box(0, 0, 0, 80, 60, 12), cylinder(40, 30, 5 + floor, math.sqrt(area / math.pi), 20))
    return build


def step_and_both_sides(depth):
    def build(wall=0.0, floor=0.0):
        v = box(0, 0, 0, 100, 60, 14)
        v = cut(v, box(80 + wall, -1, 10 + floor, 40, 80, 20))
        v = cut(v, rounded(12 + wall, 12 + wall, 14 - depth + floor, 50 - 2 * wall, 36 - 2 * wall, 20, 5 - wall))
        return cut(v, rounded(20 + wall, 16 + wall, -10, 40 - 2 * wall, 28 - 2 * wall, 13 - floor, 4 - wall))
    return build


# Chamfers skipped.

def round_bar(r, h, c, bore=0.0):
    def build(skipped=0.0):
        v = cylinder(0, 0, 0, r, h)
        if bore:
            v = cut(v, cylinder(0, 0, -1, bore, h + 2))
        if skipped:
            return v
        return chamfer(chamfer(v, c, at(h)), c, at(0))
    return build


def rimmed(corner, c, foot=0.0):
    def build(skipped=0.0):
        t = rounded(20, 12, 5, 50, 36, 20, corner)
        if foot:
            t = fillet(t, foot, at(5))
        v = cut(rounded(0, 0, 0, 90, 60, 12, 6), t, cylinder(9, 9, -1, 3, 20))
        return v if skipped else chamfer(v, c, at(12))
    return build


def twelve_edges(c):
    def build(skipped=0.0):
        v = box(0, 0, 0, 40, 30, 20)
        return v if skipped else chamfer(v, c, lambda *b: True)
    return build


def triangle(c):
    def build(skipped=0.0):
        p = [occ.addPoint(0, 0, 0), occ.addPoint(60, 0, 0), occ.addPoint(20, 45, 0)]
        v = prism([occ.addLine(p[i], p[(i + 1) % 3]) for i in range(3)], 0, 10)
        return v if skipped else chamfer(v, c, at(10))
    return build


def oval(a, b, c):
    def build(skipped=0.0):
        v = ellipse(0, 0, 0, a, b, 9)
        return v if skipped else chamfer(v, c, at(9))
    return build


def sunk_and_broken(c):
    def build(skipped=0.0):
        v = rounded(0, 0, 0, 70, 40, 8, 5)
        for x in (12, 58):
            v = cut(v, cylinder(x, 20, -1, 2.75, 20), cone(x, 20, 5.5, 2.75, 5.25, 2.5))
        if skipped:
            return v
        return chamfer(v, c, lambda *b: at(8)(*b) and not at(8, (6, 14, 64, 26))(*b))
    return build


def at_random(rng):
    """One part of the families with sizes drawn at random: arguments of part."""
    u = lambda a, b: round(rng.uniform(a, b), 2)
    extra, wall, floor = u(0.5, 3), u(0.1, 0.5), u(0.1, 0.5)
    stock = dict(wall=wall, floor=floor)
    kinds = [
        ("not-faced", lambda: filleted_box(u(30, 70), u(20, 50), u(8, 20), u(1, 4), rng.choice([0, u(5, 8)])), dict(extra=extra)),
        ("not-faced", lambda: filleted_all_round(u(30, 60), u(25, 50), u(8, 16), u(1.5, 4)), dict(extra=extra)),
        ("not-faced", lambda: chamfered_box(u(30, 60), u(24, 40), u(6, 12), u(0.5, 2), rng.choice([0, u(4, 8)]), rng.choice([0, u(2, 4)])), dict(extra=extra)),
        ("not-faced", lambda: disc(u(15, 30), u(4, 9), u(6, 14), u(1, 3), u(0.5, 1.5)), dict(extra=extra)),
        ("not-faced", lambda: boss(u(1, 3), u(0.8, 2.5)), dict(extra=extra)),
        ("not-faced", lambda: drafted(-math.tan(math.radians(u(2, 20))), rng.choice([0, u(1, 3)])), dict(extra=extra)),
        ("not-faced", lambda: drafted_pocket(math.tan(math.radians(u(2, 20)))), dict(extra=extra)),
        ("not-faced", lambda: pocketed(u(1, 3), u(0.5, 1.5), u(4, 10)), dict(extra=extra)),
        ("not-faced", lambda: stepped(u(1, 2), u(2.1, 4)), dict(extra=extra)),
        ("not-faced", lambda: sunk(rng.random() < 0.5), dict(extra=extra)),
        ("stock", lambda: pocket(u(3, 10), rng.choice([0, u(1, 2.5)]), rng.choice([0, u(0.5, 1.5)]), rng.choice([0, u(4, 8)])), stock),
        ("stock", lambda: circle(u(9, 22), rng.choice([0, u(1, 3)]), rng.choice([0, u(2, 5)])), stock),
        ("stock", lambda: slanted(u(3, 30), rng.random() < 0.5), stock),
        ("stock", lambda: window(u(3, 10)), stock),
        ("stock", lambda: several(u(-4, 6)), stock),
        ("stock", lambda: nested(u(3, 8)), stock),
        ("stock", lambda: elliptic(u(18, 30), u(10, 17)), stock),
        ("stock", lambda: step_and_both_sides(u(2, 6)), stock),
        ("no-chamfers", lambda: round_bar(u(10, 20), u(8, 25), u(0.5, 1.5), rng.choice([0, u(4, 5)])), dict(skipped=1)),
        ("no-chamfers", lambda: chamfered_box(u(30, 60), u(24, 40), u(6, 12), u(0.5, 2.5), rng.choice([0, u(4, 8)]), rng.choice([0, u(2, 4)])), dict(skipped=1)),
        ("no-chamfers", lambda: rimmed(u(4, 9), u(0.5, 1.1), rng.choice([0, u(1, 2.5)])), dict(skipped=1)),
        ("no-chamfers", lambda: twelve_edges(u(0.5, 2.8)), dict(skipped=1)),
        ("no-chamfers", lambda: triangle(u(0.5, 2)), dict(skipped=1)),
        ("no-chamfers", lambda: oval(u(20, 35), u(12, 18), u(0.5, 2)), dict(skipped=1)),
        ("no-chamfers", lambda: sunk_and_broken(u(0.5, 1.5)), dict(skipped=1)),
    ]
    departure, build, amounts = rng.choice(kinds)
    return departure, build(), dict(chords=rng.choice([12, 16, 24, 32, 48]), size=rng.choice([2, 4, 8, 200]), algorithm=rng.choice([5, 6])), amounts


def main():
    global HERE
    if len(sys.argv) == 4:  # N SEED DIRECTORY: parts nobody has seen
        HERE = sys.argv[3]
        os.makedirs(HERE, exist_ok=True)
        rng = random.Random(int(sys.argv[2]))
        for i in range(int(sys.argv[1])):
            departure, build, mesh, amounts = at_random(rng)
            part("%03d_%s" % (i, build.__qualname__.split(".")[0]), departure, build, **mesh, **amounts)
    else:
        committed()
    with open(os.path.join(HERE, "truth.json"), "w") as f:
        json.dump(truth, f, indent=1, sort_keys=True)
        f.write("\n")


def committed():
    for set_, r in (("", (2, 3)), ("apart_", (2.5, 4))):
        for rr in r:
            for chords in (8, 14):
                part("%sunfaced_fillet_r%g_%d" % (set_, rr, chords), "not-faced", filleted_box(50, 30, 12, rr), chords, extra=2.5)
    part("unfaced_fillet_all_round", "not-faced", filleted_all_round(50, 30, 12, 3), 16, extra=1.5)
    part("apart_unfaced_fillet_all_round", "not-faced", filleted_all_round(44, 36, 9, 3), 20, extra=1)
    part("unfaced_chamfer_fine", "not-faced", chamfered_box(40, 24, 8, 1), 24, 1.5, extra=2)
    part("apart_unfaced_chamfer_fine", "not-faced", chamfered_box(36, 20, 8, 0.8, 4), 32, 1.2, extra=1.5)
    part("unfaced_disc", "not-faced", disc(22, 8, 10, 2, 1), 24, extra=2)
    part("apart_unfaced_disc", "not-faced", disc(18, 6, 7, 2, 0.8), 24, 6, extra=1)
    part("unfaced_boss", "not-faced", boss(3, 1.5), 20, extra=1.5)
    part("apart_unfaced_boss", "not-faced", boss(3, 2), 24, extra=2)
    part("unfaced_drafted", "not-faced", drafted(-math.tan(math.radians(5))), extra=2)
    part("apart_unfaced_drafted", "not-faced", drafted(-math.tan(math.radians(12))), 24, 6, extra=1)
    part("apart_unfaced_drafted_fillet", "not-faced", drafted(-math.tan(math.radians(5)), 2), 16, extra=2)
    part("unfaced_drafted_pocket", "not-faced", drafted_pocket(math.tan(math.radians(10))), extra=2)
    part("apart_unfaced_drafted_pocket", "not-faced", drafted_pocket(math.tan(math.radians(4))), 24, 8, extra=1)
    part("unfaced_pocketed", "not-faced", pocketed(3, 0.8, 5), 16, extra=2)
    part("apart_unfaced_pocketed", "not-faced", pocketed(2.5, 1, 7), 20, extra=1)
    part("unfaced_stepped", "not-faced", stepped(1.5, 1.7), 14, extra=1)
    part("apart_unfaced_stepped", "not-faced", stepped(2, 2.1), 20, extra=1.5)
    part("unfaced_countersunk", "not-faced", sunk(True), 24, extra=2)
    part("apart_unfaced_counterbored", "not-faced", sunk(False), 32, extra=2)
    part("stock_pocket", "stock", pocket(4), 24, wall=0.3, floor=0.2)
    part("stock_pocket_fine", "stock", pocket(6), 40, 5, wall=0.3, floor=0.2)
    part("apart_stock_pocket", "stock", pocket(5), 32, 9, 5, wall=0.4, floor=0.15)
    part("stock_foot", "stock", pocket(6, foot=2.5), 20, wall=0.3, floor=0.3)
    part("apart_stock_foot", "stock", pocket(8, foot=1.5), 14, wall=0.2, floor=0.4)
    part("stock_rim", "stock", pocket(6, rim=0.8), 24, wall=0.3, floor=0.3)
    part("apart_stock_rim", "stock", pocket(5, rim=1.2), 32, 10, wall=0.25, floor=0.1)
    part("stock_island", "stock", pocket(6, island=7), 32, wall=0.3, floor=0.2)
    part("apart_stock_island_foot", "stock", pocket(6, foot=2, island=5), 20, wall=0.3, floor=0.2)
    part("stock_circle", "stock", circle(15), 32, wall=0.3, floor=0.2)
    part("stock_circle_fine", "stock", circle(18), 60, 3, wall=0.4, floor=0.2)
    part("apart_stock_circle", "stock", circle(12, foot=2), 28, wall=0.3, floor=0.3)
    part("apart_stock_circle_bored", "stock", circle(16, bore=3), 40, 4, wall=0.3, floor=0.3)
    part("stock_slanted", "stock", slanted(10), wall=0.3, floor=0.2)
    part("apart_stock_slanted", "stock", slanted(25), 24, 7, wall=0.4, floor=0.3)
    part("stock_cone", "stock", slanted(15, True), 32, wall=0.3, floor=0.2)
    part("apart_stock_cone", "stock", slanted(8, True), 48, 4, wall=0.3, floor=0.2)
    part("stock_window", "stock", window(5), 24, wall=0.3, floor=0.2)
    part("apart_stock_window", "stock", window(8), 40, 6, wall=0.5, floor=0.2)
    part("stock_several", "stock", several(0), 24, wall=0.3, floor=0.2)
    part("apart_stock_several", "stock", several(2), 32, 12, wall=0.25, floor=0.25)
    part("apart_stock_nested", "stock", nested(5), 28, wall=0.3, floor=0.2)
    part("stock_step_and_both_sides", "stock", step_and_both_sides(4), 24, wall=0.3, floor=0.2)
    part("apart_stock_step_and_both_sides", "stock", step_and_both_sides(5), 36, 10, wall=0.2, floor=0.3)
    part("apart_stock_elliptic", "stock", elliptic(25, 16), 48, wall=0.3, floor=0.2)
    part("chamfer_round_bar", "no-chamfers", round_bar(10, 20, 1), 32, skipped=1)
    part("apart_chamfer_round_bar", "no-chamfers", round_bar(7, 15, 1.5), 20, 2, skipped=1)
    part("chamfer_ring", "no-chamfers", round_bar(16, 12, 0.8, 9), 40, skipped=1)
    part("apart_chamfer_ring", "no-chamfers", round_bar(12, 9, 1, 6), 24, 1.5, skipped=1)
    part("chamfer_plate", "no-chamfers", chamfered_box(60, 40, 8, 1, 6), 24, skipped=1)
    part("chamfer_plate_fine", "no-chamfers", chamfered_box(40, 24, 8, 1), 24, 1.5, skipped=1)
    part("apart_chamfer_plate_fine", "no-chamfers", chamfered_box(36, 28, 6, 1, 5), 48, 1, skipped=1)
    part("chamfer_holes", "no-chamfers", chamfered_box(60, 40, 8, 0.8, 0, 5), 24, skipped=1)
    part("apart_chamfer_holes", "no-chamfers", chamfered_box(60, 40, 8, 1.2, 4, 7), 40, 4, skipped=1)
    part("chamfer_rim", "no-chamfers", rimmed(5, 0.8), 24, skipped=1)
    part("apart_chamfer_rim_foot", "no-chamfers", rimmed(7, 1, 2), 18, skipped=1)
    part("chamfer_twelve_edges", "no-chamfers", twelve_edges(1), skipped=1)
    part("apart_chamfer_twelve_edges_fine", "no-chamfers", twelve_edges(2), 24, 3, skipped=1)
    part("apart_chamfer_triangle", "no-chamfers", triangle(1), skipped=1)
    part("apart_chamfer_oval", "no-chamfers", oval(30, 18, 1), 48, skipped=1)
    part("apart_chamfer_countersunk", "no-chamfers", sunk_and_broken(1), 32, skipped=1)


main()
