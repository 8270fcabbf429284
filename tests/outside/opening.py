"""Opens and closes letters by a disc with the Python package shapely (GEOS), and compares
with a picture of the same.

Reads one JSON object from standard input:
  cases: list of {width, incised, asked, made}: width of the cut in mm; whether what is
         asked for is cut (opened) or left standing (closed); both as lists of closed
         contours that do not cross, [[x, y], ...] in mm
and writes one to standard output:
  versions: of shapely and GEOS
  letters:  for each case, from the left, one {asked, made, truth, apart} for what stands by
            itself in x: areas in mm2 of what is asked for, of the picture, of shapely's own,
            and of what of the picture lies outside, or lacks, what shapely makes with this
            width and one PLAY less: where a stroke is as wide as the tool, less than a
            micrometre decides, and either is right
"""

import json
import sys
from functools import reduce

import shapely
from shapely.geometry import Polygon, box

# Chords to a quarter of a circle: they leave it by 1/13000 of its radius.
QUARTER = 64
# mm; twice what the picture takes a tool to be narrower than it is.
PLAY = 0.004


def region(contours):
    """What contours that do not cross fill: a hole lies in an odd number of others."""
    areas = [Polygon(contour).buffer(0) for contour in contours if len(contour) > 2]
    return reduce(lambda a, b: a.symmetric_difference(b), areas, Polygon())


def swept(area, radius):
    return area.buffer(-radius, quad_segs=QUARTER).buffer(radius, quad_segs=QUARTER)


def letters(area):
    """Parts that overlap in x, together."""
    parts = sorted(getattr(area, "geoms", [area]), key=lambda part: part.bounds[0])
    found = []
    for part in parts:
        if found and part.bounds[0] <= found[-1].bounds[2]:
            found[-1] = shapely.union_all([found[-1], part])
        else:
            found.append(part)
    return found


def compared(case):
    made, width = region(case["made"]), case["width"]
    way = 0.5 if case["incised"] else -0.5
    answers = []
    for letter in letters(region(case["asked"])):
        x0, y0, x1, y1 = letter.bounds
        seen = made.intersection(box(x0 - width, y0 - width, x1 + width, y1 + width))
        truth = swept(letter, way * width)
        finer = swept(letter, way * (width - PLAY))
        # A finer tool cuts more, and leaves less standing.
        small, large = (truth, finer) if case["incised"] else (finer, truth)
        answers.append(
            {
                "asked": letter.area,
                "made": seen.area,
                "truth": truth.area,
                "apart": seen.difference(large).area + small.difference(seen).area,
            }
        )
    return answers


question = json.load(sys.stdin)
json.dump(
    {
        "versions": f"shapely {shapely.__version__}, GEOS {shapely.geos_version_string}",
        "letters": [compared(case) for case in question["cases"]],
    },
    sys.stdout,
)
