"""Boxes and areas of SVG paths by fontTools: an independent reading of the path data.

Reads {"drawings": [svg, …]} from standard input; writes the exact box of each drawing's
paths and their area by their own direction (outer contours less holes).
"""

import json
import sys

import fontTools
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import SVGPath

drawings = json.load(sys.stdin)["drawings"]
answer = []
for text in drawings:
    drawing = SVGPath.fromstring(text.encode())
    bounds, area = BoundsPen(None), AreaPen(None)
    drawing.draw(bounds)
    drawing.draw(area)
    answer.append({"box": list(bounds.bounds), "area": abs(area.value)})
json.dump({"versions": f"fontTools {fontTools.version}", "drawings": answer}, sys.stdout)
