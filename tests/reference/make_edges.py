#!/usr/bin/env python3
"""Makes fixtures/reference/edges.json: heat and the coldest place of ten sections, by a library of finite elements.

    FILLISTER_RENEW=1 cargo test --lib ten_sections    # writes edge_sections.json, then fails
    python3 tests/reference/make_edges.py

Each section is a pile of polygons with a conductivity, what lies over what last; 0 is nothing. shapely breaks their
edges where they cross, triangle fills them with triangles that follow every slope, and scikit-fem solves on them with
quadratic elements: films of 1 and 0 degrees on the faces to nothing under and over `middle`, no heat through the
ends at the least and greatest x. The coldest place is the coldest corner of a face to the room.

Needs scikit-fem, shapely, triangle. src/warmth/model/tests.rs reads it.
"""

import json
from importlib.metadata import version
from pathlib import Path

import numpy as np
import shapely
import triangle
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.ops import unary_union
from skfem import Basis, BilinearForm, ElementTriP0, ElementTriP2, FacetBasis, LinearForm, MeshTri, solve
from skfem.helpers import dot, grad

HERE = Path(__file__).resolve().parent.parent.parent / "fixtures" / "reference"


def mesh_of(polygons):
    """Triangles inside the bounds of all, along every edge of each; finer near the sight edge."""
    lines = []
    for ring in polygons:
        closed = ring if ring[0] == ring[-1] else ring + [ring[0]]
        lines.append(LineString([(round(x, 7), round(y, 7)) for x, y in closed]))
    box = unary_union(lines).envelope.exterior
    noded = unary_union(lines + [LineString(box.coords)])
    points, segments = {}, []
    for line in noded.geoms if isinstance(noded, MultiLineString) else [noded]:
        where = [points.setdefault((round(x, 7), round(y, 7)), len(points)) for x, y in line.coords]
        segments += [(a, b) for a, b in zip(where, where[1:]) if a != b]
    made = triangle.triangulate({"vertices": np.array(list(points)), "segments": np.array(segments)}, "pq30a4")
    for _ in range(2):
        at = made["vertices"][made["triangles"]].mean(axis=1)
        near = np.hypot(np.minimum(abs(at[:, 0]), abs(at[:, 0] - 30.0)), 0.0)
        made["triangle_max_area"] = np.clip(0.02 * near, 0.03, 4.0)[:, None]
        made = triangle.triangulate(made, "rpq30a")
    return MeshTri(made["vertices"].T, made["triangles"].T)


def solve_one(section):
    cards = [(shapely.prepared.prep(Polygon(ring)), value) for ring, value in section["cards"]]

    def conducts(x, y):
        for polygon, value in reversed(cards):
            if polygon.contains(Point(x, y)):
                return value
        return 0.0

    mesh = mesh_of([ring for ring, _ in section["cards"]])
    centres = mesh.p[:, mesh.t].mean(axis=1)
    value = np.array([conducts(x, y) for x, y in centres.T])
    low, high = mesh.p[0].min(), mesh.p[0].max()
    solid = value > 0.0
    whole, value = mesh.restrict(np.nonzero(solid)[0]), value[solid]
    edges = whole.boundary_facets()
    middle = whole.p[:, whole.facets[:, edges]].mean(axis=1)
    ends = (abs(middle[0] - low) < 1e-6) | (abs(middle[0] - high) < 1e-6)
    room = edges[~ends & (middle[1] < section["middle"])]
    outdoors = edges[~ends & (middle[1] >= section["middle"])]
    element = ElementTriP2()
    basis = Basis(whole, element)
    each = basis.with_element(ElementTriP0()).interpolate(value)

    @BilinearForm
    def conduction(u, v, w):
        return w["each"] * dot(grad(u), grad(v))

    @BilinearForm
    def mass(u, v, _):
        return u * v

    @LinearForm
    def load(v, _):
        return v

    # Lengths are in mm: a film of h W/(m2 K) is h/1000 W/(mm K) for each metre of depth.
    inside, outside = (h / 1000.0 for h in section["films"])
    of_room, of_outdoors = (FacetBasis(whole, element, facets=facets) for facets in (room, outdoors))
    matrix = conduction.assemble(basis, each=each)
    matrix = matrix + inside * mass.assemble(of_room) + outside * mass.assemble(of_outdoors)
    theta = solve(matrix, inside * load.assemble(of_room))
    heat = outside * (load.assemble(of_outdoors) @ theta)
    corners = np.unique(whole.facets[:, room])
    return [float(f"{heat:.7g}"), float(f"{theta[basis.nodal_dofs[0, corners]].min():.7g}")]


def main():
    sections = json.loads((HERE / "edge_sections.json").read_text())
    found = [solve_one(section) for section in sections]
    versions = {name: version(name) for name in ("scikit-fem", "shapely", "triangle")}
    (HERE / "edges.json").write_text(json.dumps({"versions": versions, "found": found}, indent=1) + "\n")


if __name__ == "__main__":
    main()
