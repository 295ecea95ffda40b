"""Makes the parts of testdata/asmade and what the kernel says of them.

    /usr/bin/python3 make.py               # the committed ones
    /usr/bin/python3 make.py 60 7 /tmp/x   # 60 at random from seed 7, for
                                           # go test ./mesh/asmade -run Truth -family /tmp/x

gmsh 4.8 with OpenCASCADE, from Debian. Every part is drawn twice: as the drawing has
it, and as it comes off the mill in one respect. The first is written as a mesh
(NAME.stl.gz, with the stated number of chords to a full circle), the exact volumes
of both go into truth.json. No rule was chosen on names that begin with "apart";
those that begin with "later" are shapes drawn after the rules stood.
"""
import json
import math
import os
import random
import sys

import kernel
from families import *
from kernel import part, truth


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
    if len(sys.argv) == 4:  # N SEED DIRECTORY: parts nobody has seen
        kernel.HERE = sys.argv[3]
        os.makedirs(kernel.HERE, exist_ok=True)
        rng = random.Random(int(sys.argv[2]))
        for i in range(int(sys.argv[1])):
            departure, build, mesh, amounts = at_random(rng)
            part("%03d_%s" % (i, build.__qualname__.split(".")[0]), departure, build, **mesh, **amounts)
    else:
        committed()
    with open(os.path.join(kernel.HERE, "truth.json"), "w") as f:
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
    part("later_slanted_foot", "stock", slanted_foot(12, 1.5), 20, wall=.3, floor=.2)
    part("later_window_rims", "stock", window_rims(0.7), 24, wall=.3, floor=.2)
    part("later_open_slot", "stock", openslot(0), 24, wall=.3, floor=.2)
    part("later_open_slot_foot", "stock", openslot(1.5), 24, wall=.3, floor=.3)
    part("later_obround", "stock", obround(), 24, wall=.3, floor=.2)
    part("later_bevel_foot", "stock", bevel_foot(1.0), 24, wall=.3, floor=.3)
    part("later_low_island", "stock", lowisland(), 24, wall=.3, floor=.2)
    part("later_l_plate", "no-chamfers", lplate(1.2), 24, skipped=1)
    part("later_l_plate_both", "no-chamfers", lplate(0.8, True), 32, 4, skipped=1)
    part("later_l_plate_unfaced", "not-faced", lplate(0.8, True), 32, 4, extra=2)
    part("later_d_shaft", "no-chamfers", dshaft(1.5), 24, skipped=1)
    part("later_hexagon", "no-chamfers", hexa(1), 24, skipped=1)
    part("later_vertical_edges", "no-chamfers", vertical(2), 24, skipped=1)
    part("later_t_slot", "not-faced", tslot(), extra=2)
    part("later_dovetail", "not-faced", dovetail(), extra=1)
    part("later_bracket", "not-faced", bracket(2), 16, extra=3)
    part("later_arm", "not-faced", arm(), 24, extra=2)


main()
