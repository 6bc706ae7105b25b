"""What the checks share: which files belong to the project, and how a finding is told."""

import argparse
import os
import sys

# Folders that hold nothing written by hand.
SKIPPED = {"out", "node_modules", "__pycache__", "dist"}


def files(root, *suffixes, under=""):
    """Paths relative to root with one of the suffixes (or all), in a steady order. Hidden and built ones left out."""
    found = []
    for folder, folders, names in os.walk(os.path.join(root, under)):
        folders[:] = sorted(
            f for f in folders
            if f not in SKIPPED and not f.startswith("build") and (not f.startswith(".") or f == ".ci"))
        for name in sorted(names):
            if not suffixes or name.endswith(suffixes):
                found.append(os.path.relpath(os.path.join(folder, name), root))
    return found


def read(root, path):
    with open(os.path.join(root, path), encoding="utf-8", errors="replace", newline="") as f:
        return f.read()


def main(check, description):
    """Runs check(root) -> (findings, number of things looked at); prints the findings; exit status 1 if there are any."""
    parser = argparse.ArgumentParser(description=description)
    parser.add_argument("--root", default=os.path.join(os.path.dirname(__file__), ".."))
    findings, looked_at = check(parser.parse_args().root)
    if looked_at == 0:
        findings = ["nothing was found to look at: is --root right?"]
    for finding in findings:
        print(finding)
    print(f"{looked_at} looked at, {len(findings)} found wrong")
    sys.exit(1 if findings else 0)
