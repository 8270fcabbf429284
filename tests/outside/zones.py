"""Grows shapes by a gap with shapely and says how wide they are over bands of heights.

Reads one JSON object from standard input:
  cases: list of
    shape: "rectangle" (x0, y0, x1, y1, corner), "oval" (x, y, across, down) or "arch"
           (x0, y0, x1, y1, rise); mm, y down
    gap: mm
    bands: list of [top, bottom]
and writes one to standard output:
  versions: of shapely and GEOS
  cases: for each case the list of [left, right] of the grown shape within each band; null
         where it has none
"""

import json
import math
import sys

import shapely
from shapely.geometry import Point, Polygon, box

# Straight pieces of a curved edge, and of a quarter of a disc.
PIECES = 8000
QUARTER = 512


def core(case):
    if case["shape"] == "oval":
        turns = (2 * math.pi * step / PIECES for step in range(PIECES))
        return Polygon(
            (
                case["x"] + case["across"] * math.cos(turn),
                case["y"] + case["down"] * math.sin(turn),
            )
            for turn in turns
        )
    x0, y0, x1, y1 = (case[key] for key in ("x0", "y0", "x1", "y1"))
    if case["shape"] == "rectangle":
        corner = case["corner"]
        inner = box(x0 + corner, y0 + corner, x1 - corner, y1 - corner)
        return inner.buffer(corner, quad_segs=QUARTER) if corner else inner
    # The head is the part of a disc above the springing, as wide as the foot.
    rise, half = case["rise"], (x1 - x0) / 2
    radius = (half * half + rise * rise) / (2 * rise)
    disc = Point((x0 + x1) / 2, y0 + radius).buffer(radius, quad_segs=PIECES // 4)
    head = disc.intersection(box(x0, y0, x1, y0 + rise))
    return head.union(box(x0, y0 + rise, x1, y1)) if y1 > y0 + rise else head


def spans(case):
    grown = core(case).buffer(case["gap"], quad_segs=QUARTER)
    left, _, right, _ = grown.bounds
    for top, bottom in case["bands"]:
        part = grown.intersection(box(left - 1, top, right + 1, bottom))
        yield None if part.is_empty else [part.bounds[0], part.bounds[2]]


asked = json.load(sys.stdin)
json.dump(
    {
        "versions": f"shapely {shapely.__version__}, GEOS {shapely.geos_version_string}",
        "cases": [list(spans(case)) for case in asked["cases"]],
    },
    sys.stdout,
)
