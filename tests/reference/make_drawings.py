"""Drawings as a drawing program saves them, for fixtures/survey: needs ezdxf.

The corners are those that fixtures/survey/good/traced.toml has typed in.
"""

from pathlib import Path

import ezdxf
from ezdxf import units
from ezdxf.math import bulge_to_arc

# Without a stamp of the time.
ezdxf.options.write_fixed_meta_data_for_testing = True

GOOD = Path(__file__).parents[2] / "fixtures" / "survey" / "good" / "drawings"
BAD = GOOD.parents[1] / "bad" / "drawings"
# x, y, and the bulge of the edge from there: a fanlight with one shoulder round and one cut off.
CORNERS = [(0, 0, 0), (760, 0, 0), (760, 420, 0.1), (620, 610, 0), (200, 610, 0), (0, 500, 0)]


def drawing(version, unit=units.MM):
    document = ezdxf.new(version)
    document.units = unit
    return document


def loose(space, layer, corners):
    """Every edge an entity of its own, out of order and some drawn backwards."""
    edges = list(zip(corners, corners[1:] + corners[:1]))
    for number in (3, 0, 5, 2, 4, 1):
        (x0, y0, bulge), (x1, y1, _) = edges[number]
        if bulge:
            centre, start, end, radius = bulge_to_arc((x0, y0), (x1, y1), bulge)
            turn = 180 / 3.141592653589793
            space.add_arc(centre, radius, start * turn, end * turn, dxfattribs={"layer": layer})
        elif number % 2:
            space.add_line((x1, y1), (x0, y0), dxfattribs={"layer": layer})
        else:
            space.add_line((x0, y0), (x1, y1), dxfattribs={"layer": layer})


def save(document, folder, name):
    folder.mkdir(exist_ok=True)
    document.saveas(folder / name)


polyline = drawing("R2000")
polyline.modelspace().add_lwpolyline(CORNERS, format="xyb", close=True)
save(polyline, GOOD, "polyline.dxf")

# Far from zero, in a file that knows no unit, with a note on another layer.
parts = drawing("R12")
far = [(x + 1000, y - 300, bulge) for x, y, bulge in CORNERS]
loose(parts.modelspace(), "daylight", far)
parts.modelspace().add_text("from the street", dxfattribs={"layer": "notes", "height": 20})
save(parts, GOOD, "parts.dxf")

# One gap of 4 mm, a second outline, and two edges that cross.
gap = drawing("R12")
corners = [(0, 0), (600, 0), (600, 800), (0, 800)]
for a, b in zip(corners, corners[1:] + [(0, 4)]):
    gap.modelspace().add_line(a, b)
save(gap, BAD, "gap.dxf")
two = drawing("R12")
for at in (0, 1000):
    two.modelspace().add_circle((at, 0), 300)
save(two, BAD, "two.dxf")
tie = drawing("R12")
corners = [(0, 0), (600, 800), (600, 0), (0, 750)]
for a, b in zip(corners, corners[1:] + corners[:1]):
    tie.modelspace().add_line(a, b)
save(tie, BAD, "tie.dxf")
small = drawing("R12")
small.modelspace().add_circle((0, 0), 3)
save(small, BAD, "small.dxf")
