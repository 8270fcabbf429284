"""Reads the structure of a tagged PDF with two libraries.

Reads one JSON object from standard input, `file`: its path, and writes one to standard
output:
  versions: of pikepdf and pdfplumber
  language, marked: of the catalogue
  tags: types of all structure elements in the order of reading, as pikepdf walks the tree
  same: whether pdfplumber finds the same
  headings: type and text of each H1, H2 ...
  figures: the alternative text of each
  tables: rows of cells, each its type, its scope and its paragraphs
  paragraphs: texts of all P outside tables
  pages: number of pages
  unread: text that belongs to no element, by page
"""

import json
import sys

import pdfplumber
import pikepdf


def kids(element):
    inside = element.get("/K", [])
    return list(inside) if isinstance(inside, pikepdf.Array) else [inside]


def tags(element, found):
    for kid in kids(element):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            found.append(str(kid.S).removeprefix("/"))
            tags(kid, found)
    return found


def scopes(element, found):
    """Scope of every TH in order."""
    for kid in kids(element):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            if kid.S == "/TH":
                attributes = kid.get("/A", [])
                all_of = attributes if isinstance(attributes, pikepdf.Array) else [attributes]
                scope = [str(one.Scope).removeprefix("/") for one in all_of if "/Scope" in one]
                found.append(scope[0] if scope else None)
            scopes(kid, found)
    return found


def flat(elements, found):
    for element in elements:
        found.append(element["type"])
        flat(element.get("children", []), found)
    return found


def main():
    path = json.load(sys.stdin)["file"]
    with pikepdf.open(path) as pdf:
        root = pdf.Root
        language = str(root.get("/Lang", ""))
        marked = bool(root.MarkInfo.Marked)
        walked = tags(root.StructTreeRoot, [])
        heads = iter(scopes(root.StructTreeRoot, []))

    answer = {
        "versions": f"pikepdf {pikepdf.__version__}, pdfplumber {pdfplumber.__version__}",
        "language": language,
        "marked": marked,
        "tags": walked,
        "headings": [],
        "figures": [],
        "tables": [],
        "paragraphs": [],
        "unread": [],
    }
    with pdfplumber.open(path) as pdf:
        texts = {}
        for page in pdf.pages:
            unread = []
            for char in page.chars:
                if char.get("mcid") is None:
                    unread.append(char["text"])
                else:
                    key = (page.page_number, char["mcid"])
                    texts[key] = texts.get(key, "") + char["text"]
            answer["unread"].append("".join(unread))
        answer["pages"] = len(pdf.pages)
        tree = pdf.structure_tree
        answer["same"] = flat(tree, []) == walked

        def text(element, page):
            page = element.get("page_number") or page
            if element.get("actual_text"):
                return element["actual_text"]
            own = "".join(texts.get((page, mcid), "") for mcid in element.get("mcids", []))
            return own + "".join(text(kid, page) for kid in element.get("children", []))

        def cell(element, page):
            page = element.get("page_number") or page
            scope = next(heads) if element["type"] == "TH" else None
            inside = [text(kid, page) for kid in element.get("children", [])]
            return [element["type"], scope, inside]

        def walk(elements, page):
            for element in elements:
                kind = element["type"]
                page = element.get("page_number") or page
                if kind == "Table":
                    rows = element["children"]
                    answer["tables"].append(
                        [[cell(one, page) for one in row["children"]] for row in rows]
                    )
                elif kind == "Figure":
                    answer["figures"].append(element.get("alt_text"))
                elif kind.startswith("H"):
                    answer["headings"].append([kind, text(element, page)])
                elif kind == "P":
                    answer["paragraphs"].append(text(element, page))
                else:
                    walk(element.get("children", []), page)

        walk(tree, None)
    json.dump(answer, sys.stdout)


main()
