"""Shapes texts with HarfBuzz and measures glyphs with fontTools, for comparison.

Reads one JSON object from standard input:
  shape: list of {file, axes, features, texts} and perhaps language; features as HarfBuzz
         writes them
  ink:   list of {file, axes, glyphs}; glyphs by index
  facts: list of {file, axes, letters}; letters whose top is asked for
  centre_lines: list of SVG fonts
and writes one to standard output:
  versions: of HarfBuzz, uharfbuzz and fontTools
  shape: for each item and text a list of [glyph, cluster, x, y] and the advance
  ink:   for each item and glyph [x0, y0, x1, y1], or null without ink
  facts: for each item {ranges, named, fs_type, licence, o_to_i, tops, features}: axes
         with least and greatest value; named instances with their places; fsType;
         whether there is a name 13 or 14; width of O over height of I; top of each
         letter; features of GSUB
  centre_lines: for each the feet of its flat capitals and boxes of printable ASCII
Clusters are byte offsets, all lengths font units. Each text must be of one
direction and one script: HarfBuzz shapes it as a single run.
"""

import json
import statistics
import sys
import xml.etree.ElementTree

import fontTools
import uharfbuzz as hb
from fontTools.pens.boundsPen import BoundsPen, ControlBoundsPen
from fontTools.svgLib.path import parse_path
from fontTools.ttLib import TTFont


def shaped(font, features, language, text):
    buffer = hb.Buffer()
    buffer.add_utf8(text.encode())
    buffer.guess_segment_properties()
    if language:
        buffer.language = language
    hb.shape(font, buffer, {f.lstrip("+-"): not f.startswith("-") for f in features})
    pen, glyphs = 0, []
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions):
        glyphs.append(
            [info.codepoint, info.cluster, pen + position.x_offset, position.y_offset]
        )
        pen += position.x_advance
    return {"glyphs": glyphs, "advance": pen}


def shape(item):
    font = hb.Font(hb.Face(hb.Blob.from_file_path(item["file"])))
    font.set_variations(item["axes"])
    language = item.get("language")
    return [shaped(font, item["features"], language, text) for text in item["texts"]]


def ink(item):
    font = TTFont(item["file"])
    glyphs, order, boxes = (
        font.getGlyphSet(location=item["axes"]),
        font.getGlyphOrder(),
        [],
    )
    for glyph in item["glyphs"]:
        pen = BoundsPen(glyphs)
        glyphs[order[glyph]].draw(pen)
        boxes.append(pen.bounds)
    return boxes


def facts(item):
    font = TTFont(item["file"])
    glyphs, cmap = font.getGlyphSet(location=item["axes"]), font.getBestCmap()

    def box(letter):
        pen = BoundsPen(glyphs)
        glyphs[cmap[ord(letter)]].draw(pen)
        return pen.bounds

    o, i = box("O"), box("I")
    variable, names = font.get("fvar"), font["name"]
    substitutions = font["GSUB"].table.FeatureList if "GSUB" in font else None
    return {
        "ranges": {a.axisTag: [a.minValue, a.maxValue] for a in variable.axes}
        if variable
        else {},
        "named": [
            [names.getDebugName(instance.subfamilyNameID), instance.coordinates]
            for instance in (variable.instances if variable else [])
        ],
        "fs_type": font["OS/2"].fsType,
        "licence": any(names.getDebugName(id) for id in (13, 14)),
        "o_to_i": (o[2] - o[0]) / (i[3] - i[1]),
        "tops": [box(letter)[3] for letter in item["letters"]],
        "features": sorted({r.FeatureTag for r in substitutions.FeatureRecord})
        if substitutions
        else [],
    }


def centre_lines(path):
    """Boxes of the printable ASCII glyphs of an SVG font, and where its flat capitals stand:
    on the median of their feet, if these are on one line."""
    root = xml.etree.ElementTree.parse(path).getroot()
    boxes = {}
    for glyph in root.iter("{http://www.w3.org/2000/svg}glyph"):
        pen = ControlBoundsPen(None)
        parse_path(glyph.get("d", ""), pen)
        if pen.bounds and "!" <= glyph.get("unicode") <= "~":
            boxes[glyph.get("unicode")] = pen.bounds
    feet = [boxes[letter][1] for letter in "EFHITZ"]
    level = max(feet) - min(feet) <= 30
    return {"foot": statistics.median(feet) if level else 0, "glyphs": boxes}


asked = json.load(sys.stdin)
json.dump(
    {
        "versions": f"HarfBuzz {hb.version_string()} by uharfbuzz {hb.__version__}, "
        f"fontTools {fontTools.version}",
        "shape": [shape(item) for item in asked.get("shape", [])],
        "ink": [ink(item) for item in asked.get("ink", [])],
        "facts": [facts(item) for item in asked.get("facts", [])],
        "centre_lines": [centre_lines(path) for path in asked.get("centre_lines", [])],
    },
    sys.stdout,
)
