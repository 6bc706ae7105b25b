#!/usr/bin/env python3
"""Holds every #include to the rules of ARCHITECTURE.md. A finding is told as file:line.

- A room of the core includes only itself and the rooms before it in the list that CMakeLists.txt gives to
  coldwright_rooms(); that list is read from there.
- fluids, circuit, diagnosis and drawing never see JSON. A public header carries neither Eigen nor JSON; public is one
  that another room or a door includes, itself or through another header.
- The core has no input or output, no clock, no threads.
- apps/ sees service/ and the two base headers that cross its boundary; print/ sees base/result.hpp; lab/ sees
  base/ and fluids/.
"""

import os
import re

import source_tree

INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')
ROOMS = re.compile(r"^coldwright_rooms\(([^)]*)\)", re.MULTILINE)
JSON = re.compile(r"^nlohmann/")
JSON_ITSELF = re.compile(r"^nlohmann/(?!json_fwd\.hpp)")  # declarations alone weigh nothing
EIGEN = re.compile(r"^(Eigen|unsupported/Eigen)/")
WITHOUT_JSON = {"fluids", "circuit", "diagnosis", "drawing"}
APPS_MAY_SEE = {"base/quantities.hpp", "base/result.hpp"}
PRINT_MAY_SEE = {"base/result.hpp"}
NOT_IN_CORE = {
    "iostream": "input and output", "fstream": "input and output", "ostream": "input and output",
    "istream": "input and output", "filesystem": "the file system", "thread": "threads", "mutex": "threads",
    "shared_mutex": "threads", "future": "threads", "condition_variable": "threads", "chrono": "the clock",
    "ctime": "the clock", "time.h": "the clock", "format": "std::format, which g++ 12 lacks",
    "coroutine": "coroutines",
}


def includes(text):
    """(line number, opening character, included name) of every include."""
    for number, line in enumerate(text.splitlines(), 1):
        match = INCLUDE.match(line)
        if match:
            yield number, match.group(1), match.group(2)


def problem_in_core(room, path, opener, name, rooms, public):
    """Why this include may not stand in core/<room>, or None."""
    top = name.split("/")[0]
    if opener == '"' and top not in rooms:
        return 'our own headers are included as "room/file.hpp"'
    if top in rooms and "/" in name:
        if opener == "<":
            return "our own headers are included with quotes"
        if rooms.index(top) > rooms.index(room):
            return f"{room} may not see {top}, which comes after it"
    if JSON.match(name) and room in WITHOUT_JSON:
        return f"{room} never sees JSON; a loader in service turns data into values"
    if path in public and (JSON_ITSELF.match(name) or EIGEN.match(name)):
        return "a public header carries neither Eigen nor JSON"
    if name in NOT_IN_CORE:
        return f"the core has no use for {NOT_IN_CORE[name]}"
    return None


def public_headers(texts):
    """The headers of the core that a file of another room, or a door, takes in."""
    included = {path: [os.path.join("core", name) for _, _, name in includes(text)] for path, text in texts.items()}
    room = os.path.dirname
    public = {name for path, names in included.items() for name in names if room(name) != room(path)}
    waiting = list(public)
    while waiting:
        for name in included.get(waiting.pop(), []):
            if name not in public:
                public.add(name)
                waiting.append(name)
    return public


def problem_outside(place, name, rooms):
    """Why this include may not stand in apps/, print/ or lab/, or None."""
    top = name.split("/")[0]
    if top not in rooms or "/" not in name:
        return None
    if place == "apps" and top != "service" and name not in APPS_MAY_SEE:
        return f"a door sees service/ and {' and '.join(sorted(APPS_MAY_SEE))} only"
    if place == "print" and name not in PRINT_MAY_SEE:
        return f"print turns texts into pages and sees {' and '.join(sorted(PRINT_MAY_SEE))} only"
    if place == "lab" and top not in ("base", "fluids"):
        return "the virtual cabinet shares base and fluids with the core and nothing else"
    return None


def check(root):
    listed = ROOMS.search(source_tree.read(root, "CMakeLists.txt"))
    if not listed:
        return ["CMakeLists.txt: no coldwright_rooms(...) to read the rooms from"], 1
    rooms = listed.group(1).split()
    findings = []
    for folder in sorted(os.listdir(os.path.join(root, "core"))):
        if folder not in rooms and source_tree.files(root, ".hpp", ".cpp", under=f"core/{folder}"):
            findings.append(f"core/{folder}: not among the rooms that CMakeLists.txt lists")
    texts = {path: source_tree.read(root, path)
             for place in ("core", "apps", "print", "lab") for path in source_tree.files(root, ".hpp", ".cpp", under=place)}
    public = public_headers(texts)
    for path, text in texts.items():
        place, room = path.split(os.sep)[:2]
        for number, opener, name in includes(text):
            if place != "core":
                why = problem_outside(place, name, rooms)
            elif room in rooms:
                why = problem_in_core(room, path, opener, name, rooms, public)
            else:
                why = None  # the room itself is already reported
            if why:
                findings.append(f"{path}:{number}: {name}: {why}")
    return findings, len(texts)


if __name__ == "__main__":
    source_tree.main(check, __doc__)
