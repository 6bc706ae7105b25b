#!/usr/bin/env python3
"""Every C++ file is as clang-format 14 with .clang-format would write it. With --fix, makes it so."""

import os
import shutil
import subprocess
import sys

import source_tree

# The first that is there and says it is version 14: other versions format differently.
CANDIDATES = ("clang-format-14", "clang-format")


def formatter():
    for name in CANDIDATES:
        if shutil.which(name):
            said = subprocess.run([name, "--version"], capture_output=True, text=True, check=False).stdout
            if "version 14." in said:
                return name
    return None


def check(root, fix=False):
    tool = formatter()
    if not tool:
        return ["clang-format 14 is not there; on Debian 12: apt-get install clang-format-14"], 1
    paths = source_tree.files(root, ".hpp", ".cpp")
    findings = []
    # In portions, since a command line has an end.
    for start in range(0, len(paths), 100):
        some = paths[start:start + 100]
        how = ["-i"] if fix else ["--dry-run", "--ferror-limit=1"]
        done = subprocess.run([tool, "--style=file", *how, *some], cwd=root, capture_output=True, text=True, check=False)
        findings += [line.split(" error: ")[0].split(" warning: ")[0] + " not formatted; tools/check_format.py --fix"
                     for line in done.stderr.splitlines() if "-Wclang-format-violations" in line]
        if done.returncode != 0 and not findings:
            findings.append(f"{tool} failed: {done.stderr.strip()}")
    return findings, len(paths)


if __name__ == "__main__":
    if "--fix" in sys.argv:
        check(os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."), fix=True)
    else:
        source_tree.main(check, __doc__)
