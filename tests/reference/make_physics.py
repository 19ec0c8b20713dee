#!/usr/bin/env python3
"""Makes fixtures/reference/physics.json with general-purpose libraries that share nothing with this program.

    python3 tests/reference/make_physics.py

plates   simply supported plates under an even load, by scikit-fem: Bogner-Fox-Schmit elements.
gases    properties of air and argon at 283 K and standard pressure, by CoolProp (which has no viscosity
         of krypton and xenon), and what EN 673 makes of them:
         the still width and the U-value of 4-s-4, by a few lines of arithmetic of this script's own.
dew      dew points of moist air, by PsychroLib (ASHRAE's formulas).

Needs scikit-fem, CoolProp, psychrolib. Equal versions give equal files; tests/physics.rs reads them.
"""

import json
from importlib.metadata import version
from pathlib import Path

import numpy as np
import psychrolib
from CoolProp.CoolProp import PropsSI
from skfem import Basis, BilinearForm, ElementQuadBFS, Functional, LinearForm, MeshQuad, condense, solve
from skfem.helpers import dd

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


def u_value(gas, width, emissivity):
    density, viscosity, conductivity, heat = gas
    prandtl = viscosity * heat / conductivity
    grashof = 9.81 * width**3 * 15 * density**2 / (283 * viscosity**2)
    convection = max(1, 0.035 * (grashof * prandtl) ** 0.38) * conductivity / width
    radiation = 4 * 5.67e-8 * 283**3 / (1 / emissivity + 1 / 0.837 - 1)
    return 1 / (1 / 25 + 0.008 + 1 / (convection + radiation) + 1 / 7.7)


def gases():
    found = []
    for name in ["Air", "Argon"]:
        gas = [PropsSI(key, "T", 283, "P", 101325, name) for key in "DVLC"]
        density, viscosity, conductivity, heat = gas
        turning = 9.81 * 15 * density**2 / (283 * viscosity**2) * viscosity * heat / conductivity
        found.append(
            {
                "gas": name.lower(),
                "density": round(density, 5),
                "viscosity": round(viscosity, 9),
                "conductivity": round(conductivity, 7),
                "heat": round(heat, 3),
                "still": round(1000 * (0.035 ** (-1 / 0.38) / turning) ** (1 / 3), 4),
                "u": [[s, e, round(u_value(gas, s / 1000, e), 5)] for s in (4, 8, 16) for e in (0.0366, 0.837)],
            }
        )
    return found


def dew():
    psychrolib.SetUnitSystem(psychrolib.SI)
    rows = [(t, rh) for t in (-10, 0, 10, 20, 30) for rh in (0.2, 0.4, 0.5, 0.65, 0.9)]
    return [[t, rh, round(psychrolib.GetTDewPointFromRelHum(t, rh), 4)] for t, rh in rows]


def main():
    plates = [plate(ratio, nu) for nu in (0.2, 0.3) for ratio in (1, 1.2, 1.5, 2, 3, 5)]
    plates = [{key: round(value, 8) for key, value in row.items()} for row in plates]
    made_with = {name: version(name) for name in ("scikit-fem", "CoolProp", "psychrolib")}
    content = {"made_with": made_with, "plates": plates, "gases": gases(), "dew": dew()}
    OUT.write_text(json.dumps(content, indent=1) + "\n")


main()
