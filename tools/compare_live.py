#!/usr/bin/env python3
"""Compares our fluids with CoolProp as installed now, at points that the committed rows don't hold.

Usage:  python3 tools/compare_live.py [--program build/release/tools/print_states]
Exits 1 on a deviation beyond the tolerances, 2 when the comparison could not run. tools/compare_live.sh sets
the library up; without it this script makes its own virtual environment under build/live.
"""

import argparse
import os
import pathlib
import subprocess
import sys

TOP = pathlib.Path(__file__).resolve().parent.parent
LIBRARY = "CoolProp==8.0.0"

TOLERANCE = 1e-8
# p_sat of the library is taken from the liquid, where rounding is some 1e-8 Pa: tools/reference_states.py.
SATURATION_PRESSURE_TOLERANCE = 1e-7
BY_DENSITY = ["p", "u", "h", "s", "cv", "cp", "w", "viscosity", "conductivity"]
SCALE = {"u": 1e5, "h": 1e5, "s": 1e3}  # J/kg, J/(kg K): their zero is a convention


def could_not_run(why):
    print(f"compare_live: {why}", file=sys.stderr)
    sys.exit(2)


def with_library():
    """Runs this script again in an environment that has the library, if this one hasn't."""
    try:
        import CoolProp  # noqa: F401
    except ImportError:
        venv = TOP / "build" / "live"
        python = venv / "bin" / "python"
        if os.environ.get("COLDWRIGHT_LIVE") == "1":
            could_not_run(f"{LIBRARY} is installed in {venv} but does not load")
        try:
            subprocess.run([sys.executable, "-m", "venv", "--clear", str(venv)], check=True)
            subprocess.run([str(python), "-m", "pip", "install", "--quiet", LIBRARY], check=True)
        except (OSError, subprocess.CalledProcessError) as error:
            could_not_run(f"{LIBRARY} could not be installed: {error}")
        os.execve(str(python), [str(python), *sys.argv], {**os.environ, "COLDWRIGHT_LIVE": "1"})


def find_program(given):
    candidates = [pathlib.Path(given)] if given else sorted(TOP.glob("build/*/tools/print_states"))
    for candidate in candidates:
        if os.access(candidate, os.X_OK):
            return candidate
    could_not_run("print_states is not built; run ./test first or name it with --program")


def ask(program, questions):
    done = subprocess.run([str(program)], input="\n".join(questions) + "\n", capture_output=True, text=True, check=False)
    answers = done.stdout.splitlines()
    if done.returncode != 0 or len(answers) != len(questions):
        could_not_run(f"{program} answered {len(answers)} of {len(questions)} questions")
    return answers


def parse(question, answer):
    if answer.startswith("problem:"):
        print(f"refused: {question}\n  {answer}")
        return None
    return [float(word) for word in answer.split()]


class Worst:
    """Largest relative deviation of each property, with where it was."""

    def __init__(self):
        self.found = {}
        self.refused = 0

    def add(self, name, ours, theirs, question):
        part = abs(ours - theirs) / max(abs(theirs), SCALE.get(name.split("_")[0], 0.0))
        if not part <= self.found.get(name, (-1.0,))[0]:
            self.found[name] = (part, question, ours, theirs)

    def report(self, refrigerant):
        bad = self.refused
        for name, (part, question, ours, theirs) in self.found.items():
            tolerance = SATURATION_PRESSURE_TOLERANCE if name == "p_sat" else TOLERANCE
            wrong = not part < tolerance
            bad += wrong
            mark = "BEYOND" if wrong else "within"
            print(f"{refrigerant:6} {name:16} {part:8.1e}  {mark} {tolerance:.0e}  at {question}: {ours!r}, {theirs!r}")
        return bad


def compare(program, states, refrigerant):
    reference = states.Reference(refrigerant)
    worst = Worst()
    rows = [reference.single_phase(T, rho) for T, rho in states.grid(reference, shift=0.43)]
    by_rho = [f"T_rho {refrigerant} {row[0]!r} {row[1]!r}" for row in rows]
    by_p = [f"T_p {refrigerant} {row[0]!r} {row[2]!r}" for row in rows]
    our_columns = ["T", "p", "rho", "u", "h", "s", "cv", "cp", "w", "viscosity", "conductivity"]
    answers = ask(program, by_rho + by_p)
    for row, question, answer in zip(rows + rows, by_rho + by_p, answers):
        ours = parse(question, answer)
        if ours is None:
            worst.refused += 1
            continue
        ours, theirs = dict(zip(our_columns, ours)), dict(zip(states.SINGLE_PHASE_COLUMNS, row))
        for name in ["rho"] if question.startswith("T_p") else BY_DENSITY:
            worst.add(name, ours[name], theirs[name], question)
    rows = [reference.saturation(T) for T in states.saturation_temperatures(reference, shift=0.43)]
    questions = [f"saturation {refrigerant} {row[0]!r}" for row in rows]
    for row, question, answer in zip(rows, questions, ask(program, questions)):
        ours = parse(question, answer)
        if ours is None:
            worst.refused += 1
            continue
        for name, mine, theirs in zip(states.SATURATION_COLUMNS[1:], ours[1:], row[1:]):
            worst.add("p_sat" if name == "p" else name, mine, theirs, question)
    return worst.report(refrigerant)


def main():
    with_library()
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", help="the built print_states")
    program = find_program(parser.parse_args().program)
    import reference_states as states
    bad = sum(compare(program, states, refrigerant) for refrigerant in states.LIBRARY_NAMES)
    print(f"CoolProp {states.VERSION}: {bad} beyond tolerance")
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
