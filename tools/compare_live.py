#!/usr/bin/env python3
"""Compares all our pure fluids with CoolProp as installed now, at points that the committed rows don't hold, and
a thin sample of every blend (tools/compare_blends.py has the whole).

Usage:  python3 tools/compare_live.py [--program build/release/tools/print_states]
Exits 1 on a deviation beyond the tolerances, 2 when the comparison could not run. tools/compare_live.sh sets
the library up; without it this script makes its own virtual environment under build/live.
"""

import argparse
import sys

from comparison import PRESSURE_PART, SATURATION_ANSWER, SINGLE_PHASE_ANSWER, Worst, ask, find_program, with_library

TOLERANCE = 1e-8
# p_sat of the library is taken from the liquid, where rounding is some 1e-8 Pa: tools/reference_states.py.
SATURATION_PRESSURE_TOLERANCE = 1e-7
COLUMNS = ["rho", "p", "u", "h", "s", "cv", "cp", "w", "p_sat", "rho_liquid", "rho_vapour", "h_vapour", "viscosity",
           "surface_tension"]


def tolerance_of(name):
    return SATURATION_PRESSURE_TOLERANCE if name == "p_sat" else TOLERANCE


def compare(program, states, refrigerant):
    """The worst deviations and how many states were compared."""
    reference = states.Reference(refrigerant)
    worst = Worst()
    rows = [reference.single_phase(T, rho) for T, rho in states.grid(reference, shift=0.43)]
    by_rho = [f"T_rho {refrigerant} {row[0]!r} {row[1]!r}" for row in rows]
    by_p = [f"T_p {refrigerant} {row[0]!r} {row[2]!r}" for row in rows]
    for row, question, answer in zip(rows + rows, by_rho + by_p, ask(program, by_rho + by_p)):
        if isinstance(answer, str):
            worst.refuse(question, answer)
            continue
        ours, theirs = dict(zip(SINGLE_PHASE_ANSWER, answer)), dict(zip(states.SINGLE_PHASE_COLUMNS, row))
        scale = PRESSURE_PART * row[1] * 8.314 * row[0] / reference.molar_mass
        for name in ["rho"] if question.startswith("T_p") else theirs:
            worst.add(name, ours[name], theirs[name], question, scale if name == "p" else 0.0)
    lines = [reference.saturation(T) for T in states.saturation_temperatures(reference, shift=0.43)]
    questions = [f"saturation {refrigerant} {row[0]!r}" for row in lines]
    for row, question, answer in zip(lines, questions, ask(program, questions)):
        if isinstance(answer, str):
            worst.refuse(question, answer)
            continue
        ours = dict(zip(SATURATION_ANSWER, answer))
        for name, theirs in zip(states.SATURATION_COLUMNS[1:], row[1:]):
            worst.add("p_sat" if name == "p" else name, ours[name], theirs, question)
    return worst, len(rows), len(lines)


def compare_pures(program, states):
    print(f"{'pure fluid':12} states lines  " + " ".join(f"{name[:9]:>9}" for name in COLUMNS))
    bad = 0
    for refrigerant in states.LIBRARY_NAMES:
        worst, count, lines = compare(program, states, refrigerant)
        told = [f"{worst.part(name):9.1e}" if name in worst.found else f"{'-':>9}" for name in COLUMNS]
        print(f"{refrigerant:12} {count:6} {lines:5}  " + " ".join(told), flush=True)
        bad += worst.beyond(tolerance_of)
        if count < 2000:
            bad += 1
            print(f"BEYOND: only {count} states of {refrigerant}; 2000 are wanted")
    return bad


def main():
    with_library()
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", help="the built print_states")
    program = find_program(parser.parse_args().program)
    import compare_blends
    import reference_states as states
    bad = compare_pures(program, states)
    bad += compare_blends.compare_all(program, temperatures=4, shift=0.43, step=3)
    print(f"CoolProp {states.VERSION}: {bad} beyond tolerance")
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
