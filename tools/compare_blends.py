#!/usr/bin/env python3
"""Compares every blend with CoolProp on the same mixture model: states in one phase, bubble and dew pressures, and
how often either fails to find an equilibrium. Prints the table that stands in docs/evidence.md.

Usage:  python3 tools/compare_blends.py [--program build/release/tools/print_states] [--temperatures 200] [R448A ...]
Exits 1 on a deviation beyond the tolerance or a failure of ours, 2 when the comparison could not run.

For each blend:
- one phase: T, p over liquid, vapour and beyond, each at the density that ours gives; p, h, s, cp and w of the library
  there, and the density that ours finds from that p. h and s count from the first state, as zeros are a convention.
- bubble and dew at temperatures from 190 K (0.62 of the critical temperature where that is colder) to 0.99 of the
  critical temperature. A library's answer counts as wrong where its liquid is not the denser phase, a
  phase is not the stable one of its composition or its dew pressure lies above its bubble pressure, as another solution where both are sound and differ by more than the
  tolerance. Ours is asked twice: the fitted lines, and the solver from nothing.
"""

import argparse
import sys

from comparison import PRESSURE_PART, SATURATION_ANSWER, SINGLE_PHASE_ANSWER, Worst, ask, find_program, with_library

TOLERANCE = 1e-6
HEADER = "| blend | library: no answer | wrong phases | another solution | ours: no answer | lines begin above | " \
         "worst p, bubble and dew | worst rho, p, h, s, cp, w |"


class Counts:
    def __init__(self):
        self.points = self.no_answer = self.wrong = self.other = self.ours = self.uncovered = self.below = 0


def one_phase_questions(name, limits, step):
    T_min, T_max, p_max, T_crit, p_crit, *_ = limits
    out = []
    for i in range(0, 12, step):
        T = round(T_min + 0.5 + (T_max - 1 - T_min) * ((i + 0.31) / 12) ** 1.5, 3)
        for p in (2e3, 1e5, 5e5, 0.6 * p_crit, 1.7 * p_crit, 0.9 * p_max):
            out.append(f"T_p {name} {T!r} {p!r}")
    return out


def compare_one_phase(program, blend, name, limits, step, worst):
    sound = [answer for answer in ask(program, one_phase_questions(name, limits, step)) if not isinstance(answer, str)]
    ours = [dict(zip(SINGLE_PHASE_ANSWER, answer)) for answer in sound]
    # Near the critical point a density hardly follows from a pressure.
    ours = [a for a in ours if abs(a["T"] / limits[3] - 1) > 1e-2 or abs(a["rho"] / limits[5] - 1) > 0.3]
    theirs = [dict(zip(reference_blends.ONE_PHASE_COLUMNS, blend.one_phase(a["T"], a["rho"]))) for a in ours]
    again = ask(program, [f"T_rho {name} {a['T']!r} {a['rho']!r}" for a in ours] +
                [f"T_p {name} {a['T']!r} {b['p']!r}" for a, b in zip(ours, theirs)])
    first = None
    for i, (a, b) in enumerate(zip(ours, theirs)):
        question = f"{name} {a['T']!r} K {a['rho']!r} kg/m3"
        by_rho, by_p = again[i], again[len(ours) + i]
        if isinstance(by_rho, str) or isinstance(by_p, str):
            worst.refuse(question, f"{by_rho} {by_p}")
            continue
        mine = dict(zip(SINGLE_PHASE_ANSWER, by_rho))
        first = first or (mine, b)
        worst.add("p", mine["p"], b["p"], question, PRESSURE_PART * a["rho"] * 8.314 * a["T"] / limits[7])
        for key in ("cp", "w"):
            worst.add(key, mine[key], b[key], question)
        for key in ("h", "s"):
            worst.add(key, mine[key] - first[0][key], b[key] - first[1][key], question)
        worst.add("rho", by_p[2], b["rho"], question)
    return len(ours)


def temperatures_of(limits, count, shift):
    lowest, highest = min(190.0, 0.62 * limits[3]), 0.99 * limits[3]
    return [round(lowest + (highest - lowest) * (i + shift) / count, 4) for i in range(count)]


def compare_lines(program, blend, name, limits, temperatures, worst, counts, examples):
    lines = ask(program, [f"saturation {name} {T!r}" for T in temperatures])
    solved = ask(program, [f"split {name} {T!r} {q}" for T in temperatures for q in (0, 1)])
    for i, T in enumerate(temperatures):
        theirs = [blend.line_point(T, q) for q in (0, 1)]
        *sound, together = reference_blends.judge(*theirs)
        line = lines[i]
        for quality, column in ((0, "p_bubble"), (1, "p")):
            point, cold = theirs[quality], solved[2 * i + quality]
            label = ("p_bubble" if quality == 0 else "p_dew")
            question = f"{name} {T!r} K {label}"
            counts.points += 1
            covered = T >= limits[0]
            counts.uncovered += not covered
            if isinstance(cold, str) or (covered and isinstance(line, str)):
                counts.ours += 1
                examples.append(f"ours: {question}: {cold if isinstance(cold, str) else line}")
            best = None if isinstance(cold, str) else cold[0]
            if covered and not isinstance(line, str):
                on_line = dict(zip(SATURATION_ANSWER, line))[column]
                if best is not None:
                    worst.add("line_" + label, on_line, best, question)
                best = on_line
            if point is None:
                counts.no_answer += 1
            elif not sound[quality]:
                counts.wrong += 1
            elif best is None or abs(best / point[0] - 1) > TOLERANCE:
                if not covered:
                    counts.below += 1
                elif together and blend.phases_are_stable(T, quality):
                    counts.other += 1
                    examples.append(f"other: {question}: {best!r}, {point!r}")
                else:
                    counts.wrong += 1
            else:
                worst.add(label, best, point[0], question)


def compare_all(program, temperatures, shift, step, only=(), verbose=False):
    """Prints a row a blend; the number of deviations beyond the tolerance and of our own failures."""
    global reference_blends
    import reference_blends
    known = reference_blends.catalogue()
    reference_blends.estimate_missing_pairs(known)
    names = [name for name in known if not only or name in only]
    bad, total, refused = 0, Counts(), []
    print(f"CoolProp {reference_blends.VERSION}, {temperatures} temperatures a blend, bubble and dew")
    print(HEADER)
    print("|---" * HEADER.count("| ") + "|")
    for name, limits in zip(names, ask(program, [f"limits {name}" for name in names])):
        if isinstance(limits, str):
            refused.append(f"{name}: {limits}")
            continue
        blend, worst, counts, examples = reference_blends.Blend(known[name]), Worst(), Counts(), []
        compare_one_phase(program, blend, name, limits, step, worst)
        compare_lines(program, blend, name, limits, temperatures_of(limits, temperatures, shift), worst, counts, examples)
        lines = " and ".join(f"{worst.part(key):.0e}" for key in ("p_bubble", "p_dew"))
        states = " ".join(f"{worst.part(key):.0e}" for key in ("rho", "p", "h", "s", "cp", "w"))
        begin = f"{limits[0]:.0f} K" if counts.uncovered else ""  # our lines, later than the grid
        if counts.below:
            begin += f" ({counts.below} differ below)"
        print(f"| {name} | {counts.no_answer} | {counts.wrong} | {counts.other} | {counts.ours} | {begin} | {lines} | "
              f"{states} |", flush=True)
        bad += worst.beyond(lambda _: TOLERANCE) + counts.ours
        for text in examples if verbose else examples[:3]:
            print(f"    {text}")
        for key, value in vars(counts).items():
            setattr(total, key, getattr(total, key) + value)
    print(f"all: {total.points} points; library: no answer {total.no_answer}, wrong phases {total.wrong}, another solution "
          f"{total.other}, different below our lines {total.below}; ours: no answer {total.ours}, colder than our lines "
          f"{total.uncovered}")
    for text in refused:
        print(f"not offered: {text}")
    return bad


def main():
    with_library()
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", help="the built print_states")
    parser.add_argument("--temperatures", type=int, default=200)
    parser.add_argument("--verbose", action="store_true", help="tell of every other solution")
    parser.add_argument("blends", nargs="*")
    arguments = parser.parse_args()
    bad = compare_all(find_program(arguments.program), arguments.temperatures, 0.0, 1, arguments.blends,
                      arguments.verbose)
    print(f"{bad} beyond {TOLERANCE:.0e}")
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
