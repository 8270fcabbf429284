"""Screens and tone, worked out again with numpy, Pillow and scikit-image.

Reads one JSON object from standard input; pictures are {width, height, levels} with levels
as hexadecimal bytes, dots are {width, height, rows} with rows as hexadecimal bytes, each
row filled up to whole bytes:
  diffused: list of {picture, kernel, least}
  held:     list of {dots, least, square}
  rulings:  list of {dots, per_mm}: dots of the process on a millimetre
  toned:    list of {picture, black, white}
  clahe:    list of {picture, tiles: [across, down], clip}
  sharp:    list of {picture, radius, amount}
and writes one to standard output:
  versions
  diffused: for each, the dots of a plain listing; the share that is dark; and the share that
            Pillow's own Floyd-Steinberg makes of the same light
  held:     for each, how many made dots, and how many left ones, lie in no mark of their kind
  rulings:  for each, the ruling per mm and the angle of its strongest wave, degrees from 0 to
            90, across the rows
  toned, clahe, sharp: for each, the picture
"""

import json
import sys

import numpy as np
import PIL
import skimage
from PIL import Image
from skimage import exposure, filters

# As printed, the star standing for the dot itself: Floyd and Steinberg 1976, figure 3;
# Jarvis, Judice and Ninke 1976; Stucki 1981; Sierra 1989.
KERNELS = {
    "FloydSteinberg": """
        . * 7
        3 5 1""",
    "JarvisJudiceNinke": """
        . . * 7 5
        3 5 7 5 3
        1 3 5 3 1""",
    "Stucki": """
        . . * 8 4
        2 4 8 4 2
        1 2 4 2 1""",
    "Sierra": """
        . . * 5 3
        2 4 5 4 2
        . 2 3 2 .""",
}
WHOLE = 65536
RUN_IN = 64


def levels(picture):
    flat = np.frombuffer(bytes.fromhex(picture["levels"]), np.uint8)
    return flat.reshape(picture["height"], picture["width"])


def dots(made):
    rows = np.frombuffer(bytes.fromhex(made["rows"]), np.uint8)
    bits = np.unpackbits(rows.reshape(made["height"], -1), axis=1)
    return bits[:, : made["width"]].astype(bool)


def darkness(picture):
    """Of white's light, what a level lacks: IEC 61966-2-1."""
    coded = levels(picture) / 255
    light = np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)
    return 1 - light


def neighbours(name):
    grid = [row.split() for row in KERNELS[name].strip().splitlines()]
    middle = grid[0].index("*")
    return [
        (x - middle, y, int(weight))
        for y, row in enumerate(grid)
        for x, weight in enumerate(row)
        if weight not in ".*"
    ]


def toward_zero(number, by):
    return number // by if number >= 0 else -(-number // by)


def unrest(x, y):
    """Murmur3's finalizer, as hundredths of a dot."""
    mixed = (y << 32) ^ x
    for factor in (0xFF51AFD7ED558CCD, 0xC4CEB9FE1A85EC53):
        mixed = ((mixed ^ mixed >> 33) * factor) % 2**64
    return toward_zero(((mixed >> 48) - 32768) * 30, 32768)


def diffused(case):
    asked = np.rint(darkness(case["picture"]) * WHOLE).astype(int)
    least = case["least"]
    height, width = asked.shape
    columns, rows = max(width // least, 1), max(height // least, 1)
    across = [width * x // columns for x in range(columns + 1)]
    down = [height * y // rows for y in range(rows + 1)]
    order = list(range(rows))
    while len(order) < RUN_IN + rows:
        order = (order[:rows][::-1] + order) if (len(order) // rows) % 2 else (list(range(rows)) + order)
    order = order[len(order) - RUN_IN - rows :]
    made = np.zeros(asked.shape, bool)
    owed = {}
    for step, row in enumerate(order):
        way = -1 if step % 2 else 1
        for x in range(columns)[::way]:
            cell = np.s_[down[row] : down[row + 1], across[x] : across[x + 1]]
            whole = WHOLE * asked[cell].size
            due = int(asked[cell].sum()) + owed.pop((x, step), 0)
            on = 200 * due >= whole * (100 + unrest(x, step))
            if step >= RUN_IN:
                made[cell] = on
            left = due - whole * on
            near = [
                (x + way * dx, step + dy, weight)
                for dx, dy, weight in neighbours(case["kernel"])
                if 0 <= x + way * dx < columns
            ]
            weights = sum(weight for *_, weight in near)
            for there, below, weight in near:
                part = toward_zero(left * weight, weights)
                owed[there, below] = owed.get((there, below), 0) + part
                left -= part
                weights -= weight
    light = Image.fromarray(np.rint(255 * (1 - darkness(case["picture"]))).astype(np.uint8))
    theirs = 1 - np.asarray(light.convert("1")).mean()
    return {
        "rows": np.packbits(made, axis=1).tobytes().hex(),
        "dark": float(darkness(case["picture"]).mean()),
        "pillow": float(theirs),
    }


def mark(least, square):
    off = 2 * np.arange(least) + 1 - least
    return np.ones((least, least), bool) if square else off[:, None] ** 2 + off**2 <= least**2


def alone(made, shape):
    """Dots in no mark of their kind whose middle lies in the picture."""
    least, (height, width) = len(shape), made.shape
    middle = (least - 1) // 2
    places = [(y - middle, x - middle) for y, x in zip(*np.nonzero(shape))]
    around = np.pad(made, least, constant_values=True)
    fits = np.ones_like(made)
    for y, x in places:
        fits &= around[least + y : least + y + height, least + x : least + x + width]
    around = np.pad(fits, least)
    covered = np.zeros_like(made)
    for y, x in places:
        covered |= around[least - y : least - y + height, least - x : least - x + width]
    return int((made & ~covered).sum())


def held(case):
    made, shape = dots(case["dots"]), mark(case["least"], case["square"])
    return [alone(made, shape), alone(~made, shape)]


def ruling(case):
    made = dots(case["dots"]).astype(float)
    made -= made.mean()
    height, width = made.shape
    window = np.hanning(height)[:, None] * np.hanning(width)
    size = 4096
    waves = np.abs(np.fft.rfft2(made * window, (size, size)))
    y, x = np.unravel_index(waves.argmax(), waves.shape)
    fy, fx = (y - size if y > size // 2 else y) / size, x / size
    return {
        "per_mm": float(np.hypot(fx, fy) * case["per_mm"]),
        "angle": float(np.degrees(np.arctan2(fy, fx)) % 90),
    }


def toned(case):
    grey = levels(case["picture"]).astype(float)
    flat = grey.ravel()
    low = np.percentile(flat, 100 * case["black"], method="inverted_cdf")
    high = 255 - np.percentile(255 - flat, 100 * case["white"], method="inverted_cdf")
    return packed((grey - low) / (high - low) * 255)


def clahe(case):
    grey = levels(case["picture"])
    size = [grey.shape[0] // case["tiles"][1], grey.shape[1] // case["tiles"][0]]
    clip = case["clip"] / 256
    return packed(255 * exposure.equalize_adapthist(grey, kernel_size=size, clip_limit=clip))


def sharp(case):
    grey = levels(case["picture"])
    radius, amount = case["radius"], case["amount"]
    return packed(filters.unsharp_mask(grey, radius, amount, preserve_range=True))


def packed(grey):
    return np.clip(np.rint(grey), 0, 255).astype(np.uint8).tobytes().hex()


question = json.load(sys.stdin)
works = {
    "diffused": diffused,
    "held": held,
    "rulings": ruling,
    "toned": toned,
    "clahe": clahe,
    "sharp": sharp,
}
answer = {name: [work(case) for case in question.get(name, [])] for name, work in works.items()}
answer["versions"] = (
    f"numpy {np.__version__}, Pillow {PIL.__version__}, scikit-image {skimage.__version__}"
)
json.dump(answer, sys.stdout)
