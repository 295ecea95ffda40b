"""Makes parts and their truth: python3 make.py stl|truth [PART...]

stl    writes PART.stl: every circle in chords (48 a full circle of a hole, up to
       144 of a round), flat faces in few triangles.
truth  writes PART.json, and those of its copies: finite elements on the exact
       shape, with curved quadratic tetrahedra on up to three meshes.

Needs Debian's python3-gmsh, python3-getfem and python3-scipy.
"""
import json
import os
import sys
import time

os.environ.setdefault('OMP_NUM_THREADS', '1')
os.environ.setdefault('OPENBLAS_NUM_THREADS', '1')

import gmsh
import numpy as np

from parts import COPIES
from shape import HERE, PARTS
from tetrahedra import LARGEST, POISSON, SCALES, YOUNG, choose_size, mesh_model, places_of, read_body, region
from triangles import turned, write_copy_stl, write_stl

DENSITY = 2700.0
FORCE = 100.0  # of the stress peaks, N

# Order of convergence of the energy with the size of the elements at the edge of
# a hold: 2 lambda of the displacement r^lambda there. A face held to its edge at
# a free face at right angles: lambda = 0.69 for Poisson's ratio 0.33 (Williams,
# 1952: sin^2(lambda pi/2) = (4(1-nu)^2 - lambda^2)/(3-4nu) in plane strain).
# Part of a flat face held: lambda = 1/2.
# Smooth parts of quadratic tetrahedra do better than any edge; beyond the highest
# order counted on here an observed one is chance.
ORDER_END, ORDER_BOLTED, ORDER_MOST = 1.4, 1.0, 2.5


def fresh():
    gmsh.initialize()
    gmsh.option.setNumber('General.Terminal', 0)


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
    in percent: all that it adds to the finest, or how far it lies from the limit at
    the lowest order if that is more. The order is that of the edge of the hold,
    lowest; three meshes may show a higher one, up to ORDER_MOST."""
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
    ratio = SCALES[len(values) - 2] / SCALES[len(values) - 1]
    added = [(values[-1] - values[-2]) / (ratio ** o - 1) for o in (order, lowest)]
    value = values[-1] + added[0]
    return float(value), float(100 * max(abs(added[0]), abs(added[0] - added[1])) / value)


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
    for name, copy in COPIES.items():
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
    what, names = sys.argv[1], sys.argv[2:] or list(PARTS) + (list(COPIES) if sys.argv[1] == 'stl' else [])
    for name in names:
        fresh()  # options do not leak from one part to the next
        if name in COPIES:
            write_copy_stl(name, COPIES[name])
        elif what == 'stl':
            write_stl(PARTS[name])
        else:
            write_truth(PARTS[name])
        gmsh.finalize()
        sys.stdout.flush()


main()
