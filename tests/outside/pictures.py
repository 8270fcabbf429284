"""Makes photographs with Pillow and by hand, and says what their pixels are.

Reads one JSON object from standard input:
  folder: where files may be written
and writes one to standard output:
  versions: of Pillow, LittleCMS, libjpeg and numpy
  pictures: for each file
    file: its name; wanted: name of a file with red, green and blue of each pixel
    width, height: upright
    most, mean: how far our pixels may be from these, the worst and on average
    facts: what is to be told of it, of the keys that matter for this file
  reduced: for each part of `source.png`
    crop, width, height: the part
    light: name of a file with its pixels as Pillow reduces them in light
    coded: the same reduced as coded

Profiles are written by hand (ICC.1:2022), so that curves, tables and primaries are what the
name says; what they do to pixels is LittleCMS's word, by Pillow's ImageCms.
"""

import io
import json
import pathlib
import struct
import sys
import zlib

import numpy as np
import PIL
from PIL import Image, ImageCms, ImageOps, features

# Seen by D50: sRGB (ICC's sRGB2014), and Adobe RGB (1998) by its own specification, annex A.
SRGB = [(0.43607, 0.22249, 0.01392), (0.38515, 0.71687, 0.09708), (0.14307, 0.06061, 0.71410)]
ADOBE = [(0.60974, 0.31111, 0.01947), (0.20528, 0.62567, 0.06087), (0.14919, 0.06322, 0.74457)]
SWAPPED = [SRGB[1], SRGB[2], SRGB[0]]

# Of the intents, the one for which LittleCMS does not stretch black of its own accord.
INTENT = ImageCms.Intent.RELATIVE_COLORIMETRIC

RNG = np.random.default_rng(20261128)


def scene(width=61, height=47):
    """A picture that looks like no turn of itself: slopes, a weave, a bright corner."""
    y, x = np.mgrid[0:height, 0:width]
    red = x * 255 / (width - 1)
    green = y * 255 / (height - 1)
    blue = ((x // 5 + y // 7) % 2) * 170 + 40
    picture = np.stack([red, green, blue], 2)
    picture[: height // 5, : width // 4] = (250, 240, 20)
    return picture.round().astype(np.uint8)


def smooth(width=64, height=48):
    """Slopes only, as JPEG keeps them well."""
    y, x = np.mgrid[0:height, 0:width]
    shade = [x * 200 / width + 30, y * 200 / height + 30, (x + y) * 200 / (width + height) + 20]
    return np.stack(shade, 2).round().astype(np.uint8)


def fixed(value):
    return struct.pack(">i", round(value * 65536))


def text(words):
    data = words.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"GB", len(data), 28) + data


def xyz(values):
    return b"XYZ \0\0\0\0" + b"".join(map(fixed, values))


def gamma(power):
    return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(power * 256)) + b"\0\0"


def curve(entries):
    data = struct.pack(f">{len(entries)}H", *entries)
    return b"curv\0\0\0\0" + struct.pack(">I", len(entries)) + data + b"\0" * (-len(data) % 4)


def formula(kind, *numbers):
    return b"para\0\0\0\0" + struct.pack(">HH", kind, 0) + b"".join(map(fixed, numbers))


def profile(space, kind, pcs, tags):
    """An ICC profile, version 4.3."""
    tags = {b"wtpt": xyz((0.9642, 1.0, 0.8249)), b"cprt": text("none")} | tags
    table, body = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        data += b"\0" * (-len(data) % 4)
        table += name + struct.pack(">II", start + len(body), len(data))
        body += data
    head = struct.pack(">I4sI4s4s4s", start + len(body), b"none", 0x04300000, kind, space, pcs)
    head += struct.pack(">6H", 2026, 11, 28, 0, 0, 0) + b"acsp" + b"\0" * 28
    head += b"".join(map(fixed, (0.9642, 1.0, 0.8249)))
    return head + b"\0" * (128 - len(head)) + struct.pack(">I", len(tags)) + table + body


def shaper(name, primaries, curves):
    names = [b"rXYZ", b"gXYZ", b"bXYZ"]
    tags = {b"desc": text(name)} | dict(zip(names, map(xyz, primaries)))
    tags |= dict(zip([b"rTRC", b"gTRC", b"bTRC"], curves))
    return profile(b"RGB ", b"mntr", b"XYZ ", tags)


def inks(name, steps=9):
    """Four inks to Lab by a table (mft2): inks that darken unlike plain ones."""
    grid = np.stack(np.meshgrid(*[np.linspace(0, 1, steps)] * 4, indexing="ij"), -1)
    c, m, y, k = np.moveaxis(grid, -1, 0)
    light = 100 * (1 - 0.35 * c) * (1 - 0.5 * m) * (1 - 0.08 * y) * (1 - 0.9 * k)
    a = (-35 * c + 70 * m - 4 * y) * (1 - k)
    b = (-45 * c - 5 * m + 85 * y) * (1 - k)
    lab = np.stack([light / 100 * 65280, (a + 128) * 256, (b + 128) * 256], -1)
    table = lab.round().clip(0, 65535).astype(">u2").tobytes()
    line = struct.pack(">HH", 0, 65535)
    head = b"mft2\0\0\0\0" + bytes([4, 3, steps, 0])
    head += b"".join(map(fixed, (1, 0, 0, 0, 1, 0, 0, 0, 1))) + struct.pack(">HH", 2, 2)
    tags = {b"desc": text(name), b"A2B0": head + line * 4 + table + line * 3}
    return profile(b"CMYK", b"prtr", b"Lab ", tags)


def png(array, depth, kind, chunks=()):
    """A PNG by hand, with 16 bits, which Pillow does not write in colour."""
    def chunk(name, data):
        crc = zlib.crc32(name + data)
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", crc)

    height, width = array.shape[:2]
    rows = array.astype(">u2" if depth == 16 else "u1").reshape(height, -1)
    data = zlib.compress(b"".join(b"\0" + row.tobytes() for row in rows))
    head = struct.pack(">IIBBBBB", width, height, depth, kind, 0, 0, 0)
    parts = [(b"IHDR", head), *chunks, (b"IDAT", data), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(*part) for part in parts)


def decode(coded):
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def encode(light):
    light = light.clip(0, 1)
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)


class Made:
    """Files with what their pixels are."""

    def __init__(self, folder):
        self.folder = folder
        self.pictures = []

    def add(self, name, data, wanted, most=0, mean=0.0, **facts):
        if isinstance(wanted, Image.Image):
            wanted = np.asarray(wanted.convert("RGB"))
        (self.folder / name).write_bytes(data)
        (self.folder / f"{name}.rgb").write_bytes(np.ascontiguousarray(wanted).tobytes())
        height, width = wanted.shape[:2]
        told = {"file": name, "wanted": f"{name}.rgb", "width": width, "height": height}
        self.pictures.append(told | {"most": most, "mean": mean, "facts": facts})


def saved(image, kind, **options):
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def opened(data):
    image = Image.open(io.BytesIO(data))
    image.load()
    return image


def laid_over_white(image):
    white = Image.new("RGBA", image.size, (255, 255, 255, 255))
    return Image.alpha_composite(white, image.convert("RGBA"))


def turned(made):
    """The eight orientations in all four formats."""
    image = Image.fromarray(scene())
    for turn in range(1, 9):
        exif = Image.Exif()
        exif[0x0112] = turn
        options = {"exif": exif}
        jpeg = saved(image, "JPEG", quality=95, subsampling=0, **options)
        upright = ImageOps.exif_transpose(opened(jpeg))
        made.add(f"turn{turn}.jpg", jpeg, upright, most=2, mean=0.1, orientation=turn)
        files = {
            "png": saved(image, "PNG", **options),
            "webp": saved(image, "WEBP", lossless=True, **options),
            "tif": saved(image, "TIFF", compression="tiff_lzw", tiffinfo={0x0112: turn}),
        }
        for ending, data in files.items():
            upright = ImageOps.exif_transpose(opened(data))
            made.add(f"turn{turn}.{ending}", data, upright, orientation=turn)


def plain(made):
    """Kinds of pixels without profiles."""
    image = Image.fromarray(scene())
    alpha = image.convert("RGBA")
    alpha.putalpha(Image.fromarray(scene()[:, :, 1]))
    for name, compression in [("lzw", "tiff_lzw"), ("deflate", "tiff_adobe_deflate"),
                              ("packbits", "packbits"), ("raw", "raw")]:
        for mode in ["RGB", "L", "CMYK"]:
            kind = image.convert(mode)
            data = saved(kind, "TIFF", compression=compression)
            made.add(f"{name}-{mode}.tif", data, kind)
    faxed = image.convert("1")
    made.add("fax.tif", saved(faxed, "TIFF", compression="group4"), faxed, bits=1)
    made.add("bits.tif", saved(faxed, "TIFF"), faxed, bits=1)
    made.add("bits.png", saved(faxed, "PNG"), faxed, bits=1, colours="grey")
    for mode in ["RGBA", "LA"]:
        kind = alpha.convert(mode)
        for ending, form in [("png", "PNG"), ("tif", "TIFF")]:
            data = saved(kind, form)
            wanted = laid_over_white(kind)
            made.add(f"clear-{mode}.{ending}", data, wanted, over_white=True)
    # Otherwise Pillow lets go of the colour of what cannot be seen.
    clear = saved(alpha, "WEBP", lossless=True, exact=True)
    made.add("clear.webp", clear, laid_over_white(alpha), over_white=True)
    listed = image.quantize(16)
    made.add("list.png", saved(listed, "PNG"), listed, colours="a list of colours")
    woven = saved(image, "PNG")
    made.add("named-wrongly.jpg", woven, image, format="PNG")
    for name, options in [("base", {}), ("progressive", {"progressive": True}),
                          ("restart", {"restart_marker_blocks": 3})]:
        for sampling in [0, 2]:
            slopes = Image.fromarray(smooth())
            data = saved(slopes, "JPEG", quality=90, subsampling=sampling, **options)
            made.add(f"{name}{sampling}.jpg", data, opened(data), most=4, mean=0.4)
    data = saved(image.convert("L"), "JPEG", quality=90)
    made.add("grey.jpg", data, opened(data), most=1, mean=0.1, colours="grey")
    data = saved(Image.fromarray(smooth()), "WEBP", quality=85)
    made.add("lossy.webp", data, opened(data))


def deep(made):
    """Sixteen bits, rounded to eight."""
    wide = RNG.integers(0, 65536, (23, 31, 4))
    eight = (wide / 257.0 + 0.5).astype(np.uint8)
    grey = np.repeat(eight[:, :, :1], 3, 2)
    made.add("deep-grey.png", png(wide[:, :, 0], 16, 0), grey, bits=16, colours="grey")
    image = Image.fromarray(wide[:, :, 0].astype(np.uint16))
    made.add("deep-pillow.png", saved(image, "PNG"), grey, bits=16)
    made.add("deep-grey.tif", saved(image, "TIFF"), grey, bits=16)
    made.add("deep-rgb.png", png(wide[:, :, :3], 16, 2), eight[:, :, :3], bits=16)
    share = wide[:, :, 3:] / 65535
    laid = wide[:, :, :3] / 257.0 * share + 255 * (1 - share)
    made.add("deep-alpha.png", png(wide, 16, 6), (laid + 0.5).astype(np.uint8), most=1,
             mean=0.2, over_white=True)
    laid = np.repeat(wide[:, :, :1] / 257.0 * share + 255 * (1 - share), 3, 2)
    made.add("deep-grey-alpha.png", png(wide[:, :, [0, 3]], 16, 4),
             (laid + 0.5).astype(np.uint8), most=1, mean=0.2, over_white=True)


def coloured(made):
    """Profiles, as LittleCMS has them."""
    srgb = ImageCms.createProfile("sRGB")
    table = [round(65535 * (at / 1023) ** 2.6) for at in range(1024)]
    parts = formula(3, 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    profiles = {
        "adobe": shaper("Like Adobe RGB", ADOBE, [gamma(2.19921875)] * 3),
        "swapped": shaper("Swapped", SWAPPED, [parts] * 3),
        "linear": shaper("Linear", SRGB, [curve([])] * 3),
        "table": shaper("Table", SRGB, [curve(table), gamma(1.8), parts]),
        "power": shaper("Power", ADOBE, [formula(0, 1.8), formula(1, 2.0, 0.9, 0.1),
                                         formula(4, 2.2, 0.9, 0.08, 0.3, 0.05, 0.01, 0.0)]),
    }
    image = Image.fromarray(scene())
    for name, data in profiles.items():
        source = ImageCms.ImageCmsProfile(io.BytesIO(data))
        wanted = ImageCms.profileToProfile(image, source, srgb, INTENT)
        for ending, form, options in [("png", "PNG", {}), ("tif", "TIFF", {}),
                                      ("webp", "WEBP", {"lossless": True})]:
            file = saved(image, form, icc_profile=data, **options)
            made.add(f"{name}.{ending}", file, wanted, most=1, mean=0.1, profile="used")
        jpeg = saved(Image.fromarray(smooth()), "JPEG", quality=95, subsampling=0, icc_profile=data)
        wanted = ImageCms.profileToProfile(opened(jpeg), source, srgb, INTENT)
        made.add(f"{name}.jpg", jpeg, wanted, most=6, mean=0.1, profile="used")
    own = ImageCms.ImageCmsProfile(srgb).tobytes()
    made.add("own.png", saved(image, "PNG", icc_profile=own), image, profile="used")
    grey = profile(b"GRAY", b"mntr", b"XYZ ", {b"desc": text("Grey"), b"kTRC": gamma(1.8)})
    source = ImageCms.ImageCmsProfile(io.BytesIO(grey))
    way = ImageCms.buildTransform(source, srgb, "L", "RGB", INTENT)
    shades = image.convert("L")
    made.add("grey-profile.png", saved(shades, "PNG", icc_profile=grey),
             ImageCms.applyTransform(shades, way), most=1, mean=0.1, profile="used")
    made.add("for-other.png", saved(shades, "PNG", icc_profile=own), shades,
             profile="it is for another kind of colour than the picture's")
    broken = profiles["adobe"][:300]
    made.add("broken.png", saved(image, "PNG", icc_profile=broken), image, profile="it is damaged")
    jpeg = saved(image, "JPEG", quality=95, subsampling=0, icc_profile=broken)
    made.add("broken.jpg", jpeg, opened(jpeg), most=2, mean=0.1, profile="it is damaged")


def printed(made):
    """Four inks, with and without a profile, and as YCCK."""
    paint = np.dstack([smooth(), (smooth()[:, :, 0] * 0.6)]).astype(np.uint8)
    image = Image.fromarray(paint, "CMYK")
    data = saved(image, "JPEG", quality=95)
    made.add("inks.jpg", data, opened(data), most=2, mean=0.1, colours="CMYK")
    # The same numbers said to be YCCK: a byte of Adobe's mark.
    at = data.index(b"Adobe") + 11
    assert data[at] == 0, "Pillow writes plain CMYK"
    other = data[:at] + b"\2" + data[at + 1:]
    made.add("ycck.jpg", other, opened(other), most=2, mean=0.1, colours="CMYK")
    table = inks("Press")
    source = ImageCms.ImageCmsProfile(io.BytesIO(table))
    srgb = ImageCms.createProfile("sRGB")
    way = ImageCms.buildTransform(source, srgb, "CMYK", "RGB", INTENT)
    for name, form, options in [("press.jpg", "JPEG", {"quality": 95}), ("press.tif", "TIFF", {})]:
        data = saved(image, form, icc_profile=table, **options)
        wanted = ImageCms.applyTransform(opened(data), way)
        # LittleCMS cuts the table's cells into tetrahedra, moxcms does not.
        made.add(name, data, wanted, most=4, mean=0.8, colours="CMYK", profile="used")


def reduced(folder):
    """Parts of one picture at other sizes, in light and as coded."""
    y, x = np.mgrid[0:240, 0:320]
    rings = 127.5 + 127.5 * np.sin((x * x + y * y) / 300)
    weave = (x + y) % 2 * 255
    picture = np.stack([rings, np.where(x < 160, weave, x * 0.7), RNG.integers(0, 256, x.shape)], 2)
    picture = picture.round().astype(np.uint8)
    Image.fromarray(picture).save(folder / "source.png")

    def resized(planes, size, crop):
        planes = [Image.fromarray(plane.astype(np.float32)) for plane in np.moveaxis(planes, 2, 0)]
        planes = [plane.resize(size, Image.Resampling.LANCZOS, crop) for plane in planes]
        return np.stack([np.asarray(plane, dtype=float) for plane in planes], 2)

    parts = []
    wishes = [((0, 0, 320, 240), 80, 60), ((0, 0, 320, 240), 97, 41),
              ((10.25, 7.5, 201.75, 180.125), 64, 48), ((100, 100, 130, 120), 90, 60)]
    for at, (crop, width, height) in enumerate(wishes):
        size = (width, height)
        light = encode(resized(decode(picture / 255), size, crop)) * 255
        coded = resized(picture, size, crop)
        names = {"light": f"light{at}.rgb", "coded": f"coded{at}.rgb"}
        for name, pixels in zip(names.values(), [light, coded]):
            (folder / name).write_bytes((pixels.clip(0, 255) + 0.5).astype(np.uint8).tobytes())
        parts.append({"crop": crop, "width": width, "height": height} | names)
    return parts


def main():
    question = json.load(sys.stdin)
    folder = pathlib.Path(question["folder"])
    made = Made(folder)
    for some in [turned, plain, deep, coloured, printed]:
        some(made)
    libraries = ["jpg", "littlecms2", "webp", "libtiff"]
    told = [f"{name} {features.version(name)}" for name in libraries]
    versions = ", ".join([f"Pillow {PIL.__version__}", *told, f"numpy {np.__version__}"])
    json.dump({"versions": versions, "pictures": made.pictures, "reduced": reduced(folder)},
              sys.stdout)


main()
