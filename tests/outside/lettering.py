"""Shapes texts with HarfBuzz and measures glyphs with fontTools, for comparison.

Reads one JSON object from standard input:
  shape: list of {file, axes, features, texts}; features as HarfBuzz writes them
  ink:   list of {file, axes, glyphs}; glyphs by index
and writes one to standard output:
  versions: of HarfBuzz, uharfbuzz and fontTools
  shape: for each item and text a list of [glyph, cluster, x, y] and the advance
  ink:   for each item and glyph [x0, y0, x1, y1], or null without ink
Clusters are byte offsets, all lengths font units. Each text must be of one
direction and one script: HarfBuzz shapes it as a single run.
"""

import json
import sys

import fontTools
import uharfbuzz as hb
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont


def shaped(font, features, text):
    buffer = hb.Buffer()
    buffer.add_utf8(text.encode())
    buffer.guess_segment_properties()
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
    return [shaped(font, item["features"], text) for text in item["texts"]]


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


asked = json.load(sys.stdin)
json.dump(
    {
        "versions": f"HarfBuzz {hb.version_string()} by uharfbuzz {hb.__version__}, "
        f"fontTools {fontTools.version}",
        "shape": [shape(item) for item in asked["shape"]],
        "ink": [ink(item) for item in asked["ink"]],
    },
    sys.stdout,
)
