#!/usr/bin/env python3
"""A document that names a path or a symbol of this project fails when there is none. Told as file:line.

Looked at are the words between backticks in every *.md but the changelog, which may name what is gone:
- paths that begin with a folder of the repository, as `core/base/result.hpp`; `*` and <words> stand for anything;
- names with `::` or `()`, whose last part must occur in our code;
- and the targets of links to files.
"""

import glob
import os
import re

import source_tree

SPAN = re.compile(r"`([^`\n]+)`")
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)\s]*)?\)")
FENCE = re.compile(r"^\s*```")
SYMBOL = re.compile(r"^(?:[A-Za-z_]\w*::)*([A-Za-z_]\w*)(\(\))?$")
PLACEHOLDER = re.compile(r"<[^>]*>")
MAY_NAME_WHAT_IS_GONE = {"CHANGELOG.md"}


def is_there(root, path):
    return bool(glob.glob(os.path.join(root, PLACEHOLDER.sub("*", path).rstrip("/"))))


def check(root):
    tops = {name for name in os.listdir(root)
            if os.path.isdir(os.path.join(root, name)) and not name.startswith("build") and name != ".git"}
    words = set()
    for path in source_tree.files(root, ".hpp", ".cpp", ".py", ".sh", ".cmake", "CMakeLists.txt"):
        words.update(re.findall(r"\w+", source_tree.read(root, path)))

    findings = []
    looked_at = 0
    for doc in source_tree.files(root, ".md"):
        if doc in MAY_NAME_WHAT_IS_GONE:
            continue
        looked_at += 1
        fenced = False
        for number, line in enumerate(source_tree.read(root, doc).splitlines(), 1):
            if FENCE.match(line):
                fenced = not fenced
            if fenced:
                continue
            for span in SPAN.findall(line):
                token = span.split(":")[0] if re.search(r":\d+$", span) else span
                token = token[2:] if token.startswith("./") else token
                symbol = SYMBOL.match(token)
                if " " not in token and token.split("/")[0] in tops and "/" in token:
                    if not is_there(root, token):
                        findings.append(f"{doc}:{number}: `{span}`: no such path")
                elif symbol and ("::" in token or symbol.group(2)) and symbol.group(1) not in words \
                        and not token.startswith("std::"):
                    findings.append(f"{doc}:{number}: `{span}`: {symbol.group(1)} occurs nowhere in our code")
            for target in LINK.findall(line):
                if "://" not in target and not target.startswith("mailto:"):
                    if not os.path.exists(os.path.join(root, os.path.dirname(doc), target)):
                        findings.append(f"{doc}:{number}: link to {target}: no such file")
    return findings, looked_at


if __name__ == "__main__":
    source_tree.main(check, __doc__)
