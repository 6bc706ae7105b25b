#!/usr/bin/env python3
"""Writes the rows that tests/differential/fluids_transport_scaling_test.cpp compares with.

tests/data/fluids/transport_pure.csv: states of each component with the reference correlations, where there are
any, and with the method as tools/transport_method.py computes it from data/transport.json, apart from the C++.
tests/data/fluids/transport_blends.csv and transport_blend_tension.csv: the same for the blends that were
measured.

Usage:  python3 tools/make_transport_rows.py       (needs: pip install CoolProp)
"""

import json
import pathlib

import CoolProp

import transcribe_transport as transcribe
import transport_blends
import transport_method as method

TOP = pathlib.Path(__file__).resolve().parent.parent
FOLDER = TOP / "tests" / "data" / "fluids"
EVERY = 4  # of the grid's states


def components():
    document = json.loads((TOP / "data" / "transport.json").read_text())
    return {c["designation"]: c | {"f_int": c["dilute_gas"]["f_int"]} for c in document["components"]}


def number(value):
    return "nan" if value is None else repr(float(value))


def write(name, about, columns, rows):
    text = f"# {about}\n# Made by tools/make_transport_rows.py with CoolProp {CoolProp.__version__} [bell2014]. SI, molar.\n"
    text += ",".join(columns) + "\n" + "".join(",".join(row) + "\n" for row in rows)
    (FOLDER / name).write_text(text)
    print(f"wrote {name}: {len(rows)} rows")


NEAR = ["cp", "cv", "drho_dp", "drho_dp_far", "p_crit", "rho_crit"]


def pure_rows(known):
    rows = []
    for name in transcribe.FLUIDS:
        found = transcribe.collect(name)
        if not found:
            continue
        reference, points = found
        for p in points[::EVERY]:
            one, x = [known[name]], [1.0]
            eta = method.viscosity(one, x, p["T"], p["rho"], p["s"])
            p["near"] = reference.near(p["T"], p["rho"], method.far_temperature(one, x))
            heat = transcribe.conductivity(known[name], reference, p)
            rows.append([name] + [number(v) for v in (p["T"], p["rho"], p["s"], p["cp0"], *(p["near"][k] for k in NEAR),
                                                       eta, heat, p.get("viscosity"), p.get("conductivity"))])
    return rows


def main():
    known = components()
    library = {name: row[0] for name, row in transcribe.FLUIDS.items()}
    write("transport_pure.csv", "nan: the fluid has no reference correlation that is more than a prediction, or not there.",
          ["designation", "T", "rho", "s_plus", "cp0", *NEAR, "our_viscosity", "our_conductivity",
           "reference_viscosity", "reference_conductivity"], pure_rows(known))
    made = {name: (c, method.Reference(library[name]) if library[name] else None) for name, c in known.items()}
    rows, tensions = [], []
    for blend in transport_blends.BLENDS:
        for p in transport_blends.points_of(blend, made, library):
            pad = [0.0] * (3 - len(p["x"]))
            rows.append([blend] + [number(v) for v in (p["T"], p["rho"], p["s"], *p["x"], *pad, *p["cp0"], *pad,
                                                        *(p["near"][k] for k in NEAR), p["our_viscosity"],
                                                        p["our_conductivity"], p["viscosity"], p["conductivity"])])
        measured = method.Reference(blend)
        for T in range(240, 321, 10):
            ours, theirs = transport_blends.tension_of(blend, made, library, T)
            tensions.append([blend] + [number(v) for v in (T, measured.saturated(T, 0)[0], measured.saturated(T, 1)[0],
                                                            ours, theirs)])
    write("transport_blends.csv", "Measured viscosity [geller2000] and conductivity [geller2001] of saturated blends.",
          ["blend", "T", "rho", "s_plus", "x1", "x2", "x3", "cp0_1", "cp0_2", "cp0_3", *NEAR, "our_viscosity",
           "our_conductivity", "reference_viscosity", "reference_conductivity"], rows)
    write("transport_blend_tension.csv", "Measured surface tension of blends [okada1999].",
          ["blend", "T", "rho_liquid", "rho_vapour", "our_tension", "reference_tension"], tensions)


if __name__ == "__main__":
    main()
