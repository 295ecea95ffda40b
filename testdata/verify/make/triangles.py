"""The triangles of a part: every circle in chords, flat faces in few triangles."""
import math
import os

import gmsh
import numpy as np

from parts import COPIES
from shape import HERE, PARTS, occ, option

FACET = np.dtype([('n', '<f4', 3), ('v', '<f4', (3, 3)), ('a', '<u2')])
VOLUME_OFF = 2e-3  # of the exact volume, beyond which triangles are too coarse

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
    if abs(drawn / volume - 1) > VOLUME_OFF:
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
    data = facets(path)
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



def facets(path):
    return np.fromfile(path, dtype=FACET, offset=84)


def stl_volume(path):
    v = facets(path)['v'].astype(float)
    return float(np.einsum('ij,ij->i', v[:, 0], np.cross(v[:, 1], v[:, 2])).sum() / 6)
