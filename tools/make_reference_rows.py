#!/usr/bin/env python3
"""Writes tests/data/fluids/<R>_single_phase.csv and <R>_saturation.csv from CoolProp, so that the tests
need no network. Usage:  python3 tools/make_reference_rows.py     (needs: pip install CoolProp)
"""

import datetime
import pathlib

import reference_states

FOLDER = pathlib.Path(__file__).resolve().parent.parent / "tests" / "data" / "fluids"


def write(path, what, columns, rows):
    lines = [
        f"# {what}, SI units",
        f"# made by: python3 tools/make_reference_rows.py, with CoolProp {reference_states.VERSION} [bell2014], "
        f"{datetime.date.today().isoformat()}",
        f"# left out: |T/Tc - 1| < {reference_states.NEAR_T} together with |rho/rho_c - 1| < "
        f"{reference_states.NEAR_RHO}, where (T, p) hardly fixes the density;",
        f"# above the offered pressure or the melting line; saturation below {reference_states.LOWEST_SATURATION} Pa "
        "(tools/reference_states.py says why)",
        ",".join(columns),
    ]
    lines += [",".join(repr(value) for value in row) for row in rows]
    path.write_text("\n".join(lines) + "\n")
    print(f"{path.name}: {len(rows)} rows")


def main():
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name in reference_states.LIBRARY_NAMES:
        reference = reference_states.Reference(name)
        rows = [reference.single_phase(T, rho) for T, rho in reference_states.grid(reference)]
        write(FOLDER / f"{name}_single_phase.csv", f"Single-phase states of {name}",
              reference_states.SINGLE_PHASE_COLUMNS, rows)
        rows = [reference.saturation(T) for T in reference_states.saturation_temperatures(reference)]
        write(FOLDER / f"{name}_saturation.csv", f"Saturation states of {name}",
              reference_states.SATURATION_COLUMNS, rows)


if __name__ == "__main__":
    main()
