"""The parts of testdata/asmade, each a function that draws it or, given amounts, as it
comes off the mill."""
import math

from kernel import *


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


# Shapes that came after the rules stood.

def slanted_foot(deg, r):
    tan, cos = math.tan(math.radians(deg)), math.cos(math.radians(deg))
    def build(wall=0.0, floor=0.0):
        a = wall / cos - floor * tan
        t = frustum(22 + a, 15 + a, 68 - a, 45 - a, 5 + floor, 12, tan)
        t = fillet(t, r, at(5+floor))
        return cut(box(0, 0, 0, 90, 60, 12), t)
    return build


def window_rims(c):
    def build(wall=0.0, floor=0.0):
        v = cut(box(0, 0, 0, 90, 60, 8), rounded(20 + wall, 15 + wall, -1, 50 - 2 * wall, 30 - 2 * wall, 20, 5 - wall))
        v = chamfer(v, c, at(8, (19, 14, 71, 46)))
        return chamfer(v, c, at(0, (19, 14, 71, 46)))
    return build


def openslot(foot):
    def build(wall=0.0, floor=0.0):
        t = rounded(20+wall, 15+wall, 4+floor, 100, 30-2*wall, 20, 5-wall)
        if foot:
            t = fillet(t, foot, at(4+floor))
        return cut(box(0, 0, 0, 90, 60, 10), t)
    return build


def obround():
    def build(wall=0.0, floor=0.0):
        r = 8-wall
        v = cut(box(0, 0, 0, 90, 60, 10), rounded(20+wall, 22+wall, 4+floor, 50-2*wall, 16-2*wall, 20, r*0.9999))
        return v
    return build


def bevel_foot(c):
    def build(wall=0.0, floor=0.0):
        t = rounded(20+wall, 12+wall, 4+floor, 50-2*wall, 36-2*wall, 20, 6-wall)
        t = chamfer(t, c, at(4+floor))
        return cut(box(0, 0, 0, 90, 60, 12), t)
    return build


def lowisland():
    def build(wall=0.0, floor=0.0):
        v = cut(box(0, 0, 0, 90, 60, 12), rounded(15+wall, 10+wall, 4+floor, 60-2*wall, 40-2*wall, 20, 6-wall))
        return fuse(v, box(40-wall, 25-wall, 3, 12+2*wall, 10+2*wall, 5))
    return build


def lplate(c, both=False):
    def build(skipped=0.0, extra=0.0):
        p = [occ.addPoint(*q) for q in ((0, 0, 0), (80, 0, 0), (80, 25, 0), (30, 25, 0), (30, 60, 0), (0, 60, 0))]
        v = prism([occ.addLine(p[i], p[(i+1)%6]) for i in range(6)], 0, 10+extra)
        v = cut(v, cylinder(15, 45, -1, 5, 30), cylinder(60, 12, -1, 4, 30))
        if skipped:
            return v
        v = chamfer(v, c, at(10+extra))
        return chamfer(v, c, at(0)) if both else v
    return build


def dshaft(c):
    def build(skipped=0.0):
        v = cylinder(0, 0, 0, 10, 40)
        if not skipped:
            v = chamfer(v, c, at(40))
        return cut(v, box(7, -20, -1, 20, 40, 60))
    return build


def hexa(c):
    def build(skipped=0.0):
        p = [occ.addPoint(12*math.cos(math.pi*k/3), 12*math.sin(math.pi*k/3), 0) for k in range(6)]
        v = prism([occ.addLine(p[i], p[(i+1)%6]) for i in range(6)], 0, 8)
        v = cut(v, cylinder(0, 0, -1, 6, 30))
        return v if skipped else chamfer(v, c, at(8))
    return build


def vertical(c):
    def build(skipped=0.0):
        v = cut(box(0, 0, 0, 60, 40, 10), cylinder(20, 20, -1, 6, 20))
        return v if skipped else chamfer(v, c, lambda x0, y0, z0, x1, y1, z1: z1-z0>9)
    return build


def tslot():
    def build(extra=0.0):
        v = box(0, 0, 0, 80, 50, 16+extra)
        return cut(v, box(-1, 20, 8, 100, 10, 30), box(-1, 14, 4, 100, 22, 5))
    return build


def dovetail():
    def build(extra=0.0):
        t = math.tan(math.radians(30))
        h = 6+extra
        p = [occ.addPoint(-1, y, z) for y, z in ((12, 10), (38, 10), (38-h*t, 10+h), (12+h*t, 10+h))]
        f = occ.addPlaneSurface([occ.addCurveLoop([occ.addLine(p[i], p[(i+1)%4]) for i in range(4)])])
        tool = [q for d, q in occ.extrude([(2, f)], 100, 0, 0) if d==3][0]
        return cut(box(0, 0, 0, 80, 50, 16+extra), tool)
    return build


def bracket(r):
    def build(extra=0.0):
        v = fuse(box(0, 0, 0, 60, 40, 8), box(0, 0, 0, 8, 40, 40+extra))
        v = cut(v, occ.addCylinder(-1, 20, 25, 20, 0, 0, 4), cylinder(40, 20, -1, 4, 20))
        v = fillet(v, 4, lambda x0, y0, z0, x1, y1, z1: abs(x0-8)<1e-3 and abs(x1-8)<1e-3 and abs(z0-8)<1e-3 and abs(z1-8)<1e-3)
        return fillet(v, r, at(40+extra))
    return build


def arm():
    def build(extra=0.0):
        v = fuse(cylinder(0, 0, 0, 15, 10+extra), cylinder(70, 0, 0, 10, 10+extra), box(0, -8, 0, 70, 16, 10+extra))
        v = cut(v, cylinder(0, 0, -1, 6, 30), cylinder(70, 0, -1, 4, 30))
        return chamfer(v, 1, lambda *b: at(10+extra)(*b) and b[3]-b[0]<12.1)
    return build
