"""Makes parts and their truth: python3 make.py stl|truth [PART...]

stl    writes PART.stl: every circle in chords (48 a full circle of a hole, up to
       144 of a round), flat faces in few triangles.
truth  writes PART.json, and those of its copies: finite elements on the exact shape, with curved quadratic
       tetrahedra on three meshes.

Needs Debian's python3-gmsh, python3-getfem and python3-scipy.
"""
import json
import math
import os
import sys
import time

os.environ.setdefault('OMP_NUM_THREADS', '1')
os.environ.setdefault('OPENBLAS_NUM_THREADS', '1')

import gmsh
import numpy as np

import parts  # noqa: F401, registers the parts
from elastic import Body
from shape import PARTS, occ, prism

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
SCRATCH = os.environ.get('TMPDIR', '/tmp')
YOUNG, POISSON, DENSITY = 70000.0, 0.33, 2700.0
FORCE = 100.0  # of the stress peaks, N

WASHER = 1.8  # outer diameter of a washer over the hole, as the program has it
# Rows of the coarsest mesh in the collars around held holes: through the part, round
# a quarter, under the washer, beside it. COLLAR is how far they reach beyond the
# edge of the hold in mm.
ROWS_THROUGH, ROWS_ROUND, ROWS_UNDER, ROWS_BESIDE, COLLAR = 3, 2, 4, 2, 1.5
WIDE = 7.0  # radius in mm from which on quarters take one more row round, lest chords cross rows

COARSEST = 12000  # unknowns of the first of three meshes outside the collars, about
LARGEST = 160000  # unknowns that a minute of one processor takes
THICKEST = 2.5  # largest size of tetrahedra over the mean thickness of the part
SCALES = (1.0, 1 / 1.35, 1 / 1.8)  # sizes of the tetrahedra on the three

# Order of convergence of the energy with the size of the elements at the edge of
# a hold: 2 lambda of the displacement r^lambda there. A face held to its edge at
# a free face at right angles: lambda = 0.71 for Poisson's ratio 0.33 (Williams,
# 1952: sin^2(lambda pi/2) = (4(1-nu)^2 - lambda^2)/(3-4nu) in plane strain).
# Part of a flat face held: lambda = 1/2.
# Smooth parts of quadratic tetrahedra do better than any edge; beyond the highest
# order counted on here an observed one is chance.
ORDER_END, ORDER_BOLTED, ORDER_MOST = 1.4, 1.0, 2.5


def option(**values):
    for k, v in values.items():
        gmsh.option.setNumber('Mesh.' + k, v)


def fresh():
    gmsh.initialize()
    gmsh.option.setNumber('General.Terminal', 0)


# --- the triangles

def write_stl(p, name=None, edge=None):
    """Writes the triangles of a part, with an edge no longer than that if given."""
    p.build()
    name, edge = name or p.name, edge or p.small
    volume = sum(occ.getMass(3, t) for _, t in p.body)
    for _, t in gmsh.model.getEntities(1):
        pieces = chords(p, t)
        beside = gmsh.model.getAdjacencies(1, t)[0]
        if edge and pieces == 1 and all(gmsh.model.getType(2, f) == 'Plane' or not straight(f) for f in beside):
            pieces = math.ceil(occ.getMass(1, t) / edge)
        gmsh.model.mesh.setTransfiniteCurve(t, pieces + 1)
    option(Algorithm=3, ElementOrder=1, CharacteristicLengthMax=1000, CharacteristicLengthFromPoints=0,
           CharacteristicLengthExtendFromBoundary=0, Binary=1)
    if edge:
        option(CharacteristicLengthMax=edge)
    for _, t in gmsh.model.getEntities(2):
        # walls curved twice or crossed by holes need points inside
        inside = edge and (not straight(t) or edge != p.small and gmsh.model.getType(2, t) == 'Plane')
        gmsh.model.mesh.setAlgorithm(2, t, 6 if inside else 3)
    for _, t in p.body:
        gmsh.model.mesh.setOutwardOrientation(t)
    gmsh.model.mesh.generate(2)
    path = os.path.join(HERE, name + '.stl')
    gmsh.write(path)
    drawn = stl_volume(path)
    print('%-22s %6d triangles, volume %.6g, drawn %+.4f %%' % (
        name, (os.path.getsize(path) - 84) // 50, volume, 100 * (drawn / volume - 1)))
    if abs(drawn / volume - 1) > 2e-3:
        raise ValueError('%s: the triangles are too coarse' % name)


def straight(t):
    """Whether lines on a face run from edge to edge: planes, and cylinders between
    circles and lines."""
    return gmsh.model.getType(2, t) == 'Plane' or gmsh.model.getType(2, t) == 'Cylinder' and all(
        gmsh.model.getType(1, abs(e)) in ('Line', 'Circle') for _, e in gmsh.model.getBoundary([(2, t)]))


def turned(copy):
    """The rotation matrix of a copy."""
    a, b = np.radians(copy['turn'])
    z = np.array([[math.cos(a), -math.sin(a), 0], [math.sin(a), math.cos(a), 0], [0, 0, 1]])
    x = np.array([[1, 0, 0], [0, math.cos(b), -math.sin(b)], [0, math.sin(b), math.cos(b)]])
    return x @ z


def write_copy_stl(name, copy):
    source = PARTS[copy['of']]
    if 'edge' in copy:
        return write_stl(source, name, copy['edge'])
    path = os.path.join(HERE, source.name + '.stl')
    data = np.fromfile(path, dtype=FACET, offset=84)
    data['v'] = data['v'].astype(float) @ turned(copy).T
    data['n'] = 0
    with open(os.path.join(HERE, name + '.stl'), 'wb') as f:
        f.write(b'binary STL, mm'.ljust(80) + np.uint32(len(data)).tobytes() + data.tobytes())


def chords(p, t):
    """Pieces of an edge: one for a straight one."""
    lo, hi = gmsh.model.getParametrizationBounds(1, t)
    at = lambda s: np.array(gmsh.model.getValue(1, t, [lo[0] + s * (hi[0] - lo[0])]))
    if gmsh.model.getType(1, t) == 'Line' or np.linalg.norm((at(0) + at(1)) / 2 - at(0.5)) < 1e-9 and \
            np.linalg.norm((at(0) + at(0.5)) / 2 - at(0.25)) < 1e-9 and np.linalg.norm(at(1) - at(0)) > 1e-9:
        return 1
    turn, n = 0.0, 200
    d = [np.array(gmsh.model.getDerivative(1, t, [lo[0] + (i + 0.5) / n * (hi[0] - lo[0])])) for i in range(n)]
    for a, b in zip(d, d[1:] + d[:1] if np.linalg.norm(at(1) - at(0)) < 1e-9 else d[1:]):
        turn += math.acos(min(1, np.dot(a, b) / np.linalg.norm(a) / np.linalg.norm(b)))
    return max(2, math.ceil(p.chords * turn / (2 * math.pi)))


FACET = np.dtype([('n', '<f4', 3), ('v', '<f4', (3, 3)), ('a', '<u2')])


def stl_volume(path):
    data = np.fromfile(path, dtype=FACET, offset=84)
    v = data['v'].astype(float)
    return float(np.einsum('ij,ij->i', v[:, 0], np.cross(v[:, 1], v[:, 2])).sum() / 6)


# --- the tetrahedra

def washers(p, names):
    """Rings at both mouths of the holes, to be printed into the faces."""
    rings = []
    for name in names:
        h = p.holes[name]
        for mouth in h['mouths']:
            c = list(h['at'])
            c[h['axis']] = mouth
            d, inner = (occ.addDisk(*c, r, r) for r in (WASHER * h['d'] / 2, h['d'] / 2))
            d = occ.cut([(2, d)], [(2, inner)])[0][0][1]
            turn = [(0, 1, 0), (1, 0, 0), None][h['axis']]
            if turn:
                occ.rotate([(2, d)], *c, *turn, math.pi / 2)
            rings.append((2, d))
    return rings


def collars(p, held):
    """Quarters of rings through the part around held holes, to be meshed in rows
    that become finer towards the edges of the hold: (volume, hole, edge, outwards),
    edge the radius of the hold's edge and outwards whether the ring begins there."""
    out = []
    for kind, name in sorted(q.split(':') for q in held if not q.startswith('end')):
        h = p.holes[name]
        axis = h['axis']
        cu, cv = h['at'][(axis + 1) % 3], h['at'][(axis + 2) % 3]
        wall, edge = h['d'] / 2, h['d'] / 2 * (WASHER if kind == 'hole' else 1)
        rings = [(wall, edge, False)] if kind == 'hole' else []
        h['bolted'] = kind == 'hole'
        for r0, r1, outwards in rings + [(edge, edge + COLLAR, True)]:
            for q in range(4):
                a, b = math.pi / 2 * q, math.pi / 2 * (q + 1)
                at = lambda r, t: (cu + r * math.cos(t), cv + r * math.sin(t))
                outline = [(*at(r0, a), cu, cv), at(r1, a), (*at(r1, b), cu, cv), at(r0, b)]
                out.append((prism(outline, axis, *h['mouths']), h, outwards))
    return out


def in_rows(volume, h, outwards, scale):
    """Meshes a quarter of a collar in rows."""
    axis, at = h['axis'], np.array(h['at'])
    count = lambda n: max(2, round(n / scale)) + 1
    faces = gmsh.model.getBoundary([(3, volume)], oriented=False)
    for _, t in gmsh.model.getBoundary(faces, combined=False, oriented=False):
        ends = [np.array(gmsh.model.getValue(1, t, [s])) for s in
                (x[0] for x in gmsh.model.getParametrizationBounds(1, t))]
        away = [np.linalg.norm(np.delete(e - at, axis)) for e in ends]
        if abs(ends[0][axis] - ends[1][axis]) > 1e-6:
            gmsh.model.mesh.setTransfiniteCurve(t, count(ROWS_THROUGH), 'Bump', 0.04)
        elif abs(away[0] - away[1]) < 1e-6:
            gmsh.model.mesh.setTransfiniteCurve(t, count(ROWS_ROUND if away[0] < WIDE else ROWS_ROUND + 1))
        elif outwards:
            grow = 4.0 ** scale
            gmsh.model.mesh.setTransfiniteCurve(t, count(ROWS_BESIDE), 'Progression', grow if away[0] < away[1] else 1 / grow)
        else:
            gmsh.model.mesh.setTransfiniteCurve(t, count(ROWS_UNDER), 'Bump', 0.02)
    for _, t in faces:
        gmsh.model.mesh.setTransfiniteSurface(t)
    gmsh.model.mesh.setTransfiniteVolume(volume, corners(volume, h))


def corners(volume, h):
    """The corners of a quarter, in the same order in every one: bricks are then cut
    into tetrahedra alike and fit those of the next quarter."""
    axis, at = h['axis'], np.array(h['at'])
    u, v = (axis + 1) % 3, (axis + 2) % 3
    ends = gmsh.model.getBoundary([(3, volume)], recursive=True)
    seen = []
    middle = np.array(occ.getCenterOfMass(3, volume)) - at
    for _, t in ends:
        d = np.array(gmsh.model.getValue(0, t, [])) - at
        turned = middle[u] * d[v] - middle[v] * d[u] > 0
        seen.append((t, d[axis], np.hypot(d[u], d[v]), turned))
    far = (min(s[2] for s in seen) + max(s[2] for s in seen)) / 2
    high = (min(s[1] for s in seen) + max(s[1] for s in seen)) / 2
    named = {(z > high, r > far, turned): t for t, z, r, turned in seen}
    return [named[z, r, turned] for z in (False, True)
            for r, turned in ((False, False), (True, False), (True, True), (False, True))]


def places_of(p):
    return sorted({q for c in p.cases for q in c['fix'] + c['load']} | set((p.ring or '').split()))


def choose_size(p):
    """The size of tetrahedra in mm that gives the coarsest mesh its unknowns."""
    most = THICKEST * p.thickness()
    p.h = min((p.volume() / 60) ** (1 / 3), most)
    for _ in range(3):
        mesh_model(p, 1.0)
        bulk = np.concatenate([c.ravel() for v, c in tetrahedra()[1] if v not in p.in_rows])
        off = 3 * len(np.unique(bulk)) / COARSEST
        if 0.85 < off < 1.15 or off > 1 and p.h == most:
            break
        p.h = min(p.h * min(max(off, 0.5), 2) ** 0.4, most)
    print('%-22s size %.3g mm' % (p.name, p.h))


def mesh_model(p, scale):
    """Meshes a part with places printed into it, finer where a peak is wanted."""
    p.build()
    p.low, p.high = low, high = bounds(p)
    held = {q for c in p.cases for q in c['fix']} | set((p.ring or '').split())
    rings, p.in_rows = collars(p, held), {}
    tools = [r[0] for r in rings] + washers(p, [q[5:] for q in places_of(p) if q.startswith('hole:') and q not in held])
    if tools:
        pieces, came_from = occ.fragment(p.body, tools)
        inside = [e for i in range(len(p.body)) for e in came_from[i]]
        first = len(p.body)
        p.body = inside
        occ.synchronize()
        outside = [e for e in pieces if e[0] == 3 and e not in inside]
        if outside or any(not len(gmsh.model.getAdjacencies(2, t)[0]) for _, t in gmsh.model.getEntities(2)):
            raise ValueError('%s: a washer hangs over' % p.name)
        for (_, h, outwards), made in zip(rings, came_from[first:]):
            for _, t in made:
                in_rows(t, h, outwards, scale)
                p.in_rows[t] = h, h['d'] / 2 * (WASHER if h['bolted'] else 1)
    rims = [t for _, t in gmsh.model.getEntities(1) if on_rim(t, held, low, high)]
    field = gmsh.model.mesh.field
    size = p.h * scale
    fields = []
    if rims:
        field.add('Distance', 1)
        field.setNumbers(1, 'EdgesList', rims)
        field.setNumber(1, 'NNodesByEdge', 60)
        field.add('Threshold', 2)
        for k, v in dict(IField=1, LcMin=size / 4, LcMax=size, DistMin=0.05 * p.h, DistMax=1.4 * p.h).items():
            field.setNumber(2, k, v)
        fields.append(2)
    for s in p.stresses[:1]:  # all of a part lie in one place
        fine = s['fine'] * max(scale, SCALES[1]) / SCALES[1]
        field.add('MathEval', 3)
        r = '((x-%g)^2+(y-%g)^2+(z-%g)^2)^0.5-%g' % (*s['at'], s['radius'])
        field.setString(3, 'F', '%g+0.5*(%s+Fabs(%s))/2' % (fine, r, r))
        fields.append(3)
    if fields:
        field.add('Min', 9)
        field.setNumbers(9, 'FieldsList', fields)
        field.setAsBackgroundMesh(9)
    option(Algorithm=6, Algorithm3D=1, CharacteristicLengthMax=size, CharacteristicLengthFromPoints=0,
           CharacteristicLengthExtendFromBoundary=1, MinimumCirclePoints=0,
           CharacteristicLengthFromCurvature=1, MinimumElementsPerTwoPi=round(10 / scale ** 0.7), Optimize=1)
    gmsh.model.mesh.generate(3)
    option(SecondOrderLinear=0, HighOrderOptimize=1)
    gmsh.model.mesh.setOrder(2)


EDGES = ((0, 1), (1, 2), (2, 0), (3, 0), (2, 3), (1, 3))  # of gmsh's quadratic tetrahedron


def tetrahedra():
    """The nodes (n x 3) of the mesh and its tetrahedra (m x 10), with the middles
    of edges in the collars moved onto circles: rows are thinner than chords are deep."""
    tags, at, _ = gmsh.model.mesh.getNodes()
    index = np.zeros(int(max(tags)) + 1, dtype=int)
    index[tags.astype(int)] = np.arange(len(tags))
    at = at.reshape(-1, 3).copy()
    cells = []
    for _, v in gmsh.model.getEntities(3):
        _, _, nodes = gmsh.model.mesh.getElements(3, v)
        cells.append((v, index[nodes[0].astype(int)].reshape(-1, 10)))
    return at, cells


def read_body(p):
    """The mesh as a body."""
    at, cells = tetrahedra()
    for v, c in cells:
        if v not in p.in_rows:
            continue
        h, edge = p.in_rows[v]
        axis = h['axis']
        u, w = (axis + 1) % 3, (axis + 2) % 3
        du, dw = at[:, u] - h['at'][u], at[:, w] - h['at'][w]
        for k, (i, j) in enumerate(EDGES):
            i, j, mid = c[:, i], c[:, j], c[:, 4 + k]
            r = (np.hypot(du[i], dw[i]) + np.hypot(du[j], dw[j])) / 2
            su = du[i] / np.hypot(du[i], dw[i]) + du[j] / np.hypot(du[j], dw[j])
            sw = dw[i] / np.hypot(du[i], dw[i]) + dw[j] / np.hypot(du[j], dw[j])
            chord = (at[i] + at[j]) / 2
            bow = np.clip((edge + COLLAR - r) / COLLAR, 0, 1)  # none where the collar ends
            at[mid] = chord
            at[mid, u] += bow * (h['at'][u] + r * su / np.hypot(su, sw) - chord[:, u])
            at[mid, w] += bow * (h['at'][w] + r * sw / np.hypot(su, sw) - chord[:, w])
    all_cells = np.concatenate([c for _, c in cells])
    path = os.path.join(SCRATCH, 'verify_%d.msh' % os.getpid())
    with open(path, 'w') as f:
        f.write('$MeshFormat\n2.2 0 8\n$EndMeshFormat\n$Nodes\n%d\n' % len(at))
        f.writelines('%d %r %r %r\n' % (i + 1, *x) for i, x in enumerate(at.tolist()))
        f.write('$EndNodes\n$Elements\n%d\n' % len(all_cells))
        n = len(all_cells)
        f.writelines('%d 11 2 1 1 %s\n' % (i + 1, ' '.join(map(str, c))) for i, c in enumerate((all_cells + 1).tolist()))
        f.write('$EndElements\n')
    outer = sum(len(gmsh.model.mesh.getElements(2, t)[1][0]) for _, t in gmsh.model.getEntities(2)
                if len(gmsh.model.getAdjacencies(2, t)[0]) == 1)
    faces = np.sort(np.concatenate([all_cells[:, k] for k in ([0, 1, 2], [0, 1, 3], [0, 2, 3], [1, 2, 3])]), axis=1)
    if (np.unique(faces, axis=0, return_counts=True)[1] == 1).sum() != outer:
        raise ValueError('%s: tetrahedra do not fit each other' % p.name)
    body = Body(path, YOUNG, POISSON)
    os.remove(path)
    body.low, body.high = p.low, p.high
    folded = count_folded(at, all_cells)
    if folded:
        print('%-22s %d of %d tetrahedra fold' % (p.name, folded, n))
    return body


def count_folded(at, cells):
    """How many tetrahedra have a Jacobian that is not positive at a corner or the
    middle of an edge."""
    corner = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float)
    points = np.concatenate([corner, [(corner[i] + corner[j]) / 2 for i, j in EDGES]])
    grad = np.array([[-1, -1, -1], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float)
    bad = np.zeros(len(cells), dtype=bool)
    for q in points:
        l = np.array([1 - q.sum(), *q])
        d = [(4 * l[i] - 1) * grad[i] for i in range(4)]
        d += [4 * (l[i] * grad[j] + l[j] * grad[i]) for i, j in EDGES]
        jac = np.einsum('eni,nj->eij', at[cells], np.array(d))
        bad |= np.linalg.det(jac) <= 0
    return int(bad.sum())


def bounds(p):
    b = np.array([gmsh.model.getBoundingBox(3, t) for _, t in p.body])
    return b[:, 0].min() + 1e-7, b[:, 3].max() - 1e-7  # gmsh widens boxes by 1e-7


def on_rim(t, held, low, high):
    """Whether an edge bounds a held end."""
    b = gmsh.model.getBoundingBox(1, t)
    return 'end:low' in held and b[3] < low + 1e-4 or 'end:high' in held and b[0] > high - 1e-4


def region(p, body, place):
    kind, name = place.split(':')
    tol = 1e-5
    if kind == 'end':
        x = body.low if name == 'low' else body.high
        return body.region(lambda q: abs(q[0] - x) < tol)
    h = p.holes[name]
    axis, at = h['axis'], np.array(h['at'])[:, None]
    u, v = (axis + 1) % 3, (axis + 2) % 3
    away = lambda q: np.hypot(q[u] - at[u], q[v] - at[v])
    lo, hi = h['mouths']
    if kind == 'bore':
        return body.region(lambda q: (abs(away(q) - h['d'] / 2) < 2e-3 * h['d']) & (q[axis] > lo - tol) & (q[axis] < hi + tol))
    outer = WASHER * h['d'] / 2 * (1 + 1e-4)
    return body.region(lambda q: (away(q) < outer) & ((abs(q[axis] - lo) < tol) | (abs(q[axis] - hi) < tol)))


class Solved:
    """A part on one mesh: compliance for every case, frequencies on request."""

    def __init__(self, p, scale, skip=lambda fix: False):
        start = time.process_time()
        mesh_model(p, scale)
        self.p, self.body = p, read_body(p)
        self.unknowns = self.body.mf.nbdof()
        self.volume = self.body.volume()
        self.regions = {q: region(p, self.body, q) for q in places_of(p)}
        self.end_faces = {q[4:]: self.body.middle(r) for q, r in self.regions.items() if q.startswith('end')}
        self.compliance, self.peaks, self.hertz = {}, {}, None
        for fix in dict.fromkeys([' '.join(c['fix']) for c in p.cases] + ([p.ring] if p.ring else [])):
            if skip(fix):
                continue
            held = self.body.hold([self.regions[q] for q in fix.split()])
            for i, c in enumerate(p.cases):
                if ' '.join(c['fix']) == fix:
                    share = sum(self.body.spread(self.regions[q])[0] for q in c['load']) / len(c['load'])
                    moves, self.compliance[i] = held.solve(share)
                    self.find_peaks(held, i, moves)
            if fix == p.ring and scale > SCALES[2]:
                self.hertz = held.frequencies(DENSITY, 3)
            held.free_memory()
        self.seconds = time.process_time() - start

    def find_peaks(self, held, case, moves):
        for n, s in enumerate(self.p.stresses):
            if s['case'] == case:
                at = np.array(s['at'])[:, None]
                near = lambda q: np.linalg.norm(q - at, axis=0) < s['radius']
                self.peaks[n] = held.peak(FORCE * moves[:, 'xyz'.index(s['along'])], near)


# --- the truth

def limit(values, lowest):
    """The limit of values on meshes with sizes as the first of SCALES, and its error
    in percent: all that it adds to the finest. The order is that of the edge of the
    hold, lowest; three meshes may show a higher one, up to ORDER_MOST."""
    order = lowest
    if len(values) > 2:
        a, b = values[1] - values[0], values[2] - values[1]
        low, high = lowest, ORDER_MOST
        for _ in range(50):
            order = (low + high) / 2
            promised = (1 - (SCALES[1] / SCALES[2]) ** -order) / ((SCALES[0] / SCALES[1]) ** order - 1)
            if a * b <= 0:  # they turn round: chance
                low = high = lowest
            elif b / a > promised:
                high = order
            else:
                low = order
    n = len(values)
    value = values[-1] + (values[-1] - values[-2]) / ((SCALES[n - 2] / SCALES[n - 1]) ** order - 1)
    return float(value), float(100 * abs(value / values[-1] - 1))


def place_json(p, q, turn=None):
    """A place as the truth files name it: an end of the span, or a hole or bore by
    the middle of its axis; of a turned copy an end is the face at a point."""
    kind, name = q.split(':')
    if kind == 'end' and turn is None:
        return {'end': name}
    if kind == 'end':
        face = p.end_faces[name]
        return {'face': at3(turn @ face), 'normal': at3(turn[:, 0] * (1 if name == 'high' else -1))}
    at = np.array(p.holes[name]['at'], dtype=float)
    return {kind: at3(at if turn is None else turn @ at)}


def at3(v):
    return [round(float(x), 4) for x in v]


def order_of(fix):
    return ORDER_END if fix[0].startswith('end') else ORDER_BOLTED


def write_truth(p):
    choose_size(p)
    drilled = any(not c['fix'][0].startswith('end') for c in p.cases)
    skip = lambda fix: drilled and fix.startswith('end')  # an end converges sooner
    runs = [Solved(p, s) for s in SCALES[:2]]
    third = runs[1].unknowns * (SCALES[1] / SCALES[2]) ** 2.5
    # a mesh fine at a peak is fine enough for a held end
    if (drilled or not p.stresses) and third < LARGEST:
        runs.append(Solved(p, SCALES[2], skip=skip))
    p.end_faces = runs[0].end_faces
    print('%-22s unknowns %s, CPU s %s' % (p.name, [r.unknowns for r in runs], ['%.1f' % r.seconds for r in runs]))
    stress = [peak_json(p, n, runs) for n in range(len(p.stresses))]
    save(p, runs, p.name, stress)
    for name, copy in parts.COPIES.items():
        if copy['of'] == p.name:
            save(p, runs, name, [], copy)


def save(p, runs, name, stress, copy={}):
    """Writes the truth of a part, or of a copy of it."""
    turn = turned(copy) if 'turn' in copy else None
    out = {
        'name': name, 'family': ('turned copy' if 'turn' in copy else 'remeshed copy') if copy else p.family,
        'youngs_modulus_mpa': YOUNG, 'poisson': POISSON, 'density_kg_m3': DENSITY, 'span': 'x',
        'volume_mm3': round6(runs[-1].volume), 'unknowns': [r.unknowns for r in runs], 'cases': [],
    }
    for i, c in enumerate(p.cases):
        for a in c['along']:
            d = np.eye(3)['xyz'.index(a)] if turn is None else turn.T @ np.eye(3)['xyz'.index(a)]
            k = [1 / (d @ r.compliance[i] @ d) for r in runs if i in r.compliance]
            value, error = limit(k, order_of(c['fix']))
            out['cases'].append({
                'fix': [place_json(p, q, turn) for q in c['fix']],
                'load_at': [place_json(p, q, turn) for q in c['load']],
                'along': a, 'meshes_n_per_mm': [round6(x) for x in k],
                'stiffness_n_per_mm': round6(value), 'error_percent': round(error, 3)})
            print('%-22s %-28s %s  %s -> %.6g +- %.2f %%' % (
                name, ' '.join(c['fix']) + ' > ' + ' '.join(c['load']), a,
                ' '.join('%.6g' % x for x in k), value, error))
    if p.ring and turn is None:
        two = np.array([r.hertz for r in runs[:2]])
        modes = [limit(two[:, n], order_of([p.ring])) for n in range(3)]
        out['frequencies'] = {'fix': [place_json(p, q) for q in p.ring.split()],
                              'meshes_hz': [[round6(x) for x in row] for row in two],
                              'hz': [round6(x) for x, _ in modes],
                              'error_percent': round(max(e for _, e in modes), 3)}
        print('%-22s Hz %s' % (name, out['frequencies']['hz']))
    out['stress'] = stress
    with open(os.path.join(HERE, name + '.json'), 'w') as f:
        f.write(layout(out))


def peak_json(p, n, runs):
    """A peak on two meshes refined at its place, the second by 1.35."""
    s = p.stresses[n]
    c = p.cases[s['case']]
    (v1, _), (v2, where) = (r.peaks[n] for r in runs[:2])
    print('%-22s peak along %s: %.5g, %.5g at %s' % (p.name, s['along'], v1, v2, np.round(where, 2)))
    return {'fix': [place_json(p, q) for q in c['fix']], 'load_at': [place_json(p, q) for q in c['load']],
            'along': s['along'], 'force_n': FORCE, 'where': s['where'],
            'near_mm': [float(x) for x in s['at']], 'radius_mm': s['radius'],
            'meshes_mpa': [round6(v1), round6(v2)], 'von_mises_mpa': round6(v2), 'at_mm': [round(x, 3) for x in where],
            'error_percent': round(100 * abs(v2 / v1 - 1), 2)}


def round6(x):
    return float('%.6g' % x)


def layout(out):
    """JSON with one case a line."""
    lines = []
    for k, v in out.items():
        if isinstance(v, list) and v and isinstance(v[0], dict):
            inner = ',\n'.join('    ' + json.dumps(x) for x in v)
            lines.append('  %s: [\n%s\n  ]' % (json.dumps(k), inner))
        else:
            lines.append('  %s: %s' % (json.dumps(k), json.dumps(v)))
    return '{\n' + ',\n'.join(lines) + '\n}\n'


def main():
    what, names = sys.argv[1], sys.argv[2:] or list(PARTS) + (list(parts.COPIES) if sys.argv[1] == 'stl' else [])
    for name in names:
        fresh()  # options do not leak from one part to the next
        if name in parts.COPIES:
            write_copy_stl(name, parts.COPIES[name])
        elif what == 'stl':
            write_stl(PARTS[name])
        else:
            write_truth(PARTS[name])
        gmsh.finalize()
        sys.stdout.flush()


main()
