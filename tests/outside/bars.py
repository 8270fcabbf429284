"""A small font of bars, combs, a ring and wedges of known width, for the measure of strokes.

Usage: python bars.py FILE. Units 1000 to the em, capitals 700 high. Widths, units:
  E  a stem of 90, three arms of 40; 320 and 260 of ground between them
  F  a stem of 90, two arms of 25; 290 of ground as deep, 300 wide: no counter
  H  two stems of 120 with 300 between, a bar of 33
  I  a bar of 55
  T  a bar of 70 across, a stem of 84
  Z  a bar of 48 that lies at 45 degrees
  O  a ring of two circles, radii 350 and 290: a wall of 60
  o  a ring of radii 200 and 60: a counter of 120
  V  a wedge of 40 degrees, 700 high: as thick as the ball in it
  W  two wedges of ground, 30 degrees, cut from a block: no counter
  X  a comb of 3000 teeth: more edges than any letter has
"""

import math
import sys

from fontTools import version
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

ARCS = 32  # quadratic curves to a circle: they leave it by a millionth of its radius
FINE = 16  # units are whole: letters are drawn this many times finer


def drawn(contours):
    pen = TTGlyphPen(None)
    for contour in contours:
        points = [(round(x * FINE), round(y * FINE)) for x, y in contour]
        pen.moveTo(points[0])
        if isinstance(contour, Circle):
            for at in range(1, len(points), 2):
                pen.qCurveTo(points[at], points[(at + 1) % len(points)])
        else:
            for point in points[1:]:
                pen.lineTo(point)
        pen.closePath()
    return pen.glyph()


class Circle(list):
    """Points on a circle and, between two of them, where their tangents meet."""


def bar(x, y, width, height):
    return [(x, y), (x, y + height), (x + width, y + height), (x + width, y)]


def circle(x, y, radius, hole=False):
    turn = math.pi / ARCS * (1 if hole else -1)
    outer = radius / math.cos(turn)
    return Circle(
        (x + r * math.cos(turn * at), y + r * math.sin(turn * at))
        for at in range(2 * ARCS)
        for r in [outer if at % 2 else radius]
    )


def slanted(width):
    """A bar at 45 degrees from the baseline to 700."""
    off = width / math.sqrt(2)
    run = 700 - off
    return [(off, 0), (0, off), (run, 700), (700, run)]


half = 700 * math.tan(math.radians(20))
notch = 600 * math.tan(math.radians(15))
teeth = [
    point
    for at in range(3000)
    for point in ((at / 4, 600), (at / 4 + 1 / 16, 700), (at / 4 + 1 / 8, 600))
]
LETTERS = {
    "E": [bar(0, 0, 90, 700), bar(0, 0, 480, 40), bar(0, 360, 480, 40), bar(0, 660, 480, 40)],
    "F": [bar(0, 0, 90, 700), bar(0, 675, 430, 25), bar(0, 350, 380, 25)],
    "H": [bar(0, 0, 120, 700), bar(420, 0, 120, 700), bar(60, 333, 420, 33)],
    "I": [bar(0, 0, 55, 700)],
    "T": [bar(0, 630, 500, 70), bar(208, 0, 84, 700)],
    "Z": [slanted(48)],
    "O": [circle(350, 350, 350), circle(350, 350, 290, True)],
    "o": [circle(200, 200, 200), circle(200, 200, 60, True)],
    "V": [[(half, 0), (0, 700), (2 * half, 700)]],
    "W": [
        [
            (0, 0),
            (0, 700),
            (200, 700),
            (200 + notch, 100),
            (200 + 2 * notch, 700),
            (400 + 2 * notch, 700),
            (400 + 3 * notch, 100),
            (400 + 4 * notch, 700),
            (600 + 4 * notch, 700),
            (600 + 4 * notch, 0),
        ]
    ],
    "X": [[(0, 0), *teeth, (750, 0)]],
}


def main():
    order = [".notdef", "space", *LETTERS]
    font = FontBuilder(1000 * FINE, isTTF=True)
    font.setupGlyphOrder(order)
    font.setupCharacterMap({32: "space", **{ord(letter): letter for letter in LETTERS}})
    glyphs = {name: drawn(LETTERS.get(name, [])) for name in order}
    font.setupGlyf(glyphs)
    wide = {name: (800 * FINE, 0) for name in order}
    for name, contours in LETTERS.items():
        right = max(x for contour in contours for x, _ in contour)
        wide[name] = (round((right + 100) * FINE), 0)
    font.setupHorizontalMetrics(wide)
    font.setupHorizontalHeader(ascent=800 * FINE, descent=-200 * FINE)
    font.setupNameTable({"familyName": "Bars", "styleName": "Regular"})
    font.setupOS2(sTypoAscender=800 * FINE, sTypoDescender=-200 * FINE)
    font.setupPost()
    font.save(sys.argv[1])
    print(f"fontTools {version}")


main()
