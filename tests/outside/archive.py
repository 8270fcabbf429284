"""Reads an archive with Python's zipfile.

Reads one JSON object from standard input, `file`: its path, and writes one to standard
output:
  versions: of Python
  damaged: name of the first file whose bytes are not those of its checksum, or null
  files: for each name size, crc (of its bytes, by binascii) and date
"""

import binascii
import json
import platform
import sys
import zipfile

with zipfile.ZipFile(json.load(sys.stdin)["file"]) as archive:
    files = {
        one.filename: {
            "size": one.file_size,
            "crc": binascii.crc32(archive.read(one)),
            "dated": list(one.date_time),
        }
        for one in archive.infolist()
    }
    answer = {
        "versions": f"zipfile of Python {platform.python_version()}",
        "damaged": archive.testzip(),
        "files": files,
    }
json.dump(answer, sys.stdout)
