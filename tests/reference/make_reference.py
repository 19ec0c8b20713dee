#!/usr/bin/env python3
"""Makes fixtures/reference/*.json with general-purpose libraries that share nothing with this program.

    python3 tests/reference/make_reference.py

outlines.json   areas, perimeters and offsets of outlines of lines and arcs, by shapely (GEOS). Arcs are
                cut into chords so fine that the areas are true to a few parts in ten million.
offsets.json    500 outlines and offsets of any size, also such as make edges vanish, by shapely.
sections.json   area, centroid and second moments of rebated and moulded sections, by sectionproperties
                (finite elements, exact for straight-edged sections).

Equal versions give equal files; the versions are in the files. tests/reference.rs reads them.
"""

import json
import math
import random
from importlib.metadata import version
from pathlib import Path

import shapely
from sectionproperties.analysis import Section
from sectionproperties.pre import Geometry
from shapely.geometry import Polygon

HERE = Path(__file__).resolve().parent
OUT = HERE.parent.parent / "fixtures" / "reference"
CHORDS = 1500  # chords in each arc
QUARTER = 1500  # chords in a quarter turn of a round join


# Outlines: a list of [x, y, bulge]; the bulge belongs to the edge that begins there.


def arc_points(p, q, bulge):
    """Points on the arc from p (included) to q (left out)."""
    if bulge == 0:
        return [p]
    (x0, y0), (x1, y1) = p, q
    sweep = 4 * math.atan(bulge)
    chord = math.hypot(x1 - x0, y1 - y0)
    radius = chord / (2 * math.sin(sweep / 2))  # signed like the sweep
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    aside = radius * math.cos(sweep / 2)
    cx = middle[0] - aside * (y1 - y0) / chord
    cy = middle[1] + aside * (x1 - x0) / chord
    start = math.atan2(y0 - cy, x0 - cx)
    steps = range(CHORDS)
    turn = [start + sweep * i / CHORDS for i in steps]
    return [(cx + abs(radius) * math.cos(a), cy + abs(radius) * math.sin(a)) for a in turn]


def polygon(outline):
    points = []
    for (x, y, bulge), (nx, ny, _) in zip(outline, outline[1:] + outline[:1]):
        points += arc_points((x, y), (nx, ny), bulge)
    return Polygon(points)


def tidy(outline):
    return [[round(x, 4), round(y, 4), round(b, 5)] for x, y, b in outline]


def convex(rng):
    """Corners on an ellipse: always convex."""
    count = rng.randint(3, 9)
    a, b = rng.uniform(80, 500), rng.uniform(80, 500)
    step = 2 * math.pi / count
    turn = [i * step + rng.uniform(-0.3, 0.3) * step for i in range(count)]
    return tidy([(a * math.cos(t), b * math.sin(t), 0) for t in turn])


def concave(rng):
    """Corners by turns far out and further in."""
    count = 2 * rng.randint(3, 6)
    step = 2 * math.pi / count
    size = rng.uniform(100, 400)
    radii = [size * (rng.uniform(0.9, 1.0) if i % 2 else rng.uniform(0.5, 0.7)) for i in range(count)]
    turn = [i * step + rng.uniform(-0.15, 0.15) * step for i in range(count)]
    return tidy([(r * math.cos(t), r * math.sin(t), 0) for r, t in zip(radii, turn)])


def arched(rng):
    """An upright light with a segmental or half-round head, or round at both ends."""
    width, height = rng.uniform(200, 900), rng.uniform(200, 1200)
    head = rng.uniform(0.1, 1.0)
    foot = rng.choice([0, 0, rng.uniform(0.1, 0.6)])
    return tidy([(0, 0, foot), (width, 0, 0), (width, height, head), (0, height, 0)])


def bulged(rng):
    """A polygon whose edges swell out or in."""
    base = convex(rng) if rng.random() < 0.5 else concave(rng)
    return tidy([(x, y, rng.choice([0, rng.uniform(-0.25, 0.35)])) for x, y, _ in base])


def rounded(rng):
    """A rectangle with round corners: every corner is smooth."""
    w, h = rng.uniform(100, 600), rng.uniform(100, 600)
    r = rng.uniform(15, 45)
    b = math.tan(math.pi / 8)
    outline = [(r, 0, 0), (w - r, 0, b), (w, r, 0), (w, h - r, b)]
    outline += [(w - r, h, 0), (r, h, b), (0, h - r, 0), (0, r, b)]
    # Five decimals of a bulge would break the smooth corners, so the full value stands.
    return [[round(x, 4), round(y, 4), bb] for x, y, bb in outline]


def straight(outline):
    return all(b == 0 for _, _, b in outline)


def offset(shape, distance, sharp):
    style = "mitre" if sharp else "round"
    return shape.buffer(distance, quad_segs=QUARTER, join_style=style, mitre_limit=1e4)


def keeps_its_edges(outline, distance):
    """Whether the offset only moves edges: none vanishes and none meets a stranger.

    Judged on the same outline with fewer chords, by the length that each edge keeps: twice the offset
    leaves it in one piece, and the way back by as much restores it.
    """
    shape = polygon(outline)
    further = shape.buffer(2 * distance, join_style="mitre", mitre_limit=1e4)
    if further.geom_type != "Polygon" or further.is_empty or len(further.interiors) > 0:
        return False
    if straight(outline):
        corners = len(further.simplify(1e-9).exterior.coords) - 1
        return corners == len(outline)
    back = further.buffer(-2 * distance, join_style="mitre", mitre_limit=1e4)
    return abs(back.area - shape.area) < 1e-4 * shape.area


def offsets(outline, shape, rng):
    found = []
    for sign in (1, -1):
        distance = sign * round(rng.uniform(2, 25), 3)
        tries = 0
        while not keeps_its_edges(outline, distance) and tries < 8:
            distance = round(distance * 0.6, 3)
            tries += 1
        if tries == 8:
            continue
        # A mitre at the end of an arc runs on straight here and round in the program, so sharp
        # joins are compared between straight edges only.
        for sharp in (True, False) if straight(outline) else (False,):
            moved = offset(shape, distance, sharp)
            found.append(
                {
                    "distance": distance,
                    "join": "sharp" if sharp else "round",
                    "area": round(moved.area, 6),
                    "perimeter": round(moved.exterior.length, 6),
                    "bounds": [round(v, 6) for v in moved.bounds],
                }
            )
    return found


def outlines():
    rng = random.Random(1840)
    cases = []
    for kind, make, count in (
        ("convex", convex, 40),
        ("concave", concave, 40),
        ("arched", arched, 24),
        ("bulged", bulged, 30),
        ("rounded", rounded, 10),
    ):
        made = 0
        while made < count:
            outline = make(rng)
            shape = polygon(outline)
            if not shape.is_valid or not shape.exterior.is_ccw:
                continue
            moved = offsets(outline, shape, rng)
            if not moved:
                continue
            made += 1
            cases.append(
                {
                    "kind": kind,
                    "vertices": outline,
                    "area": round(shape.area, 6),
                    "perimeter": round(shape.exterior.length, 6),
                    "offsets": moved,
                }
            )
    return {
        "made_with": {"shapely": version("shapely"), "geos": shapely.geos_version_string},
        "vertex": "x mm, y mm, bulge of the edge that begins there",
        "outlines": cases,
    }


# Offsets of any size: where edges vanish the program must refuse, never give another outline.


def pointed(rng):
    """Uprights with a head of two arcs that meet in a point."""
    width, height = rng.uniform(200, 900), rng.uniform(100, 1200)
    bulge = rng.uniform(0.08, 0.35)
    peak = height + rng.uniform(0.4, 1.1) * width
    return [(0, 0, 0), (width, 0, 0), (width, height, bulge), (width / 2, peak, bulge), (0, height, 0)]


def bitten(rng):
    """A rectangle with a round bite out of the top and a step in the bottom."""
    w, h = rng.uniform(200, 900), rng.uniform(200, 900)
    left, right = sorted(rng.uniform(0.15, 0.85) * w for _ in range(2))
    a, b = sorted(rng.uniform(0.15, 0.85) * w for _ in range(2))
    rise = rng.uniform(0.1, 0.5) * h
    top = [(w, h, 0), (right, h, -rng.uniform(0.2, 1.0)), (left, h, 0), (0, h, 0)]
    return [(0, 0, 0), (a, 0, 0), (a, rise, 0), (b, rise, 0), (b, 0, 0), (w, 0, 0)] + top


def circles(rng):
    """Two arcs: a circle or a lens."""
    size = rng.uniform(100, 600)
    return [(0, 0, rng.uniform(0.15, 1.2)), (size, 0, rng.uniform(0.15, 1.2))]


def circle_of(p, q, bulge):
    """Centre and radius of the arc from p to q."""
    (x0, y0), (x1, y1) = p, q
    sweep = 4 * math.atan(bulge)
    chord = math.hypot(x1 - x0, y1 - y0)
    aside = chord / (2 * math.tan(sweep / 2)) if abs(bulge) != 1 else 0.0
    centre = ((x0 + x1) / 2 - aside * (y1 - y0) / chord, (y0 + y1) / 2 + aside * (x1 - x0) / chord)
    return centre, abs(chord / (2 * math.sin(sweep / 2))), sweep


def band(p, q, bulge, reach):
    """Everything within reach of the edge from p to q by a normal of it: a rectangle or a piece of a ring."""
    (x0, y0), (x1, y1) = p, q
    if bulge == 0:
        length = math.hypot(x1 - x0, y1 - y0)
        nx, ny = reach * (y1 - y0) / length, -reach * (x1 - x0) / length
        return Polygon([(x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny)])
    (cx, cy), radius, sweep = circle_of(p, q, bulge)
    start = math.atan2(y0 - cy, x0 - cx)
    turn = [start + sweep * i / CHORDS for i in range(CHORDS + 1)]
    inner = max(radius - reach, 0.0)
    ring = [(cx + (radius + reach) * math.cos(a), cy + (radius + reach) * math.sin(a)) for a in turn]
    ring += [(cx + inner * math.cos(a), cy + inner * math.sin(a)) for a in reversed(turn)]
    return shapely.make_valid(Polygon(ring))


def exact_offset(outline, shape, distance):
    """The outline moved with round joins, as the union of bands and discs.

    The library's own offset straightens hollows as it goes, at times by far more than it says, which a
    union does not."""
    reach = abs(distance)
    parts = []
    for (x, y, bulge), (nx, ny, _) in zip(outline, outline[1:] + outline[:1]):
        parts.append(band((x, y), (nx, ny), bulge, reach))
        parts.append(shapely.Point(x, y).buffer(reach, quad_segs=QUARTER))
    near = shapely.union_all(parts)
    return shape.union(near) if distance > 0 else shape.difference(near)


def leaves_arcs(outline, distance):
    """Whether every arc that the offset makes smaller would stand twice as much."""
    for (x, y, bulge), (nx, ny, _) in zip(outline, outline[1:] + outline[:1]):
        if bulge != 0 and circle_of((x, y), (nx, ny), bulge)[1] + 2 * math.copysign(distance, distance * bulge) <= 0:
            return False
    return True


def brief(kind, outline):
    """Rounded to keep the file small; smooth corners keep the full bulge that makes them smooth."""
    places = 17 if kind == "rounded" else 3
    return [[round(x, 1), round(y, 1), round(b, places)] for x, y, b in outline]


def coarse_offsets():
    """Offsets with round joins, and whether each only moves edges."""
    rng = random.Random(1851)
    cases = []
    for kind, make, count in (
        ("convex", convex, 60),
        ("concave", concave, 80),
        ("arched", arched, 80),
        ("bulged", bulged, 120),
        ("rounded", rounded, 20),
        ("pointed", pointed, 50),
        ("bitten", bitten, 60),
        ("circles", circles, 30),
    ):
        made = 0
        while made < count:
            outline = brief(kind, make(rng))
            shape = polygon(outline)
            if not shape.is_valid or not shape.exterior.is_ccw:
                continue
            moved = []
            for sign in (1, -1):
                distance = sign * round(10 ** rng.uniform(0.3, 2.0), 1)
                found = exact_offset(outline, shape, distance)
                keeps = leaves_arcs(outline, distance) and keeps_its_edges(outline, distance)
                moved.append([distance, round(found.area, 2), round(found.length, 3), int(keeps)])
            made += 1
            area, length = round(shape.area, 2), round(shape.exterior.length, 3)
            cases.append({"kind": kind, "vertices": outline, "area": area, "perimeter": length, "offsets": moved})
    return {
        "made_with": {"shapely": version("shapely"), "geos": shapely.geos_version_string},
        "vertex": "x mm, y mm, bulge of the edge that begins there",
        "offset": "distance mm, area mm², length of the boundary mm, 1 if edges only move",
        "outlines": cases,
    }


# Sections: glazing face up, X from the sight edge into the wood, Y = 0 on the glazing face.


def moulding(shape, width, depth, thickness):
    """Points from (width, −thickness) on the room face to (0, depth − thickness) at the sight edge."""
    low = -thickness
    if shape == "square":
        return [(0.0, low)]
    if shape == "chamfer":
        return [(width, low), (0.0, low + depth)]
    steps = 48
    if shape == "ovolo":
        turn = [math.pi / 2 * i / steps for i in range(steps + 1)]
        return [(width - width * math.sin(t), low + depth - depth * math.cos(t)) for t in turn]
    # Ogee: round by the room face, hollow by the sight edge; two quarter ellipses that meet half way.
    w, d = width / 2, depth / 2
    turn = [math.pi / 2 * i / steps for i in range(steps + 1)]
    convex_part = [(width - w * math.sin(t), low + d - d * math.cos(t)) for t in turn]
    hollow = [(w * math.cos(t), low + d + d * math.sin(t)) for t in turn]
    return convex_part + hollow[1:]


def stile(width, thickness, rebate, shape="square", mould=(0, 0)):
    rw, rd = rebate
    points = [(rw, 0.0), (rw, -float(rd)), (0.0, -float(rd))]
    points += list(reversed(moulding(shape, *mould, thickness)))
    points += [(float(width), -float(thickness)), (float(width), 0.0)]
    return points


def bar(width, thickness, rebate, shape="square", mould=(0, 0)):
    """A bar with a rebate and a moulding on both sides; X from its left sight edge."""
    rw, rd = rebate
    left = [(rw, 0.0), (rw, -float(rd)), (0.0, -float(rd))]
    left += list(reversed(moulding(shape, *mould, thickness)))
    right = [(width - x, y) for x, y in reversed(left)]
    return left + right


def properties(points):
    geometry = Geometry(Polygon(points))
    geometry.create_mesh(mesh_sizes=[20])
    section = Section(geometry)
    section.calculate_geometric_properties()
    cx, cy = section.get_c()
    ixx, iyy, ixy = section.get_ic()
    return {
        "area": section.get_area(),
        "centroid": [cx, cy],
        "ixx": ixx,
        "iyy": iyy,
        "ixy": ixy,
    }


def sections():
    plain = [
        ("45 × 45 less 15 × 25", stile(45, 45, (15, 25))),
        ("45 × 45 less 10 × 12", stile(45, 45, (10, 12))),
    ]
    moulded = []
    for shape in ("chamfer", "ovolo", "ogee"):
        for width, thickness, rebate, mould in (
            (52, 45, (9, 17), (12, 14)),
            (52, 45, (14, 26), (12, 14)),
            (74, 57, (16, 32), (15, 18)),
            (60, 42, (14, 25.5), (8, 12)),
        ):
            name = f"stile {width} × {thickness}, rebate {rebate[0]} × {rebate[1]}, {shape}"
            moulded.append((name, stile(width, thickness, rebate, shape, mould)))
        for width, thickness, rebate, mould in (
            (22, 45, (6, 17), (7, 14)),
            (40, 45, (14, 22), (15, 18)),
            (30, 57, (9, 26), (10, 20)),
        ):
            name = f"bar {width} × {thickness}, rebates {rebate[0]} × {rebate[1]}, {shape}"
            moulded.append((name, bar(width, thickness, rebate, shape, mould)))
    bars = [
        ("bar 22 × 45, rebates 6 × 17, square", bar(22, 45, (6, 17))),
        ("bar 40 × 57, rebates 17 × 30, square", bar(40, 57, (17, 30))),
    ]
    cases = []
    for name, points in plain + bars + moulded:
        points = [[round(x, 6), round(y, 6)] for x, y in points]
        found = properties(points)
        rounded_found = {
            key: [round(v, 5) for v in value] if isinstance(value, list) else round(value, 5)
            for key, value in found.items()
        }
        cases.append({"name": name, "points": points, **rounded_found})
    check_closed_forms(cases)
    return {
        "made_with": {"sectionproperties": version("sectionproperties")},
        "units": "mm; second moments about the centroid, X to the right, Y up",
        "sections": cases,
    }


def check_closed_forms(cases):
    """Rectangle less a corner, by hand: A1 − A2, Steiner."""
    for case, (w, d) in zip(cases, ((15, 25), (10, 12))):
        area = 45 * 45 - w * d
        about_edge = 45**3 * 45 / 3 - w**3 * d / 3
        x = (45 * 45 * 22.5 - w * d * w / 2) / area
        iyy = about_edge - area * x * x
        assert abs(case["area"] - area) < 1e-4, case
        assert abs(case["centroid"][0] - x) < 1e-4, (case["centroid"], x)
        assert abs(case["iyy"] - iyy) < 0.5, (case["iyy"], iyy)


def main():
    OUT.mkdir(parents=True, exist_ok=True)
    made = {"outlines": outlines(), "sections": sections(), "offsets": coarse_offsets()}
    for name, content in made.items():
        text = json.dumps(content, separators=(",", ":"), ensure_ascii=False)
        # A case a line, so that a change shows where it is.
        text = text.replace('{"kind"', '\n{"kind"').replace('{"name"', '\n{"name"')
        (OUT / f"{name}.json").write_text(text + "\n", encoding="utf-8")
        print(OUT / f"{name}.json", len(text))


if __name__ == "__main__":
    main()
