#!/usr/bin/env python3
"""Makes fixtures/reference/physics.json with general-purpose libraries that share nothing with this program.

    python3 tests/reference/make_physics.py

plates   simply supported plates under an even load, by scikit-fem: Bogner-Fox-Schmit elements.
shapes   plates that are no rectangle, by scikit-fem: Morley elements, held at the nodes of their edges only
         (a polygon held all along its edges does not come near the round plate, however many it has).
gases    properties at 283 K and standard pressure, of air and argon by CoolProp (which has no viscosity of
         krypton and xenon), of argon, krypton and xenon by thermo, and what EN 673 makes of them:
         the still width and the U-value of 4-s-4, by a few lines of arithmetic of this script's own.
dew      dew points of moist air, by PsychroLib (ASHRAE's formulas) and by CoolProp (real moist air).
heights  pressure of the air by height over the sea, by fluids (US Standard Atmosphere 1976).
sealed   pressure of a gas shut in at 20 °C and 101 325 Pa and brought to other temperatures, by CoolProp.

Needs scikit-fem, CoolProp, psychrolib, thermo (which brings fluids). Equal versions give equal files;
tests/physics.rs reads them.
"""

import json
from importlib.metadata import version
from pathlib import Path

import numpy as np
import psychrolib
from CoolProp.CoolProp import HAPropsSI, PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from skfem import Basis, BilinearForm, ElementQuadBFS, ElementTriMorley, Functional, LinearForm, MeshQuad, MeshTri
from skfem import condense, solve
from skfem.helpers import dd, ddot
from thermo import Chemical

OUT = Path(__file__).resolve().parent.parent.parent / "fixtures" / "reference" / "physics.json"


def plate(ratio, nu, cells=40):
    """Short side 1 along x, rigidity 1, load 1: deflection, moment across the short side, mean."""
    mesh = MeshQuad.init_tensor(np.linspace(0, 1, cells + 1), np.linspace(0, ratio, cells + 1))
    basis = Basis(mesh, ElementQuadBFS(), intorder=8)

    @BilinearForm
    def bending(u, v, _):
        a, b = dd(u), dd(v)
        mixed = nu * (a[0, 0] * b[1, 1] + a[1, 1] * b[0, 0])
        return a[0, 0] * b[0, 0] + a[1, 1] * b[1, 1] + mixed + 2 * (1 - nu) * a[0, 1] * b[0, 1]

    @LinearForm
    def load(v, _):
        return 1.0 * v

    # On an edge the deflection and its slope along the edge are nought; the other slope is free.
    fixed = []
    for facets, along in [(mesh.facets_satisfying(lambda x: np.isclose(x[0], end)), "u_y") for end in (0, 1)] + [
        (mesh.facets_satisfying(lambda x: np.isclose(x[1], end)), "u_x") for end in (0, ratio)
    ]:
        dofs = basis.get_dofs(facets)
        fixed += [dofs.all("u"), dofs.all(along)]
    solution = solve(*condense(bending.assemble(basis), load.assemble(basis), D=np.unique(np.concatenate(fixed))))
    mean = Functional(lambda w: w["u"]).assemble(basis, u=basis.interpolate(solution)) / ratio
    middle = np.array([[0.5], [ratio / 2]])
    deflection = (basis.probes(middle) @ solution)[0]
    second = second_derivatives(mesh, basis, solution, middle)
    return {
        "ratio": ratio,
        "poisson": nu,
        "deflection": deflection,
        "moment": -(second[0] + nu * second[1]),
        "mean": mean,
    }


def second_derivatives(mesh, basis, solution, middle):
    """Mean over the cells that meet in the middle, whose cubics differ a little there."""
    here = Basis(mesh, ElementQuadBFS(), quadrature=(corners(), np.ones(4)))
    field = here.interpolate(solution)
    points = here.global_coordinates()
    near = np.isclose(points[0], middle[0, 0]) & np.isclose(points[1], middle[1, 0])
    return field.hess[0, 0][near].mean(), field.hess[1, 1][near].mean()


def corners():
    return np.array([[0.0, 1.0, 1.0, 0.0], [0.0, 0.0, 1.0, 1.0]])


def shaped(name, mesh, nu):
    """As `plate`, of the short side of the upright rectangle around the shape. The moment is the greatest,
    whichever way it turns, in the part that lies a fifth of that side and more from the edge: near blunt
    corners a thin plate has moments without bound that no glass has."""
    basis = Basis(mesh, ElementTriMorley(), intorder=4)

    @BilinearForm
    def bending(u, v, _):
        a, b = dd(u), dd(v)
        return (1 - nu) * ddot(a, b) + nu * (a[0, 0] + a[1, 1]) * (b[0, 0] + b[1, 1])

    @LinearForm
    def load(v, _):
        return v

    held = basis.get_dofs(mesh.boundary_facets()).all("u")
    solution = solve(*condense(bending.assemble(basis), load.assemble(basis), D=held))
    field = basis.interpolate(solution)
    area = Functional(lambda w: 1.0 + 0 * w.x[0]).assemble(basis)
    mean = Functional(lambda w: w["u"]).assemble(basis, u=field) / area
    weights = np.bincount(mesh.t.ravel(), np.tile(basis.dx.sum(1), 3))
    at_nodes = lambda f: np.bincount(mesh.t.ravel(), np.tile((f * basis.dx).sum(1), 3)) / weights
    xx, yy, xy = (at_nodes(field.hess[i, j]) for i, j in ((0, 0), (1, 1), (0, 1)))
    moment = -(1 + nu) / 2 * (xx + yy) + (1 - nu) * np.hypot((xx - yy) / 2, xy)
    sides = mesh.p.max(1) - mesh.p.min(1)
    short = sides.min()
    edge = mesh.p[:, np.unique(mesh.facets[:, mesh.boundary_facets()])]
    inside = [np.hypot(*(edge - node[:, None])).min() > short / 5 for node in mesh.p.T]
    return {
        "name": name,
        "ratio": round(sides.max() / short, 6),
        "poisson": nu,
        "deflection": round(solution[basis.nodal_dofs[0]].max() / short**4, 6),
        "moment": round(moment[inside].max() / short**2, 5),
        "mean": round(mean / short**4, 6),
    }


def shapes():
    circle = MeshTri.init_circle(6)
    oval = lambda ratio: MeshTri(circle.p * np.array([[ratio / 2], [0.5]]), circle.t)

    def headed(rise, leg, cells=80):
        radius = (0.25 + rise**2) / 2 / rise
        mesh = MeshTri.init_tensor(np.linspace(-0.5, 0.5, cells + 1), np.linspace(0, 1, cells + 1))
        x, y = mesh.p
        return MeshTri(np.array([x, y * (np.sqrt(radius**2 - x**2) - radius + rise + leg)]), mesh.t)

    corner = MeshTri(np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), np.array([[0], [1], [2]])).refined(6)
    found = [shaped("circle", circle, nu) for nu in (0.2, 0.3)]
    found += [shaped(f"oval {ratio}", oval(ratio), 0.2) for ratio in (1.1, 1.2, 1.5, 2)]
    heads = [(0.1, 0.9), (0.2, 0.9), (0.3, 0.7), (0.4, 0.7), (0.45, 0.5), (0.45, 0.7), (0.3, 0.3), (0.15, 0.35)]
    found += [shaped(f"head rising {rise} over {leg}", headed(rise, leg), 0.2) for rise, leg in heads]
    return found + [shaped("square", MeshTri().refined(6), 0.2), shaped("half a square", corner, 0.2)]


def u_value(gas, width, emissivity):
    density, viscosity, conductivity, heat = gas
    prandtl = viscosity * heat / conductivity
    grashof = 9.81 * width**3 * 15 * density**2 / (283 * viscosity**2)
    convection = max(1, 0.035 * (grashof * prandtl) ** 0.38) * conductivity / width
    radiation = 4 * 5.67e-8 * 283**3 / (1 / emissivity + 1 / 0.837 - 1)
    return 1 / (1 / 25 + 0.008 + 1 / (convection + radiation) + 1 / 7.7)


def gases():
    by_coolprop = lambda name: [PropsSI(key, "T", 283, "P", 101325, name) for key in "DVLC"]

    def by_thermo(name):
        gas = Chemical(name, T=283, P=101325)
        return [gas.rho, gas.mu, gas.k, gas.Cp]

    sources = [("CoolProp", by_coolprop, ["Air", "Argon"]), ("thermo", by_thermo, ["argon", "krypton", "xenon"])]
    return [of_gas(library, name, ask(name)) for library, ask, names in sources for name in names]


def of_gas(library, name, gas):
    density, viscosity, conductivity, heat = gas
    turning = 9.81 * 15 * density**2 / (283 * viscosity**2) * viscosity * heat / conductivity
    return {
        "library": library,
        "gas": name.lower(),
        "density": round(density, 5),
        "viscosity": round(viscosity, 9),
        "conductivity": round(conductivity, 7),
        "heat": round(heat, 3),
        "still": round(1000 * (0.035 ** (-1 / 0.38) / turning) ** (1 / 3), 4),
        "u": [[s, e, round(u_value(gas, s / 1000, e), 5)] for s in (4, 8, 16) for e in (0.0366, 0.837)],
    }


def dew():
    psychrolib.SetUnitSystem(psychrolib.SI)
    rows = [(t, rh) for t in (-10, 0, 10, 20, 30) for rh in (0.2, 0.4, 0.5, 0.65, 0.9)]
    real = lambda t, rh: HAPropsSI("D", "T", t + 273.15, "R", rh, "P", 101325) - 273.15
    return [
        [t, rh, round(psychrolib.GetTDewPointFromRelHum(t, rh), 4), round(real(t, rh), 4)] for t, rh in rows
    ]


def heights():
    return [[height, round(ATMOSPHERE_1976(height).P, 3)] for height in (0, 100, 200, 500, 1000, 1500, 2000, 3000)]


def sealed():
    rows = []
    for gas in ("Air", "Argon", "Krypton", "Xenon"):
        density = PropsSI("D", "T", 293.15, "P", 101325, gas)
        for t in (-15, -5, 10, 30, 40, 60):
            rows.append([gas.lower(), t, round(PropsSI("P", "T", t + 273.15, "D", density, gas), 2)])
    return rows


def main():
    plates = [plate(ratio, nu) for nu in (0.2, 0.3) for ratio in (1, 1.2, 1.5, 2, 3, 5)]
    plates = [{key: round(value, 8) for key, value in row.items()} for row in plates]
    made_with = {name: version(name) for name in ("scikit-fem", "CoolProp", "psychrolib", "thermo", "fluids")}
    content = {
        "made_with": made_with,
        "plates": plates,
        "shapes": shapes(),
        "gases": gases(),
        "dew": dew(),
        "heights": heights(),
        "sealed": sealed(),
    }
    OUT.write_text(json.dumps(content, indent=1) + "\n")


main()
