#!/usr/bin/env python3
"""Every citation names an entry of data/references.bib. A finding is told as file:line.

In code, tests with their rows, tools and docs a citation is a key in brackets, with or without its place:
[key2009], [key2009, Table 4]. A key ends in a year or a standard's number; the three that say where an
unpublished number comes from are [common-practice], [our-estimate] and [from-memory].
In data, "source" holds a key and maybe its place ("key2009, Table 4"), "sources" a list of them.
"""

import json
import re

import source_tree

BIBLIOGRAPHY = "data/references.bib"
ENTRY = re.compile(r"^@\w+\{\s*([^,\s]+)\s*,", re.MULTILINE)
UNPUBLISHED = {"common-practice", "our-estimate", "from-memory"}
CITED = re.compile(r"\[((?:[a-z][a-z-]+[0-9]{3,}[0-9a-z-]*)|" + "|".join(sorted(UNPUBLISHED)) + r")(?:,[^\]\n]*)?\](?!\()")
KEY = re.compile(r"^\s*([A-Za-z][\w-]*)")
CODE = (".hpp", ".cpp", ".py", ".sh", ".md", ".cmake", ".csv")


def cited_in_data(value, path=""):
    """(place in the document, text) of every "source" and "sources" in a JSON value."""
    if isinstance(value, dict):
        for name, inner in value.items():
            here = f"{path}/{name}"
            if name == "source":
                yield here, inner
            elif name == "sources":
                for one in inner if isinstance(inner, list) else [inner]:
                    yield here, one
            else:
                yield from cited_in_data(inner, here)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from cited_in_data(inner, f"{path}/{index}")


def check(root):
    bibliography = source_tree.read(root, BIBLIOGRAPHY)
    keys = ENTRY.findall(bibliography)
    findings = [f"{BIBLIOGRAPHY}: {key} stands twice" for key in sorted(set(keys)) if keys.count(key) > 1]
    known = set(keys)
    looked_at = 0

    for path in source_tree.files(root, *CODE):
        if path.startswith("tests/gates/") or path == "tools/check_citations.py" or path == "CONTRIBUTING.md":
            continue  # these show the form with keys that don't exist
        for number, line in enumerate(source_tree.read(root, path).splitlines(), 1):
            for match in CITED.finditer(line):
                looked_at += 1
                if match.group(1) not in known:
                    findings.append(f"{path}:{number}: [{match.group(1)}] is not in {BIBLIOGRAPHY}")

    for path in source_tree.files(root, ".json", under="data"):
        try:
            value = json.loads(source_tree.read(root, path))
        except ValueError as error:
            findings.append(f"{path}: not JSON: {error}")
            continue
        for place, text in cited_in_data(value):
            looked_at += 1
            # A place may cite two: "key2009, Table 4; other1994".
            for one in text.split(";") if isinstance(text, str) else [""]:
                match = KEY.match(one)
                if not match or match.group(1) not in known:
                    findings.append(f"{path}{place}: \"{one.strip() if one else text}\" does not begin with a key of {BIBLIOGRAPHY}")
    return findings, looked_at + len(keys)


if __name__ == "__main__":
    source_tree.main(check, __doc__)
