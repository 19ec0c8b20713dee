#!/usr/bin/env python3
"""Audits DXF files with ezdxf: not one error and not one repair may be needed.

    python3 tests/reference/audit_dxf.py target/tmp/*.dxf

The Rust tests leave their sample files in target/tmp. They check the same structural facts without
Python (tests/dxf_structure.rs lists them); this script is the second opinion. Needs ezdxf (made with
1.4.5). Exit status 1 where a file is not sound.
"""

import sys

import ezdxf
from ezdxf import bbox, recover


def audit(path: str) -> bool:
    drawing = ezdxf.readfile(path)
    auditor = drawing.audit()
    kinds: dict[str, int] = {}
    for entity in drawing.modelspace():
        kinds[entity.dxftype()] = kinds.get(entity.dxftype(), 0) + 1
    print(f"{path}: {drawing.dxfversion}, {len(auditor.errors)} errors, {len(auditor.fixes)} repairs")
    print("   ", ", ".join(f"{count} {kind}" for kind, count in sorted(kinds.items())))
    for entry in [*auditor.errors, *auditor.fixes]:
        print("   ", entry.code, entry.message)
    sound = not auditor.errors and not auditor.fixes
    if drawing.dxfversion >= "AC1015":
        units = drawing.header.get("$INSUNITS"), drawing.header.get("$MEASUREMENT")
        if units != (4, 1):
            print("    units are", units)
            sound = False
    low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
    lines = drawing.modelspace().query("LINE ARC CIRCLE LWPOLYLINE POLYLINE")
    box = bbox.extents(lines, fast=False)
    if box.has_data:
        slack = 0.01
        inside = all(
            low[axis] - slack <= box.extmin[axis] and box.extmax[axis] <= high[axis] + slack
            for axis in (0, 1)
        )
        if not inside:
            print("    extents", low, high, "do not hold", box.extmin, box.extmax)
            sound = False
    # Of its readers only the lenient one decodes \\U+XXXX.
    decoded, _ = recover.readfile(path)
    for text in decoded.modelspace().query("TEXT"):
        print("    text:", text.plain_text())
    return sound


if __name__ == "__main__":
    results = [audit(path) for path in sys.argv[1:]]
    if not results:
        sys.exit(__doc__)
    sys.exit(0 if all(results) else 1)
