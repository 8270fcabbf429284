"""Reads DXF files with the Python package ezdxf and looks for faults with its audit.

Reads one JSON object from standard input:
  files: list of paths
and writes one to standard output:
  versions: of ezdxf
  drawings: for each file
    version:  of the format, such as AC1009
    units:    $INSUNITS; metric: $MEASUREMENT
    errors, fixes: what the audit found and what it had to mend, as text
    layers:   names of the layer table, with their colours
    extent:   $EXTMIN and $EXTMAX
    circles:  [layer, x, y, radius]
    outlines: [layer, closed, [[x, y], ...]]
    others:   kinds of all other entities
"""

import json
import sys

import ezdxf
from ezdxf import recover


def drawing(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    circles, outlines, others = [], [], []
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        if kind == "CIRCLE":
            centre = entity.dxf.center
            circles.append([layer, centre.x, centre.y, entity.dxf.radius])
        elif kind == "POLYLINE":
            points = [[p.x, p.y] for p in entity.points()]
            outlines.append([layer, bool(entity.is_closed), points])
        else:
            others.append(kind)
    # The reader that mends what it can must find nothing to mend either.
    _, mended = recover.readfile(path)
    header = document.header
    return {
        "version": document.dxfversion,
        "units": header["$INSUNITS"],
        "metric": header["$MEASUREMENT"],
        "errors": [str(e.message) for e in audit.errors + mended.errors],
        "fixes": [str(e.message) for e in audit.fixes + mended.fixes],
        "layers": {layer.dxf.name: layer.color for layer in document.layers},
        "extent": [list(header["$EXTMIN"]), list(header["$EXTMAX"])],
        "circles": circles,
        "outlines": outlines,
        "others": others,
    }


asked = json.load(sys.stdin)
json.dump(
    {
        "versions": f"ezdxf {ezdxf.__version__}",
        "drawings": [drawing(path) for path in asked["files"]],
    },
    sys.stdout,
)
