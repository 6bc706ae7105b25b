#!/usr/bin/env python3
"""Writes the rows that tests/differential/fluids_transport_scaling_test.cpp and
tests/published/fluids_transport_published_test.cpp compare with.

tests/data/fluids/transport_pure.csv: states of each component with the reference correlations, where there are
any, and with the method as tools/transport_method.py computes it from data/transport.json, apart from the C++.
tests/data/fluids/transport_blends.csv and transport_blend_tension.csv: the same for the blends that were
measured. tests/data/fluids/transport_printed.csv: values that papers print.

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


def write(name, about, columns, rows, sources=None):
    """`sources`, one a row: told in a comment line before the rows that share it."""
    text = f"# {about}\n# Made by tools/make_transport_rows.py with CoolProp {CoolProp.__version__} [bell2014]. SI, molar.\n"
    text += ",".join(columns) + "\n"
    for i, row in enumerate(rows):
        if sources and (i == 0 or sources[i] != sources[i - 1]):
            text += f"# [{sources[i]}]\n"
        text += ",".join(row) + "\n"
    (FOLDER / name).write_text(text)
    print(f"wrote {name}: {len(rows)} rows")


# Values that papers print: T in K, density in mol/m3, viscosity in Pa s,
# conductivity in W/(m K). Saturated R161 is the correlation's own table; the models of [huber2018] are estimates
# where nothing was measured.
PRINTED = [
    ("huber2018, Table 7", "R1243zf", 339.2, 8901.0, 103.5661e-6, 59.9260e-3),
    ("huber2018, Table 7", "R1123", 298.6, 12527.0, 115.7717e-6, 73.2468e-3),
    ("huber2018, Table 7", "R1336mzz(Z)", 400.0, 6422.0, 121.0337e-6, 53.5265e-3),
    ("perkins2020, Table 3", "R1336mzz(Z)", 300.0, 1363.0 / 0.164056, None, 0.078701),
    ("perkins2017, Table 2", "R1233zd(E)", 300.0, 1308.8 / 0.1304944, None, 0.091409),
    ("perkins2017, Table 2", "R1233zd(E)", 300.0, 5.4411 / 0.1304944, None, 0.010766),
    ("huber2016b, section 2.4", "R1234yf", 300.0, 10522.0, 217.97e-6, None),
    ("huber2016b, section 2.4", "R1234yf", 300.0, 44.0, 11.549e-6, None),
    ("perkins2011, Table 2", "R1234yf", 300.0, 1182.05 / 0.1140416, None, 0.075254),
    ("perkins2011, Table 2", "R1234yf", 300.0, 4.671553 / 0.1140416, None, 0.013996),
    ("tsolakidou2017, Table 9", "R161", 250.0, 789.54 / 0.0480595, 204.34e-6, 140.98e-3),
    ("tsolakidou2017, Table 9", "R161", 275.0, 745.02 / 0.0480595, 152.87e-6, 125.46e-3),
    ("tsolakidou2017, Table 9", "R161", 300.0, 693.43 / 0.0480595, 115.89e-6, 110.40e-3),
    ("tsolakidou2017, Table 9", "R161", 325.0, 631.73 / 0.0480595, 87.59e-6, 95.79e-3),
    ("tsolakidou2017, Table 9", "R161", 250.0, 4.63 / 0.0480595, 8.15e-6, 9.92e-3),
    ("tsolakidou2017, Table 9", "R161", 300.0, 22.76 / 0.0480595, 9.64e-6, 16.56e-3),
    ("monogenidou2018", "R717", 300.0, 609.0 / 0.01703026, 133.3937e-6, None),
    ("monogenidou2018", "R717", 300.0, 8.0 / 0.01703026, 9.9219e-6, None),
    ("monogenidou2018b", "R717", 390.0, 415.0 / 0.01703026, None, 264.145394e-3),
    ("fenghour1995, Appendix III", "R717", 240.0, 40031.8, 254.85e-6, None),
    ("fenghour1995, Appendix III", "R717", 300.0, 35229.8, 129.33e-6, None),
    ("fenghour1995, Appendix III", "R717", 300.0, 484.5, 9.89e-6, None),
]

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


def printed_rows(known):
    rows = []
    for _, name, T, rho, viscosity, conductivity in PRINTED:
        reference = method.Reference(transcribe.FLUIDS[name][0])
        near = reference.near(T, rho, method.far_temperature([known[name]], [1.0]))
        rows.append([name] + [number(v) for v in (T, rho, reference.s_plus(T, rho), reference.cp0(T),
                                                   *(near[k] for k in NEAR), viscosity, conductivity)])
    return rows


def main():
    known = components()
    library = {name: row[0] for name, row in transcribe.FLUIDS.items()}
    write("transport_pure.csv", "nan: the fluid has no reference correlation that is more than a prediction, or not there.",
          ["designation", "T", "rho", "s_plus", "cp0", *NEAR, "our_viscosity", "our_conductivity",
           "reference_viscosity", "reference_conductivity"], pure_rows(known))
    write("transport_printed.csv", "Values that papers print, with s+ and heat capacities of the same equations of state.",
          ["designation", "T", "rho", "s_plus", "cp0", *NEAR, "viscosity", "conductivity"],
          printed_rows(known), [row[0] for row in PRINTED])
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
