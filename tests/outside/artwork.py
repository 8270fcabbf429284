"""Looks at artwork with fontTools, skia-pathops, shapely, ezdxf and regex.

Reads one JSON object from standard input:
  fonts: folder of the shipped lettering files
  made: list of folders that hold artwork-mm.svg, artwork-mm.dxf and report.json
and writes one to standard output:
  versions: of all of them
  folders: for each folder
    rows: for each row of lettering
      reference: area of the font's own glyphs (fontTools), united by skia-pathops, mm2
      area: sum of the signed areas of the row's contours in the SVG, mm2
      union: area of the same contours united by skia-pathops, mm2
      contours: how many the SVG has; united: how many there are after uniting
      wrong: contours that do not run clockwise as seen when outer, anticlockwise when
             inside one other, by shapely
      crossing: contours that cross themselves, or another by more than artwork.txt says is
             left as it is, by shapely
      characters: grapheme clusters (regex, \\X) of the row's text that are not spaces
    dxf_area: signed area of the DXF's lettering, y up, mm2; dxf_length: along it, mm
"""

import hashlib
import json
import math
import pathlib
import sys
import xml.etree.ElementTree as ElementTree

import ezdxf
import fontTools
import pathops
import regex
import shapely
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.basePen import BasePen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.svgLib.path import parse_path
from fontTools.ttLib import TTFont
from shapely.geometry import LinearRing, Polygon

# skia computes in single precision: thousandths of a mm keep its grid fine enough.
UNIT = 1000.0

# Overlaps up to so much are left as they are: artwork.txt says so, mm2.
LEFT = 1e-4
# Straight pieces that a curve is cut into for shapely.
STEPS = 24
SVG = "{http://www.w3.org/2000/svg}"


class Flat(BasePen):
    """Contours as points, curves cut into straight pieces."""

    def __init__(self):
        super().__init__(None)
        self.contours = []

    def _moveTo(self, at):
        self.contours.append([])
        self._lineTo(at)

    def _lineTo(self, at):
        # Steps of path data add up in binary: a contour's end is its start but for that.
        self.contours[-1].append(tuple(round(part, 6) for part in at))

    def _curveToOne(self, one, two, end):
        start = self.contours[-1][-1]
        for step in range(1, STEPS + 1):
            t = step / STEPS
            u = 1 - t
            weights = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
            points = (start, one, two, end)
            self._lineTo(
                tuple(sum(w * p[axis] for w, p in zip(weights, points)) for axis in (0, 1))
            )


def signed(points):
    """Area by the shoelace formula, positive clockwise as seen where y runs down."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1])) / 2


def united(draw):
    path = pathops.Path()
    draw(path.getPen(glyphSet=None))
    path.simplify(fix_winding=True, clockwise=True)
    return path


def fonts(folder):
    files = [p for p in pathlib.Path(folder).rglob("*") if p.suffix in (".ttf", ".otf")]
    return {hashlib.sha256(p.read_bytes()).hexdigest(): p for p in files}


OPEN = {}


def glyphs(path, axes):
    key = (str(path), tuple(sorted(axes.items())))
    if key not in OPEN:
        font = TTFont(path)
        OPEN[key] = (font.getGlyphSet(location=axes), font.getGlyphOrder())
    return OPEN[key]


def reference(piece, line, known):
    """The row's glyphs from the font file, where the report places them."""

    def draw(pen):
        for glyph in piece["glyphs"]:
            font = line["font"] if glyph["font"] == 0 else line["other_fonts"][glyph["font"] - 1]
            glyph_set, order = glyphs(known[font["file_sha256"]], font["axes"])
            scale = piece["cap_height_mm"] / font["cap_units"] * UNIT
            place = (scale, 0, 0, -scale, glyph["x_mm"] * UNIT, glyph["y_mm"] * UNIT)
            whole = DecomposingRecordingPen(glyph_set)
            glyph_set[order[glyph["id"]]].draw(whole)
            whole.replay(TransformPen(pen, place))

    return abs(united(draw).area) / UNIT**2


def looked_at(data):
    def draw(pen):
        parse_path(data, TransformPen(pen, (UNIT, 0, 0, UNIT, 0, 0)))

    flat = Flat()
    draw(flat)
    whole = united(draw)
    exact = AreaPen()
    draw(exact)
    rings = [LinearRing(points) for points in flat.contours]
    polygons = [Polygon(points) for points in flat.contours]
    # A joint on the grid of 0.001 mm may fold over itself by less than is stated.
    folded = [abs(abs(signed(points)) - shapely.make_valid(polygon).area)
              for points, polygon in zip(flat.contours, polygons)]
    crossing = sum(not ring.is_simple and lost > LEFT * UNIT**2
                   for ring, lost in zip(rings, folded))
    tree = shapely.STRtree(rings)
    wrong = 0
    for index, (points, ring) in enumerate(zip(flat.contours, rings)):
        depth = 0
        for other in tree.query(ring):
            if other == index:
                continue
            if ring.crosses(rings[other]):
                one, two = polygons[index], polygons[other]
                parts = [one.intersection(two), one.difference(two), two.difference(one)]
                crossing += min(part.area for part in parts) > LEFT * UNIT**2
            depth += polygons[other].contains(ring)
        wrong += (signed(points) > 0) != (depth % 2 == 0)
    return {
        # fontTools counts anticlockwise as positive, y up: clockwise as seen, y down.
        "area": exact.value / UNIT**2,
        "union": abs(whole.area) / UNIT**2,
        "contours": len(flat.contours),
        "united": len(list(whole.contours)),
        "wrong": wrong,
        "crossing": crossing,
    }


def seen(text):
    return sum(not one.isspace() for one in regex.findall(r"\X", text))


def folder(path, known):
    path = pathlib.Path(path)
    report = json.loads((path / "report.json").read_text())
    root = ElementTree.parse(path / "artwork-mm.svg").getroot()
    [letters] = [g for g in root.iter(f"{SVG}g") if g.get("id") == "lettering"]
    drawn = [p.get("d") for p in letters.iter(f"{SVG}path")]
    pieces = [p for p in report["pieces"] if p["glyphs"]]
    rows = []
    for data, piece in zip(drawn, pieces, strict=True):
        row = looked_at(data)
        row["reference"] = reference(piece, report["lines"][piece["line"] - 1], known)
        row["text"] = piece["text"]
        row["characters"] = seen(piece["text"].replace("\u00ad", ""))
        rows.append(row)
    area, length = 0.0, 0.0
    for entity in ezdxf.readfile(path / "artwork-mm.dxf").modelspace():
        if entity.dxftype() == "POLYLINE" and entity.dxf.layer == "LETTERING":
            points = [(p.x, p.y) for p in entity.points()]
            area += signed(points)
            length += sum(math.dist(a, b) for a, b in zip(points, points[1:] + points[:1]))
    return {"rows": rows, "dxf_area": area, "dxf_length": length}


asked = json.load(sys.stdin)
known = fonts(asked["fonts"])
json.dump(
    {
        "versions": f"fontTools {fontTools.version}, skia-pathops {pathops.__version__}, "
        f"shapely {shapely.__version__}, ezdxf {ezdxf.__version__}, regex {regex.__version__}",
        "folders": [folder(path, known) for path in asked["made"]],
    },
    sys.stdout,
)
