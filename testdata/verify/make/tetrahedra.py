"""The tetrahedra of a part, with its places printed into the faces."""
import math
import os

import gmsh
import numpy as np

from elastic import Body
from shape import HERE, SCRATCH, occ, option, prism
from triangles import facets

YOUNG, POISSON = 70000.0, 0.33

WASHER = 1.8  # outer diameter of a washer over the hole, as the program has it
# Rows of the coarsest mesh in the collars around held holes: through the part, round
# a quarter, under the washer, beside it. COLLAR is how far they reach beyond the
# edge of the hold in mm.
ROWS_THROUGH, ROWS_ROUND, ROWS_UNDER, ROWS_BESIDE, COLLAR = 3, 2, 4, 2, 1.0
WIDE = 6.0  # radius in mm from which on quarters take one more row round, lest chords cross rows

# Unknowns of the first of three meshes outside the collars, about, and of the largest
# mesh. Time grows with their power 1.7: 120 000 take half a minute of one processor.
COARSEST = int(os.environ.get('COARSEST', 12000))
LARGEST = 10 * COARSEST
THICKEST = 2.5  # largest size of tetrahedra over the mean thickness of the part
SCALES = (1.0, 1 / 1.35, 1 / 1.8)  # sizes of the tetrahedra on the three


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


def in_rows(volume, h, edge, outwards, scale):
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
            gmsh.model.mesh.setTransfiniteCurve(t, count(ROWS_ROUND + (edge + COLLAR > WIDE)))
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
                edge = h['d'] / 2 * (WASHER if h['bolted'] else 1)
                in_rows(t, h, edge, outwards, scale)
                p.in_rows[t] = h, edge
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
    segments = inner_edges(p)
    inner = [t for _, t in gmsh.model.getEntities(1) if on_inner_edge(t, segments)]
    if inner:
        field.add('Distance', 4)
        field.setNumbers(4, 'EdgesList', inner)
        field.setNumber(4, 'NNodesByEdge', 60)
        field.add('Threshold', 5)
        for k, v in dict(IField=4, LcMin=size / 4, LcMax=size, DistMin=0.05 * p.h, DistMax=p.h).items():
            field.setNumber(5, k, v)
        fields.append(5)
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


def inner_edges(p):
    """The sharp inner edges of a part across its span as ends of segments
    (n x 2 x 3), read from its triangles: there the displacement is r^0.54 at a right
    angle (Williams, 1952)."""
    v = facets(os.path.join(HERE, p.name + '.stl'))['v'].astype(float)
    normal = np.cross(v[:, 1] - v[:, 0], v[:, 2] - v[:, 0])
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    beside = {}
    for f, corner in enumerate(v):
        keys = [tuple(np.round(c, 4)) for c in corner]
        for k in range(3):
            beside.setdefault(frozenset((keys[k], keys[(k + 1) % 3])), []).append((f, corner[(k + 2) % 3]))
    out = []
    for ends, ((f, _), (g, far)) in beside.items():
        a, b = (np.array(e) for e in ends)
        along = abs(b[0] - a[0]) / np.linalg.norm(b - a)
        if along < 0.8 and normal[f] @ normal[g] < math.cos(math.radians(40)) and normal[f] @ (far - a) > 1e-6:
            out.append((a, b))
    return np.array(out).reshape(-1, 2, 3)


def on_inner_edge(t, segments, within=0.1):
    """Whether the middle of an edge lies on a segment, to the depth of a chord."""
    lo, hi = gmsh.model.getParametrizationBounds(1, t)
    q = np.array(gmsh.model.getValue(1, t, [(lo[0] + hi[0]) / 2]))
    a, d = segments[:, 0], segments[:, 1] - segments[:, 0]
    s = np.clip(((q - a) * d).sum(axis=1) / (d * d).sum(axis=1), 0, 1)
    return len(segments) > 0 and np.linalg.norm(a + s[:, None] * d - q, axis=1).min() < within


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
