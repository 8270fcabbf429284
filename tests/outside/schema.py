"""Checks documents against a JSON Schema with the Python package jsonschema.

Reads one JSON object from standard input:
  schema:    a JSON Schema of draft 2020-12
  documents: list of documents
and writes one to standard output:
  versions: of jsonschema
  faults:   for each document the faults found, each as [path, message]; empty
            where it is valid
Fails where the schema itself is none by the draft's own schema.
"""

import json
import sys
from importlib.metadata import version

from jsonschema import Draft202012Validator

asked = json.load(sys.stdin)
Draft202012Validator.check_schema(asked["schema"])
validator = Draft202012Validator(
    asked["schema"], format_checker=Draft202012Validator.FORMAT_CHECKER
)
json.dump(
    {
        "versions": f"jsonschema {version('jsonschema')}",
        "faults": [
            [[fault.json_path, fault.message[:200]] for fault in validator.iter_errors(d)]
            for d in asked["documents"]
        ],
    },
    sys.stdout,
)
