#!/usr/bin/env python3
"""Transcribes the published parameters of binary mixtures into data/blends/pairs.json, in this project's own form.

The numbers are those of the cited papers; the source archive of CoolProp, an open general-purpose library, carries
them in machine-readable form. A pair of our refrigerants that is missing here has no published parameters at hand.

Usage:  python3 tools/transcribe_pairs.py FOLDER     (of `dev/mixtures` in CoolProp's source archive from PyPI;
                                                      needs: pip install CoolProp for the bibliography)
"""
import json
import math
import pathlib
import re
import sys

import CoolProp

from transcribe_refrigerants import DATA, KEYS, citation_key, compact_rows

KEYS_WITHOUT_NAME = ("", "-")


def refrigerants():
    """CAS number -> (designation, T_reducing, rho_reducing) of all that data/refrigerants carries."""
    out = {}
    for path in sorted(DATA.glob("*.json")):
        if path.name.endswith(".saturation.json"):
            continue
        data = json.loads(path.read_text())
        reducing = data["equation_of_state"]["reducing"]
        out[data["CAS"]] = (data["designation"], reducing["T_K"], reducing["rho_mol_per_m3"])
    return out


def departure(function):
    """Power and bell-shaped terms, as in the residual part of a refrigerant."""
    kind, n, t, d = function["type"], function["n"], function["t"], function["d"]
    if kind == "Exponential":
        return {"power": [{"n": a, "t": b, "d": c, "l": l} for a, b, c, l in zip(n, t, d, function["l"])]}
    assert kind == "GERG-2008", f"{function['Name']}: a form not needed so far"
    powers = function["Npower"]
    out = {"power": [{"n": a, "t": b, "d": c, "l": 0} for a, b, c in zip(n[:powers], t, d)], "gaussian": []}
    keys = ("n", "t", "d", "eta", "epsilon", "beta", "gamma")
    for a, b, c, eta, epsilon, beta, gamma in list(zip(*(function[k] for k in keys)))[powers:]:
        # exp(-eta (delta - epsilon)^2 - beta (delta - gamma)) [kunz2012] is a decay, or a bell around another place.
        if eta == 0:
            out["power"].append({"n": a * math.exp(beta * gamma), "t": b, "d": c, "l": 1, "g": beta})
        else:
            place = epsilon - beta / (2 * eta)
            scale = math.exp(eta * (place ** 2 - epsilon ** 2) + beta * gamma)
            out["gaussian"].append({"n": a * scale, "t": b, "d": c, "eta": eta, "epsilon": place, "beta": 0.0,
                                    "gamma": 0.0})
    return out


def parameters(pair, first, second):
    """beta and gamma with the first component as i; from xi and zeta [lemmon2004] they follow exactly."""
    if "xi" in pair:
        (_, T1, rho1), (_, T2, rho2) = first, second
        v1, v2 = 1 / rho1, 1 / rho2
        return {"beta_T": 1.0, "gamma_T": (T1 + T2 + pair["xi"]) / (2 * (T1 * T2) ** 0.5), "beta_v": 1.0,
                "gamma_v": (v1 + v2 + pair["zeta"]) / (0.25 * (v1 ** (1 / 3) + v2 ** (1 / 3)) ** 3)}
    return {"beta_T": pair["betaT"], "gamma_T": pair["gammaT"], "beta_v": pair["betaV"], "gamma_v": pair["gammaV"]}


def main():
    folder = pathlib.Path(sys.argv[1])
    ours = refrigerants()
    functions = {}
    for function in json.loads((folder / "mixture_departure_functions.json").read_text()):
        for name in [function["Name"], *function["aliases"]]:
            functions[name] = function
    pairs, used = [], {}
    for pair in json.loads((folder / "mixture_binary_pairs.json").read_text()):
        if pair["CAS1"] not in ours or pair["CAS2"] not in ours:
            continue
        first, second = ours[pair["CAS1"]], ours[pair["CAS2"]]
        row = {"of": first[0], "and": second[0], **parameters(pair, first, second)}
        name = pair.get("function", "")
        if pair["F"] != 0 and name not in KEYS_WITHOUT_NAME:
            try:
                used[functions[name]["Name"]] = {**departure(functions[name]),
                                                 "source": citation_key(functions[name]["BibTeX"])}
            except AssertionError as reason:
                print(f"left out {row['of']}/{row['and']}: {reason}")
                continue
            row |= {"F": pair["F"], "departure": functions[name]["Name"]}
        if pair["BibTeX"] not in KEYS and not re.search(r"(?:19|20)\d\d", pair["BibTeX"]):
            print(f"left out {row['of']}/{row['and']}: its source is given as {pair['BibTeX']!r}")
            continue
        pairs.append(row | {"source": citation_key(pair["BibTeX"])})
    pairs.sort(key=lambda row: (row["of"], row["and"]))
    out = {"made_by": f"tools/transcribe_pairs.py from CoolProp {CoolProp.__version__}, numbers of the cited papers",
           "departures": used, "pairs": pairs}
    path = DATA.parent / "blends" / "pairs.json"
    path.parent.mkdir(exist_ok=True)
    path.write_text(compact_rows(json.dumps(out, indent=2)) + "\n")
    print(f"{len(pairs)} pairs, {len(used)} departure functions")


if __name__ == "__main__":
    main()
