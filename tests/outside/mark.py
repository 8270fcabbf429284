"""Works out proof marks from reports alone, with nothing but Python's own library.

Reads one JSON object from standard input:
  reports: list of reports of ansata (report.json, or what `ansata fit --json` prints)
and writes one to standard output:
  versions: of Python
  marks:    for each report the proof mark that its part `cut` gives

The mark: SHA-256 over tags (ASCII and a line feed), lengths (whole micrometres, eight bytes,
signed, the least byte first) and paths (a letter for each step, M L Q C Z, and its points in
their places), the first 50 bits in base 32 (RFC 4648).
"""

import base64
import hashlib
import json
import re
import struct
import sys

POINTS = {"M": 1, "l": 1, "q": 2, "c": 3, "z": 0}


def length(value):
    return struct.pack("<q", value)


def path(text, dx=0, dy=0):
    """The bytes of a path of SVG, moved; all but M is told from the point before."""
    assert re.fullmatch(r"([Mlqcz][-0-9 ]*)*", text), text
    digested, here, began = b"", (0, 0), (0, 0)
    for letter, figures in re.findall(r"([Mlqcz])([-0-9 ]*)", text):
        figures = [int(figure) for figure in figures.split()]
        assert len(figures) == 2 * POINTS[letter], (letter, figures)
        from_x, from_y = (0, 0) if letter == "M" else here
        points = [(from_x + x, from_y + y) for x, y in zip(figures[::2], figures[1::2])]
        digested += letter.upper().encode()
        for x, y in points:
            digested += length(x + dx) + length(y + dy)
        here = points[-1] if points else began
        if letter == "M":
            began = here
    return digested


def mark(cut):
    assert cut["unit"] == "micrometre", cut["unit"]
    digested = b"ansata-mark 1\n"
    digested += b"outline\n" + path(cut["outline"])
    if cut["bevel"]:
        digested += b"bevel\n" + length(cut["bevel"])
    digested += b"border\n"
    if cut["border"] is not None:
        for line in cut["border"]:
            digested += path(line)
        digested += length(cut["border_weight"])
    digested += b"holes\n"
    for hole in cut["holes"]:
        for key in ["x", "y", "diameter", "head_diameter"]:
            digested += length(hole[key])
        if hole["slot"] is not None:
            digested += b"slot\n" + length(hole["slot"][0]) + length(hole["slot"][1])
    if cut["from_behind"]:
        digested += b"from behind\n"
    digested += b"lettering\n"
    if cut["raised"]:
        digested += b"raised\n"
    for row in cut["rows"]:
        for glyph in row.split(", ") if row else []:
            shape, x, y = map(int, glyph.split())
            digested += path(cut["shapes"][shape], x, y)
    if cut["decoration"]:
        digested += b"decoration\n"
        for drawing in cut["decoration"]:
            digested += path(drawing)
    for photo in cut["photos"]:
        digested += b"photo\n" + photo["file_sha256"].encode() + b"\n"
        digested += photo["made"].encode() + b"\n"
        for side in photo["crop"]:
            digested += length(side)
        digested += path(photo["outline"])
        if photo["pocket"] is not None:
            digested += b"pocket\n" + path(photo["pocket"])
        for engraved in photo["engraved"]:
            digested += b"engraved\n" + path(engraved)
    return base64.b32encode(hashlib.sha256(digested).digest()).decode()[:10]


asked = json.load(sys.stdin)
json.dump(
    {
        "versions": f"Python {sys.version.split()[0]}",
        "marks": [mark(report["cut"]) for report in asked["reports"]],
    },
    sys.stdout,
)
