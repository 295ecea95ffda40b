"""What a part is made of: solids of OpenCASCADE through gmsh, the holes that
places refer to, and the problems that truth is wanted for. Lengths in mm."""
import math
import os

import gmsh

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
SCRATCH = os.environ.get('TMPDIR', '/tmp')
occ = gmsh.model.occ
PARTS = {}


def option(**values):
    for k, v in values.items():
        gmsh.option.setNumber('Mesh.' + k, v)


def part(name, family):
    """Registers a function that makes a part."""
    def add(make):
        PARTS[name] = Part(name, family, make)
        return make
    return add


class Part:
    def __init__(self, name, family, make):
        self.name, self.family, self.make = name, family, make

    def build(self):
        """Makes the solid in a new gmsh model."""
        gmsh.clear()
        gmsh.model.add(self.name)
        self.body, self.holes, self.cases, self.stresses, self.ring = None, {}, [], [], None
        self.chords, self.small = 48, None
        self.make(self)
        occ.synchronize()
        return self

    def volume(self):
        return sum(occ.getMass(3, t) for _, t in self.build().body)

    def thickness(self):
        """Mean thickness: twice the volume over the surface."""
        volume = self.volume()
        faces = gmsh.model.getBoundary(self.body, oriented=False)
        return 2 * volume / sum(occ.getMass(2, t) for _, t in faces)

    # --- solids

    def add(self, *solids):
        """Joins solids to the body."""
        solids = list(solids)
        if self.body is None:
            self.body, solids = [solids[0]], solids[1:]
        if solids:
            self.body = occ.fuse(self.body, solids)[0]

    def cut(self, *solids):
        self.body = occ.cut(self.body, list(solids))[0]

    def common(self, *solids):
        self.body = occ.intersect(self.body, list(solids))[0]

    def hole(self, name, centre, d, axis=2, reach=(-1000, 1000), mouths=None):
        """Drills a hole and gives it a name. centre is a point on its axis; reach
        is how far the drill goes along the axis, mouths where the part's faces are."""
        c = list(centre)
        c[axis] = reach[0]
        self.cut(cylinder(c, axis, d / 2, reach[1] - reach[0]))
        self.name_hole(name, centre, d, axis, mouths)

    def name_hole(self, name, centre, d, axis, mouths):
        mid = list(centre)
        mid[axis] = sum(mouths) / 2
        self.holes[name] = dict(at=mid, d=d, axis=axis, mouths=mouths)

    def plate_holes(self, mouths, axis=2, **holes):
        """Through holes by name: (centre of three or two coordinates, diameter)."""
        for name, (centre, d) in holes.items():
            c = list(centre)
            if len(c) == 2:
                c.insert(axis, 0)
            self.hole(name, c, d, axis, (mouths[0] - 1, mouths[1] + 1), mouths)

    def fillet(self, points, r):
        """Rounds the edges whose middles lie at the points."""
        occ.synchronize()
        edges = []
        for p in points:
            tags = [(dist(middle(1, t), p), t) for _, t in gmsh.model.getEntities(1)]
            off, t = min(tags)
            if off > 0.01:
                raise ValueError('%s: no edge at %s, the nearest is %.3g off' % (self.name, p, off))
            edges.append(t)
        self.body = occ.fillet([t for _, t in self.body], edges, [r])

    # --- problems

    def case(self, fix, load, along='yz'):
        self.cases.append(dict(fix=fix.split(), load=load.split(), along=along))

    def stress(self, case, along, at, radius, fine, where):
        """Asks for the peak within radius of a point, on elements of size fine there."""
        self.stresses.append(dict(case=case, along=along, at=at, radius=radius, fine=fine, where=where))


def dist(a, b):
    return math.dist(a, b)


def middle(dim, tag):
    lo, hi = gmsh.model.getParametrizationBounds(dim, tag)
    return gmsh.model.getValue(dim, tag, [(lo[0] + hi[0]) / 2])


def box(x0, y0, z0, x1, y1, z1):
    return 3, occ.addBox(x0, y0, z0, x1 - x0, y1 - y0, z1 - z0)


def cylinder(foot, axis, r, length):
    d = [0, 0, 0]
    d[axis] = length
    return 3, occ.addCylinder(*foot, *d, r)


def prism(outline, axis, lo, hi):
    """An outline of points in the two other axes (in the order y z, z x, x y),
    extruded from lo to hi. A point of four numbers (x, y, cx, cy) is reached by
    an arc about (cx, cy)."""
    def at(u, v):
        return [(lo, u, v), (v, lo, u), (u, v, lo)][axis]
    pts = [occ.addPoint(*at(p[0], p[1])) for p in outline]
    lines = []
    for i, p in enumerate(outline):
        a, b = pts[i - 1], pts[i]
        if len(p) == 4:
            lines.append(occ.addCircleArc(a, occ.addPoint(*at(p[2], p[3])), b))
        else:
            lines.append(occ.addLine(a, b))
    face = occ.addPlaneSurface([occ.addCurveLoop(lines)])
    d = [0, 0, 0]
    d[axis] = hi - lo
    return [e for e in occ.extrude([(2, face)], *d) if e[0] == 3][0]


def pocket(corners, r, axis, lo, hi):
    """A polygon with every corner rounded, in the axes of prism."""
    out = []
    for i, (x, y) in enumerate(corners):
        (ax, ay), (bx, by) = corners[i - 1], corners[(i + 1) % len(corners)]
        a, b = math.hypot(ax - x, ay - y), math.hypot(bx - x, by - y)
        ux, uy, vx, vy = (ax - x) / a, (ay - y) / a, (bx - x) / b, (by - y) / b
        half = math.acos(ux * vx + uy * vy) / 2
        back, deep = r / math.tan(half), r / math.sin(half)
        mx, my = ux + vx, uy + vy
        m = math.hypot(mx, my)
        out += [(x + back * ux, y + back * uy), (x + back * vx, y + back * vy, x + deep * mx / m, y + deep * my / m)]
    return prism(out, axis, lo, hi)


def rounded(x0, y0, x1, y1, r, axis, lo, hi):
    """A pocket: a rectangle with corner radii r, in the axes of prism."""
    return prism([
        (x0, y1 - r), (x0, y0 + r), (x0 + r, y0, x0 + r, y0 + r), (x1 - r, y0), (x1, y0 + r, x1 - r, y0 + r),
        (x1, y1 - r), (x1 - r, y1, x1 - r, y1 - r), (x0 + r, y1), (x0, y1 - r, x0 + r, y1 - r)][1:], axis, lo, hi)


def obround(x0, x1, y, r, axis, lo, hi):
    """A slot along the first axis, from centre x0 to centre x1."""
    return prism([(x0, y - r), (x1, y - r), (x1 + r, y, x1, y), (x1, y + r, x1, y), (x0, y + r),
                  (x0 - r, y, x0, y), (x0, y - r, x0, y)][1:], axis, lo, hi)
