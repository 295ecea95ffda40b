"""The parts of testdata/verify. Spans run along x unless a comment says so."""
import math

import gmsh

from shape import box, cylinder, obround, occ, part, pocket, prism, rounded


# --- plates bolted at two holes

@part('plate_two_a', 'plate at two holes')
def _(p):
    p.add(box(0, 0, 0, 104, 46, 6))
    p.plate_holes((0, 6), a=((9, 11), 5.5), b=((9, 35), 5.5), c=((94, 23), 6.6), d=((52, 23), 12))
    p.case('hole:a hole:b', 'hole:c')
    p.case('end:low', 'end:high')
    p.ring = 'hole:a hole:b'
    p.stress(0, 'y', (52, 23, 3), 8, 0.8, 'rim of the large hole')


@part('plate_two_b', 'plate at two holes')
def _(p):
    p.add(box(0, 0, 0, 130, 62, 8))
    p.cut(rounded(34, 9, 98, 53, 5, 2, 3, 9))
    p.plate_holes((0, 8), a=((11, 14), 6.6), b=((11, 48), 6.6), c=((119, 14), 5.5), d=((119, 48), 5.5))
    p.case('hole:a hole:b', 'hole:c hole:d')
    p.case('end:low', 'end:high')


# --- plates bolted at four holes

@part('plate_four_a', 'plate at four holes')
def _(p):
    p.add(box(0, 0, 0, 120, 70, 5))
    p.plate_holes((0, 5), a=((8, 9), 5.5), b=((8, 61), 5.5), c=((40, 9), 5.5), d=((40, 61), 5.5), e=((108, 35), 8.4),
                  f=((70, 35), 16))
    p.case('hole:a hole:b hole:c hole:d', 'hole:e')
    p.case('end:low', 'end:high')


@part('plate_four_b', 'plate at four holes')
def _(p):
    p.add(box(0, 0, 0, 142, 84, 10))
    p.cut(rounded(46, 10, 82, 74, 6, 2, 3, 11), rounded(90, 10, 132, 74, 6, 2, 3, 11))
    p.plate_holes((0, 10), a=((9, 10), 6.6), b=((9, 74), 6.6), c=((36, 10), 6.6), d=((36, 74), 6.6),
                  e=((86, 10), 5.5), f=((86, 74), 5.5))
    p.case('hole:a hole:b hole:c hole:d', 'hole:e hole:f')
    p.ring = 'hole:a hole:b hole:c hole:d'


# --- brackets

@part('bracket_fillet', 'bracket')
def _(p):
    p.add(box(0, 0, 0, 62, 40, 7), box(0, 0, 0, 7, 40, 54))
    p.fillet([(7, 20, 7)], 6)
    p.plate_holes((0, 7), 0, a=((10, 42), 6.6), b=((30, 42), 6.6))
    p.plate_holes((0, 7), 2, c=((50, 20), 8.4))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')
    p.case('hole:a hole:b', 'hole:c')
    p.stress(0, 'z', (9, 20, 9), 6, 0.8, 'fillet')


@part('bracket_gusset', 'bracket')
def _(p):
    p.add(box(0, 0, 0, 74, 44, 6), box(0, 0, 0, 6, 44, 50), prism([(6, 6), (48, 6), (6, 60)], 1, 19, 25))
    p.plate_holes((0, 6), 0, a=((9, 40), 5.5), b=((35, 40), 5.5), c=((9, 15), 5.5), d=((35, 15), 5.5))
    p.plate_holes((0, 6), 2, e=((64, 11), 6.6), f=((64, 33), 6.6))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:e hole:f')


# --- clevises

@part('clevis_pin', 'clevis')
def _(p):
    p.add(box(0, 0, 0, 72, 32, 30))
    p.cut(box(30, 9, -1, 73, 23, 31))
    p.hole('p', (60, 0, 15), 10, 1, (-1, 10), (0, 9))
    p.hole('q', (60, 0, 15), 10, 1, (22, 33), (23, 32))
    p.hole('a', (12, 16, 0), 9, 2, (-1, 31), (0, 30))
    p.case('end:low', 'bore:p bore:q')


@part('clevis_round', 'clevis')
def _(p):
    p.add(prism([(0, -14), (56, -14), (70, 0, 56, 0), (56, 14, 56, 0), (0, 14)], 2, 0, 26))
    p.cut(rounded(8, 24, 18, 90, 3, 1, -20, 20))
    p.hole('p', (56, 0, 0), 8, 2, (-1, 9), (0, 8))
    p.hole('q', (56, 0, 0), 8, 2, (17, 27), (18, 26))
    p.case('end:low', 'bore:p bore:q')
    p.case('end:low', 'hole:q')


# --- links

def eye(p, x, r, thick):
    p.add(cylinder((x, 0, 0), 2, r, thick))


@part('link_straight', 'link')
def _(p):
    p.add(box(0, -7, 0, 88, 7, 8))
    eye(p, 0, 12, 8)
    eye(p, 88, 10, 8)
    p.plate_holes((0, 8), a=((0, 0), 10), b=((88, 0), 8))
    p.case('hole:a', 'hole:b')
    p.ring = 'hole:a'


@part('link_waisted', 'link')
def _(p):
    p.add(prism([(0, -11), (30, -5), (80, -5), (112, -13), (112, 13), (80, 5), (30, 5), (0, 11)], 2, 0, 10))
    eye(p, 0, 14, 10)
    eye(p, 112, 15, 10)
    p.plate_holes((0, 10), a=((0, 0), 12), b=((112, 0), 14))
    p.case('bore:a', 'bore:b')
    p.stress(0, 'y', (30, 5, 5), 7, 0.9, 'where the waist begins')


# --- cranks

@part('crank_flat', 'crank')
def _(p):
    p.add(prism([(0, 0), (52, 0), (70, 30), (120, 30), (120, 46), (61, 46), (43, 16), (0, 16)], 2, 0, 9))
    p.plate_holes((0, 9), a=((8, 8), 5.5), b=((26, 8), 5.5), c=((110, 38), 6.6))
    p.case('end:low', 'end:high')
    p.case('hole:a hole:b', 'hole:c')


@part('crank_step', 'crank')
def _(p):
    p.add(prism([(0, 0), (0, 46), (28, 60), (28, 112), (36, 112), (36, 54), (8, 40), (8, 0)][::-1], 1, 0, 26))
    p.plate_holes((0, 8), a=((9, 13), 6.6), b=((30, 13), 6.6))
    p.plate_holes((28, 36), c=((100, 13), 8.4))
    p.case('end:low', 'end:high')
    p.case('hole:a hole:b', 'hole:c')
    p.ring = 'end:low'


# --- arms with pockets

@part('arm_one_sided', 'arm, pockets of one side')
def _(p):
    p.add(box(0, 0, 0, 132, 28, 12))
    p.cut(rounded(20, 4, 66, 24, 4, 2, 3, 13), rounded(71, 4, 114, 24, 4, 2, 3, 13))
    p.plate_holes((0, 12), a=((7, 8), 5.5), b=((7, 20), 5.5), c=((123, 14), 8.4))
    p.case('end:low', 'end:high')
    p.case('hole:a hole:b', 'hole:c')


@part('arm_one_sided_taper', 'arm, pockets of one side')
def _(p):
    p.add(prism([(0, -20), (150, -10), (150, 10), (0, 20)], 2, 0, 10))
    p.cut(pocket([(22, -13), (74, -9.5), (74, 9.5), (22, 13)], 3, 2, 2.5, 11),
          pocket([(80, -9), (132, -5.6), (132, 5.6), (80, 9)], 3, 2, 2.5, 11))
    p.plate_holes((0, 10), a=((10, -11), 6.6), b=((10, 11), 6.6), c=((141, 0), 6.6))
    p.case('end:low', 'end:high')
    p.case('hole:a hole:b', 'hole:c')


@part('arm_through', 'arm, pockets through')
def _(p):
    p.add(box(0, 0, 0, 140, 30, 9))
    p.cut(rounded(20, 6, 56, 24, 4, 2, -1, 10), rounded(63, 6, 94, 24, 4, 2, -1, 10),
          rounded(101, 6, 126, 24, 4, 2, -1, 10))
    p.plate_holes((0, 9), a=((8, 8), 5.5), b=((8, 22), 5.5), c=((133, 15), 5.5))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')
    p.ring = 'end:low'
    p.stress(0, 'y', (21.2, 22.8, 4.5), 4, 0.6, 'corner radius of the first pocket, at the long wall')


@part('arm_through_edge', 'arm, pockets through')
def _(p):
    # on edge: pockets run through along y
    p.add(box(0, 0, 0, 150, 12, 36))
    p.cut(rounded(7, 24, 29, 62, 5, 1, -1, 13), rounded(7, 70, 29, 102, 5, 1, -1, 13),
          rounded(7, 110, 29, 134, 5, 1, -1, 13))
    p.plate_holes((0, 12), 1, a=((11, 0, 9), 6.6), b=((11, 0, 27), 6.6), c=((142, 0, 18), 6.6))
    p.case('end:low', 'end:high')
    p.case('hole:a hole:b', 'hole:c')
    p.stress(0, 'z', (25.5, 6, 27.5), 5, 0.7, 'corner radius of the first pocket')


# --- trusses

@part('truss_warren', 'truss')
def _(p):
    p.add(box(0, 0, 0, 150, 34, 6))
    for i in range(5):
        a = 16 + 23 * i
        up = [(a + 2.5, 5), (a + 20.5, 5), (a + 11.5, 26)]
        down = [(a + 14, 29), (a + 23, 8), (a + 32, 29)]
        p.cut(pocket(up, 1.5, 2, -1, 7))
        if i < 4:
            p.cut(pocket(down, 1.5, 2, -1, 7))
    p.plate_holes((0, 6), a=((7, 8), 5.5), b=((7, 26), 5.5), c=((142, 17), 6.6))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')


@part('truss_crossed', 'truss')
def _(p):
    p.add(box(0, 0, 0, 138, 40, 8))
    for i in range(3):
        a = 16 + 36 * i
        for tri in ([(a + 4, 5), (a + 32, 5), (a + 18, 17)], [(a + 4, 35), (a + 18, 23), (a + 32, 35)],
                    [(a + 1, 8), (a + 15, 20), (a + 1, 32)], [(a + 35, 8), (a + 35, 32), (a + 21, 20)]):
            p.cut(pocket(tri, 1.5, 2, -1, 9))
    p.plate_holes((0, 8), a=((7, 9), 6.6), b=((7, 31), 6.6), c=((130, 20), 6.6))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')
    p.ring = 'end:low'


# --- channels, tees, hats: outlines in y z, extruded along x

@part('channel_plain', 'channel')
def _(p):
    p.add(prism([(0, 0), (40, 0), (40, 24), (37, 24), (37, 3), (3, 3), (3, 24), (0, 24)], 0, 0, 140))
    p.case('end:low', 'end:high')
    p.ring = 'end:low'


@part('channel_holes', 'channel')
def _(p):
    p.add(prism([(0, 0), (46, 0), (46, 22), (42, 22), (42, 4), (4, 4), (4, 22), (0, 22)], 0, 0, 128))
    p.plate_holes((0, 4), a=((10, 13), 5.5), b=((10, 33), 5.5), c=((118, 23), 6.6), d=((64, 23), 20))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')
    p.stress(0, 'z', (64, 13, 0), 7, 0.6, 'rim of the large hole')


@part('tee_plain', 'tee')
def _(p):
    p.add(prism([(0, 0), (36, 0), (36, 4), (20.5, 4), (20.5, 28), (15.5, 28), (15.5, 4), (0, 4)], 0, 0, 130))
    p.case('end:low', 'end:high')


@part('tee_holes', 'tee')
def _(p):
    p.add(prism([(0, 0), (44, 0), (44, 5), (25, 5), (25, 30), (19, 30), (19, 5), (0, 5)], 0, 0, 118))
    p.cut(prism([(20, 60), (31, 60), (31, 119), (20, 119)], 1, -1, 45))
    p.plate_holes((0, 5), a=((9, 9.5), 5.5), b=((9, 34.5), 5.5), c=((108, 9.5), 5.5), d=((108, 34.5), 5.5))
    p.case('end:low', 'hole:c hole:d')
    p.case('end:low', 'end:high')


@part('hat_square', 'hat')
def _(p):
    p.add(prism([(0, 0), (16, 0), (16, 20), (44, 20), (44, 0), (60, 0), (60, 3), (47, 3), (47, 23), (13, 23), (13, 3),
                 (0, 3)], 0, 0, 132))
    p.case('end:low', 'end:high')


@part('hat_sloping', 'hat')
def _(p):
    p.add(prism([(0, 0), (17, 0), (25, 19), (41, 19), (49, 0), (66, 0), (66, 3), (51, 3), (43, 22), (23, 22), (15, 3),
                 (0, 3)], 0, 0, 120))
    p.plate_holes((0, 3), a=((12, 7), 5.5), b=((12, 59), 5.5))
    p.plate_holes((19, 22), c=((106, 33), 6.6))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')


# --- tubes with windows

def tube(p, length, wide, high, wall):
    p.add(box(0, 0, 0, length, wide, high))
    p.cut(box(-1, wall, wall, length + 1, wide - wall, high - wall))


@part('tube_windows_four', 'tube with windows')
def _(p):
    tube(p, 150, 30, 30, 3)
    for x0, x1 in ((16, 52), (60, 92), (102, 134)):
        p.cut(rounded(x0, 7, x1, 23, 3, 2, -1, 31), rounded(7, x0, 23, x1, 3, 1, -1, 31))
    p.case('end:low', 'end:high')
    p.ring = 'end:low'


@part('tube_windows_two', 'tube with windows')
def _(p):
    tube(p, 140, 40, 24, 2.5)
    p.cut(obround(28, 58, 20, 9, 2, -1, 25), obround(84, 112, 20, 9, 2, -1, 25))
    p.case('end:low', 'end:high')
    p.stress(0, 'y', (58, 11, 23), 8, 0.8, 'rim of the first window')


# --- slotted and forked bars

@part('bar_slotted', 'slotted or forked bar')
def _(p):
    p.add(box(0, 0, 0, 126, 24, 10))
    p.cut(obround(34, 96, 12, 3.5, 2, -1, 11))
    p.plate_holes((0, 10), a=((9, 12), 6.6), c=((116, 12), 6.6))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')
    p.stress(0, 'y', (35, 12, 10), 6, 0.6, 'end of the slot')


@part('bar_forked', 'slotted or forked bar')
def _(p):
    p.add(box(0, 0, 0, 120, 30, 12))
    p.cut(box(46, 11, -1, 121, 19, 13))
    p.plate_holes((0, 12), a=((10, 8), 5.5), b=((10, 22), 5.5))
    p.plate_holes((0, 12), c=((112, 5.5), 5), d=((112, 24.5), 5))
    p.case('end:low', 'end:high')
    p.case('end:low', 'bore:c bore:d')
    p.ring = 'end:low'


# --- rounds

def round_bar(p, r, *at):
    """A round whose wall is parted at the given places along x, so that triangles
    can follow the wall between them."""
    gmsh.option.setNumber('Geometry.OCCUnionUnify', 0)
    p.add(*[cylinder((a, 0, 0), 0, r, b - a) for a, b in zip(at, at[1:])])


@part('round_flats', 'round with flats and cross holes')
def _(p):
    p.chords = 144
    round_bar(p, 11, 0, 70, 120)
    p.cut(box(70, -12, 7, 121, 12, 12), box(70, -12, -12, 121, 12, -7))
    p.plate_holes((-7, 7), c=((108, 0), 6.6))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')


@part('round_cross', 'round with flats and cross holes')
def _(p):
    p.chords, p.small = 144, 0.9
    round_bar(p, 10, 0, 35, 45, 73, 83, 110)
    p.hole('a', (40, 0, 0), 6, 2, (-11, 11), (-10, 10))
    p.hole('b', (78, 0, 0), 8, 1, (-11, 11), (-10, 10))
    p.case('end:low', 'end:high')
    p.stress(0, 'z', (40, 0, 10), 5, 0.6, 'rim of the hole at 40')


# --- discs

def sector(r0, r1, a0, a1, lo, hi):
    """A window of a disc between radii and angles in degrees."""
    at = lambda r, a: (r * math.cos(math.radians(a)), r * math.sin(math.radians(a)))
    return prism([at(r1, a0), (*at(r1, a1), 0, 0), at(r0, a1), (*at(r0, a0), 0, 0)][1:] + [at(r1, a0)], 2, lo, hi)


@part('disc_five', 'spoked disc')
def _(p):
    p.chords = 120
    p.add(cylinder((0, 0, 0), 2, 55, 8))
    for i in range(5):
        p.cut(sector(19, 44, 72 * i + 9, 72 * i + 63, -1, 9))
    p.plate_holes((0, 8), a=((0, 0), 10), c=((49.5 * math.cos(0), 0), 5.5))
    p.case('hole:a', 'hole:c')
    p.ring = 'hole:a'


@part('disc_four', 'spoked disc')
def _(p):
    p.chords = 120
    p.add(cylinder((0, 0, 0), 2, 48, 10))
    for i in range(4):
        p.cut(sector(17, 37, 90 * i + 55, 90 * i + 125, -1, 11))
    p.plate_holes((0, 10), a=((8, 8), 5), b=((-8, 8), 5), d=((-8, -8), 5), e=((8, -8), 5), c=((0, 42.5), 5))
    p.case('hole:a hole:b hole:d hole:e', 'hole:c', 'xz')


# --- plates with a grid of holes

@part('grid_coarse', 'hole grid')
def _(p):
    p.add(box(0, 0, 0, 130, 60, 6))
    for i in range(6):
        for j in range(3):
            x, y = 25 + 16 * i, 12 + 18 * j
            p.plate_holes((0, 6), **{'g%d%d' % (i, j): ((x, y), 10)})
    p.plate_holes((0, 6), a=((8, 12), 5.5), b=((8, 48), 5.5), c=((122, 30), 5.5))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')


@part('grid_fine', 'hole grid')
def _(p):
    p.add(box(0, 0, 0, 110, 44, 5))
    for i in range(8):
        for j in range(4):
            p.plate_holes((0, 5), **{'g%d%d' % (i, j): ((16 + 11 * i, 7 + 10 * j), 6)})
    p.case('end:low', 'end:high')


# --- stepped bars and bars with one hole, for stress

@part('bar_shoulder', 'bar for stress')
def _(p):
    p.add(prism([(0, 0), (44, 0), (44, 2), (48, 6, 48, 2), (110, 6), (110, 22), (48, 22), (44, 26, 48, 26), (44, 28),
                 (0, 28)], 2, 0, 10))
    p.plate_holes((0, 10), a=((10, 7), 5.5), b=((10, 21), 5.5))
    p.case('end:low', 'end:high')
    p.stress(0, 'y', (47, 6.2, 5), 5, 0.6, 'shoulder fillet')
    p.stress(0, 'z', (47, 6.2, 10), 5, 0.6, 'shoulder fillet')


@part('bar_shoulder_round', 'bar for stress')
def _(p):
    p.chords, p.small = 144, 1.6
    p.add(cylinder((0, 0, 0), 0, 13, 40), cylinder((40, 0, 0), 0, 9, 70))
    fillet_circle(p, 40, 9, 3)
    p.case('end:low', 'end:high')
    p.ring = 'end:low'
    p.stress(0, 'z', (42, 0, 9.2), 5, 0.6, 'shoulder fillet')


def fillet_circle(p, x, r, fillet):
    """Rounds the inner edge of a shoulder of a round."""
    occ.synchronize()
    tags = []
    for _, t in gmsh.model.getEntities(1):
        b = gmsh.model.getBoundingBox(1, t)
        if abs(b[0] - x) < 1e-3 and abs(b[3] - x) < 1e-3 and abs(b[5] - r) < 1e-3:
            tags.append(t)
    p.body = occ.fillet([t for _, t in p.body], tags, [fillet])


@part('bar_hole', 'bar for stress')
def _(p):
    p.add(box(0, 0, 0, 108, 26, 8))
    p.plate_holes((0, 8), c=((34, 13), 10))
    p.case('end:low', 'end:high')
    p.stress(0, 'z', (34, 13, 8), 7, 0.7, 'rim of the hole')
    p.stress(0, 'y', (34, 13, 8), 7, 0.7, 'rim of the hole')


@part('bar_notches', 'bar for stress')
def _(p):
    p.add(box(0, 0, 0, 116, 30, 9))
    p.cut(cylinder((40, 0, -1), 2, 5, 11), cylinder((40, 30, -1), 2, 5, 11))
    p.plate_holes((0, 9), c=((106, 15), 8.4))
    p.case('end:low', 'end:high')
    p.case('end:low', 'hole:c')
    p.stress(0, 'y', (40, 5, 4.5), 5, 0.6, 'notch')
    p.stress(0, 'z', (40, 5, 9), 5, 0.6, 'notch')


# --- the same parts again: turned in the file (degrees about z, then about x), or
# with other triangles (longest edge in mm)

COPIES = {
    'turned_arm': dict(of='arm_through_edge', turn=(25, 15)),
    'turned_tee': dict(of='tee_holes', turn=(-35, 20)),
    'remeshed_crank': dict(of='crank_step', edge=5),
    'remeshed_disc': dict(of='disc_five', edge=3.5),
}
