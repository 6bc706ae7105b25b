#!/usr/bin/env python3
"""Writes reference rows under tests/data/fluids from CoolProp, so that the tests need no network:
<R>_single_phase.csv and <R>_saturation.csv in full for the three with transport correlations of their own, a few
states of every other pure fluid in pure_single_phase.csv and pure_saturation.csv, and of every blend in
blend_single_phase.csv and blend_lines.csv. tools/compare_live.py compares many more.

Usage:  python3 tools/make_reference_rows.py [full] [pure] [blends]     (all three where none is named; needs: pip
install CoolProp)
"""

import datetime
import pathlib
import sys

import reference_blends
import reference_states

FOLDER = pathlib.Path(__file__).resolve().parent.parent / "tests" / "data" / "fluids"
STATES, LINES = 60, 20  # a pure fluid, about


def header(what):
    return [
        f"# {what}, SI units",
        f"# made by: python3 tools/make_reference_rows.py, with CoolProp {reference_states.VERSION} [bell2014], "
        f"{datetime.date.today().isoformat()}",
    ]


LEFT_OUT = [
    f"# left out: |T/Tc - 1| < {reference_states.NEAR_T} together with |rho/rho_c - 1| < "
    f"{reference_states.NEAR_RHO}, where (T, p) hardly fixes the density;",
    f"# above the offered pressure or the melting line; saturation below {reference_states.LOWEST_SATURATION} Pa "
    "(tools/reference_states.py says why)",
]


def write(path, lines, columns, rows):
    lines = [*lines, ",".join(columns), *(",".join(row) for row in rows)]
    path.write_text("\n".join(lines) + "\n")
    print(f"{path.name}: {len(rows)} rows")


def whole(row):
    return [repr(value) for value in row]


def short(name, row):
    """To 13 digits, 1e5 times finer than what is compared; T and rho are given in no more."""
    return [name] + [f"{value:.13g}" for value in row]


def full():
    for name in reference_states.WITH_TRANSPORT:
        reference = reference_states.Reference(name)
        rows = [whole(reference.single_phase(T, rho)) for T, rho in reference_states.grid(reference)]
        write(FOLDER / f"{name}_single_phase.csv", header(f"Single-phase states of {name}") + LEFT_OUT,
              reference_states.SINGLE_PHASE_COLUMNS, rows)
        rows = [whole(reference.saturation(T)) for T in reference_states.saturation_temperatures(reference)]
        write(FOLDER / f"{name}_saturation.csv", header(f"Saturation states of {name}") + LEFT_OUT,
              reference_states.SATURATION_COLUMNS, rows)


def pure():
    states, lines = [], []
    for name in reference_states.LIBRARY_NAMES:
        if name in reference_states.WITH_TRANSPORT:
            continue
        reference = reference_states.Reference(name)
        points = reference_states.grid(reference)
        for T, rho in points[7::len(points) // STATES]:
            states.append(short(name, reference.single_phase(float(f"{T:.8g}"), float(f"{rho:.8g}"))))
        for T in reference_states.saturation_temperatures(reference, LINES):
            lines.append(short(name, reference.saturation(T)[:8]))
    write(FOLDER / "pure_single_phase.csv", header("Single-phase states of the other pure fluids") + LEFT_OUT,
          ["refrigerant", *reference_states.ONE_PHASE_COLUMNS], states)
    write(FOLDER / "pure_saturation.csv", header("Saturation states of the other pure fluids") + LEFT_OUT,
          ["refrigerant", *reference_states.SATURATION_COLUMNS[:8]], lines)


def blend_points(blend):
    """(T, rho) in liquid, vapour and beyond, by the mixture's reducing temperature and density."""
    T_r, rho_r, M = blend.state.T_reducing(), blend.state.rhomolar_reducing(), blend.state.molar_mass()
    for part in (0.66, 0.86):
        bubble, dew = blend.line_point(part * T_r, 0), blend.line_point(part * T_r, 1)
        if bubble:
            yield part * T_r, 1.01 * bubble[1] * M
        if dew:
            yield part * T_r, 0.9 * dew[2] * M
    hot = min(1.2 * T_r, blend.T_max - 1)
    for part in (0.01, 0.7, 1.4):
        yield hot, part * rho_r * M


def blends():
    known = reference_blends.catalogue()
    reference_blends.estimate_missing_pairs(known)
    states, lines = [], []
    for name, parts in known.items():
        blend = reference_blends.Blend(parts)
        for T, rho in blend_points(blend):
            row = blend.one_phase(float(f"{T:.6g}"), float(f"{rho:.8g}"))
            if row[2] < blend.p_max:
                states.append(short(name, row))
        for part in (0.68, 0.78, 0.88, 0.96):
            T = float(f"{part * blend.state.T_reducing():.6g}")
            low, high = blend.line_point(T, 0), blend.line_point(T, 1)
            if all(reference_blends.judge(low, high)) and low and high:
                lines.append(short(name, [T, low[0], high[0]]))
    about = ["# ideal gas as tools/reference_blends.py puts it together; h and s from any zero, one a blend"]
    write(FOLDER / "blend_single_phase.csv", header("Single-phase states of blends") + about,
          ["refrigerant", *reference_blends.ONE_PHASE_COLUMNS], states)
    write(FOLDER / "blend_lines.csv", header("Bubble and dew pressures of blends, where the library finds sound ones"),
          ["refrigerant", *reference_blends.LINE_COLUMNS], lines)


def main():
    FOLDER.mkdir(parents=True, exist_ok=True)
    kinds = {"full": full, "pure": pure, "blends": blends}
    for kind in sys.argv[1:] or kinds:
        kinds[kind]()


if __name__ == "__main__":
    main()
