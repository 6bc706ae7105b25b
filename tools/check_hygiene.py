#!/usr/bin/env python3
"""What no file of the project may carry. Told as file:line.

Conflict markers, tabs or blanks at a line's end, Windows line ends, a missing last newline, a path of one
person's machine, something that looks like a key or password, a test switched off, more than 1,500 KiB.
"""

import os
import re

import source_tree

LIMIT = 1500 * 1024
TEXT = (".hpp", ".cpp", ".h", ".py", ".sh", ".md", ".cmake", ".txt", ".json", ".bib", ".csv", ".ts", ".tsx",
        ".mjs", ".css", ".html", "/run", "/test", ".clang-format", ".gitignore")
CODE = (".hpp", ".cpp", ".py", ".sh", ".cmake", ".ts", ".tsx", ".mjs", ".css")
LINES = (
    (re.compile(r"^(<{7}|>{7})( |$)"), "a conflict marker"),
    (re.compile(r"[ \t]+$"), "blanks at the end of the line"),
    (re.compile(r"\r"), "a Windows line end"),
    (re.compile(r"(?<![\w.])/(home|root|Users)/\w"), "a path of one machine"),
    (re.compile(r"-----BEGIN [A-Z ]*PRIVATE KEY|\bAKIA[0-9A-Z]{16}\b|\bgh[pousr]_[A-Za-z0-9]{36}"), "a secret"),
)
CODE_LINES = (
    (re.compile(r"\t"), "a tab"),
    (re.compile(r"\bDISABLED_\w|\bGTEST_SKIP\b|unittest\.skip|\b(?:it|test|describe)\.(?:skip|only|todo)\b"),
     "a test switched off"),
)


def check(root):
    findings = []
    looked_at = 0
    for path in source_tree.files(root):
        if path.startswith("tests/gates/"):
            continue  # plants faults on purpose
        full = os.path.join(root, path)
        if os.path.islink(full) and not os.path.exists(full):
            findings.append(f"{path}: a link to nothing")
            continue
        looked_at += 1
        size = os.path.getsize(full)
        if size > LIMIT:
            findings.append(f"{path}: {size // 1024} KiB; at most {LIMIT // 1024} belong into the repository")
            continue
        if not ("/" + path).endswith(TEXT):
            continue
        text = source_tree.read(root, path)
        if text and not text.endswith("\n"):
            findings.append(f"{path}: no newline at the end")
        patterns = LINES
        if path.endswith(CODE) and path != "tools/check_hygiene.py":  # which has to name what it looks for
            patterns = LINES + CODE_LINES
        for number, line in enumerate(text.split("\n"), 1):
            for pattern, what in patterns:
                if pattern.search(line):
                    findings.append(f"{path}:{number}: {what}")
    return findings, looked_at


if __name__ == "__main__":
    source_tree.main(check, __doc__)
