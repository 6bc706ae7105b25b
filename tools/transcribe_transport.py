#!/usr/bin/env python3
"""Makes data/transport.json: what each component needs for viscosity, conductivity and surface tension.

Published parameters come from tools/transport_tables.py. Where they are missing, or fail the two checks below,
a parameter is fitted here and the entry says so. Then the method is compared with the reference correlation of
each fluid that has one, on the grid of tools/transport_method.py, and the deviation that 95 % of the points
keep becomes the stated uncertainty.

Checks of a residual viscosity curve: it rises (d ln eta+/ds >= 0.2) up to s+ = 6 and to the coldest liquid of
the grid, since a blend asks a light component for values beyond its own range; and it stays within 12 %, in the
mean over the liquid, of an accepted reference correlation. A curve that fails gives way to the group's curve
with a fitted xi.

Usage:  python3 tools/transcribe_transport.py [--show]       (needs: pip install CoolProp)
--show prints the table of deviations and writes nothing.
"""

import json
import math
import pathlib
import re
import sys

import CoolProp
import CoolProp.CoolProp as CP

import transport_blends
import transport_correlations as correlations
import transport_method as method
import transport_tables as tables

OUT = pathlib.Path(__file__).resolve().parent.parent / "data" / "transport.json"

# Designation: name in the library, viscosity reference with its place in the library's list, conductivity
# reference, surface tension. Some references stand in tools/transport_correlations.py instead. None: no correlation there that is more than a prediction. Left out on purpose:
# viscosity of R143a (the library's predictive value lies 20 to 30 % below what measured R404A and R507A
# [geller2000] ask for), of R601 and R601a (the library's liquid values lie 20 and 10 % below handbooks).
FLUIDS = {
    "R11": ("R11", ("klein1997", 0), "mclinden2000", "mulero2012"),
    "R113": ("R113", None, None, "mulero2012"),
    "R114": ("R114", None, None, "mulero2012"),
    "R1123": ("R1123", None, None, "huber2018"),
    "R1130(E)": ("R1130(E)", None, None, None),
    "R1132(E)": ("R1132(E)", None, None, None),
    "R1132a": (None, None, None, None),
    "R115": ("R115", None, None, None),
    "R1150": ("Ethylene", ("sotiriadou2024", 0), "assael2016", "mulero2012"),
    "R116": ("R116", ("huber2003", 0), "huber2003", "mulero2012"),
    "R12": ("R12", ("klein1997", 0), "mclinden2000", "mulero2012"),
    "R123": ("R123", ("tanaka1996", 0), "laesecke1996", "mulero2012"),
    "R1233zd(E)": ("R1233zd(E)", None, "perkins2017", None),
    "R1234yf": ("R1234yf", ("huber2016b", 0), "perkins2011", "mulero2012"),
    "R1234ze(E)": ("R1234ze(E)", None, "perkins2011", "mulero2014"),
    "R1234ze(Z)": ("R1234ze(Z)", None, None, "kondou2015"),
    "R124": ("R124", ("huber2003", 1), "huber2003", "mulero2012"),
    "R1243zf": ("R1243zf", None, None, "kondou2015"),
    "R125": ("R125", ("huber2006", 0), "perkins2006", "mulero2012"),
    "R1270": ("Propylene", ("huber2003", 0), "assael2016", "mulero2012"),
    "R13": ("R13", ("huber2003", 0), "huber2003", "mulero2012"),
    "R1336mzz(E)": ("R1336mzz(E)", None, None, None),
    "R1336mzz(Z)": ("R1336mzz(Z)", None, "perkins2020", "huber2018"),
    "R134a": ("R134a", ("huber2003", 0), "mclinden2000", "mulero2012"),
    "R13I1": ("R13I1", None, None, None),
    "R14": ("R14", ("huber2003", 0), "huber2003", "mulero2012"),
    "R141b": ("R141b", ("huber2003", 0), "huber2003", "mulero2012"),
    "R142b": ("R142b", ("huber2003", 0), "huber2003", "mulero2012"),
    "R143a": ("R143a", None, "mclinden2000", "mulero2014"),
    "R152a": ("R152A", ("krauss1996", 1), "krauss1996", "mulero2012"),
    "R161": ("R161", ("tsolakidou2017", 0), "tsolakidou2017", "mulero2012"),
    "R170": ("Ethane", ("friend1991", 0), "friend1991", "mulero2012"),
    "R21": ("R21", None, None, "mulero2012"),
    "R218": ("R218", ("huber2003", 0), "huber2003", "mulero2012"),
    "R22": ("R22", ("klein1997", 1), "mclinden2000", "mulero2012"),
    "R227ea": ("R227EA", ("huber2003", 0), "huber2003", "mulero2012"),
    "R23": ("R23", ("shan2000", 0), "shan2000", "mulero2012"),
    "R236ea": ("R236EA", ("huber2003", 0), "huber2003", "mulero2012"),
    "R236fa": ("R236FA", ("huber2003", 0), "huber2003", "mulero2012"),
    "R245ca": ("R245ca", None, None, "mulero2012"),
    "R245fa": ("R245fa", ("huber2003", 1), "huber2003", "mulero2012"),
    "R290": ("n-Propane", ("vogel1998", 0), "marsh2002", "mulero2012"),
    "R32": ("R32", ("huber2003", 1), "huber2003", "mulero2012"),
    "R365mfc": ("R365MFC", None, None, "mulero2012"),
    "R40": ("R40", None, None, "mulero2014"),
    "R41": ("R41", None, None, "mulero2012"),
    "R50": ("Methane", ("quinones2006", 0), "friend1989", "mulero2012"),
    "R600": ("n-Butane", ("vogel1999", 0), "perkins2002b", "mulero2012"),
    "R600a": ("IsoButane", ("vogel2000", 0), "perkins2002", "mulero2012"),
    "R601": ("n-Pentane", None, "vassiliou2015", "mulero2012"),
    "R601a": ("Isopentane", None, "vassiliou2015", "mulero2012"),
    "R717": ("Ammonia", ("monogenidou2018", 0), "monogenidou2018b", "mulero2012"),
    "R718": ("Water", ("huber2009", 0), "huber2012", "mulero2012"),
    "R728": ("Nitrogen", ("lemmon2004air", 0), "lemmon2004air", "mulero2012"),
    "R744": ("CarbonDioxide", ("laesecke2017", 0), "huber2016", "mulero2012"),
    "RC318": ("RC318", ("huber2003", 0), "huber2003", "mulero2012"),
    "RE170": ("DimethylEther", ("meng2012", 0), None, "mulero2012"),
}

# Surface tension a (1 - T/T_c)^n that the library lacks: T_c in K, a in N/m, n.
TENSIONS = {"R1123": (331.73, 0.0612, 1.26), "R1243zf": (376.93, 0.05330, 1.247), "R1336mzz(Z)": (444.5, 0.06, 1.22)}

# Where a reference correlation begins, K: [krauss1996] diverges below, and the dilute-gas conductivities, linear
# in T, of the others head for zero. Ours, within the papers' ranges as from memory.
VISCOSITY_FROM = {"R152a": 240}
CONDUCTIVITY_FROM = {"R123": 250, "R161": 240, "R1234yf": 240, "R1234ze(E)": 240, "R134a": 240, "R152a": 240}

# A fluid that the library lacks: M [kg/mol], T_c [K], p_c [Pa], rho_c [mol/m3], T_boiling [K], from memory.
NOT_IN_LIBRARY = {"R1132a": (0.0640341, 302.8, 4.46e6, 6510.0, 187.5)}

STEEPNESS, REACH, FAR_OFF = 0.2, 6.0, 0.12
LJ_TOLERANCE = 0.01
PUBLISHED_VISCOSITY = 0.065     # [yang2022]: 68.2 % of the data within 3.2 %, so 95 % within about twice that
PUBLISHED_CONDUCTIVITY = 0.111  # [yang2021]: 95.4 % of the data of pure fluids within 11.1 %
GROUP_WITHOUT_REFERENCE = 0.15  # our estimate: two published estimates of R1123 differ by that, R161 is 9 % off
LEAST = 0.03                    # our estimate: the references' own uncertainty is seldom below


def collect(name):
    """The fluid's grid with everything of the equations and of the references on it."""
    library_name, viscosity_key, conductivity_key, _ = FLUIDS[name]
    if library_name is None:
        return None
    reference = method.Reference(library_name, viscosity_key[1] if viscosity_key else 0)
    for quantity, published in (("viscosity", correlations.VISCOSITY), ("conductivity", correlations.CONDUCTIVITY)):
        if name in published:
            reference.own[quantity] = published[name][1]
    points = []
    for T, rho in method.grid(reference):
        s = reference.s_plus(T, rho)
        point = {"region": method.region(s), "T": T, "rho": rho, "s": s, "cp0": reference.cp0(T)}
        for key, wanted, first, ask in (("viscosity", viscosity_key, VISCOSITY_FROM, reference.viscosity),
                                        ("conductivity", conductivity_key, CONDUCTIVITY_FROM, reference.conductivity)):
            try:
                if wanted and T >= first.get(name, 0):
                    point[key] = ask(T, rho)
            except ValueError:  # the library found no corresponding state there
                pass
        points.append(point)
    return reference, points


def critical_constants(name, reference):
    if name in NOT_IN_LIBRARY:
        return NOT_IN_LIBRARY[name]
    state = reference.state
    state.unspecify_phase()
    try:
        state.update(CP.PQ_INPUTS, 101325, 0)
        boiling = state.T()
    except ValueError:
        boiling = float("nan")
    return reference.M, reference.T_crit, reference.p_crit, reference.rho_crit, boiling


def lennard_jones(name, M, T_c, rho_c):
    """Published; fitted to the published dilute-gas viscosity where the two differ; else from the critical point."""
    if name not in tables.LENNARD_JONES:
        return T_c / 1.2593, 0.809 * (1e6 / rho_c) ** (1 / 3), "chung1988"
    epsilon, sigma = tables.LENNARD_JONES[name]
    temperatures = [260 + 10 * i for i in range(19)]
    wanted = [sum(m * T ** i for i, m in enumerate(tables.DILUTE_VISCOSITY[name])) for T in temperatures]

    def ratios(at):
        return [method.lennard_jones_viscosity(at, 1.0, M, T) / w for T, w in zip(temperatures, wanted)]

    def spread(at):
        r = ratios(at)
        mean = sum(r) / len(r)
        return sum((one / mean - 1) ** 2 for one in r)

    largest = max(abs(r / sigma ** 2 - 1) for r in ratios(epsilon))
    if largest <= LJ_TOLERANCE or name == "R1150":  # whose published polynomial swings by 5 %
        return epsilon, sigma, "yang2022"
    epsilon = method.smallest(spread, 0.25 * T_c, 1.6 * T_c)
    r = ratios(epsilon)
    return epsilon, math.sqrt(sum(r) / len(r)), "martinek2025, fitted to its dilute gas"


def deviations(points, region, key, ours):
    return [ours(p) / p[key] - 1 for p in points if p["region"] == region and key in p]


def rises(n, xi, up_to):
    def ln_plus(s):
        return math.log(math.expm1(method.series(n, method.VISCOSITY_POWERS, s / xi))) - 2 / 3 * math.log(s)
    s = 1.0
    while s < up_to:
        if ln_plus(s + 0.1) - ln_plus(s) < 0.1 * STEEPNESS:
            return False
        s += 0.1
    return True


def fitted_xi(component, block, points, key, evaluate, low=0.7, high=1.6):
    def cost(xi):
        block["xi"] = xi
        return sum((evaluate(p) / p[key] - 1) ** 2 for p in points if key in p and p["region"] == "liquid")
    block["xi"] = round(method.smallest(cost, low, high), 4)


def residual_viscosity(name, component, points, group_xi):
    """component["viscosity"], by the rules told above."""
    def evaluate(p):
        return method.viscosity([component], [1.0], p["T"], p["rho"], p["s"])

    block = component["viscosity"] = {"n": list(tables.HALOGENATED_GROUP), "xi": group_xi,
                                      "source": "martinek2025", "kind": "group, xi estimated"}
    if name not in tables.VISCOSITY:
        return
    block["xi"], block["n"] = tables.VISCOSITY[name][0], tables.VISCOSITY[name][1:]
    block["kind"] = "published" if block["xi"] == 1.0 else "group, published xi"
    liquid = deviations(points, "liquid", "viscosity", evaluate)
    coldest = max(p["s"] for p in points)
    steady = rises(block["n"], block["xi"], max(REACH, coldest))
    near = not liquid or sum(map(abs, liquid)) / len(liquid) <= FAR_OFF
    if steady and near:
        return
    group = list(tables.HALOGENATED_GROUP)
    if liquid:
        block["n"] = group
        fitted_xi(component, block, points, "viscosity", evaluate)
        block["kind"] = "group, xi fitted to reference"
        return
    for p in points:  # the published curve in the range where data stood behind it
        if 1.5 < p["s"] < 4.5 and p["region"] == "liquid":
            p["own"] = evaluate(p)
    block["n"] = group
    fitted_xi(component, block, points, "own", evaluate)
    block["kind"] = "group, xi fitted to the published curve below s+ = 4.5"


def internal_factor(reference, component, has_reference):
    """f_int of the dilute gas, linear in T, from the reference at low density; 1.32 without one."""
    if not has_reference:
        return [1.32, 0.0]
    rows, targets = [], []
    for i in range(9):
        low = method.f_int_low(component["surface_tension"]["T_c_K"])
        T = low + (method.F_INT_HIGH - low) * i / 8
        try:
            wanted = reference.conductivity(T, 1e-2)
        except ValueError:
            continue
        eta, M = method.dilute_viscosity(component, T), component["molar_mass_kg_per_mol"]
        internal = eta / M * (reference.cp0(T) - 2.5 * method.R)
        rows.append([internal / wanted, T * internal / wanted])
        targets.append((wanted - method.translational_conductivity(component, T)) / wanted)
    f0, f1 = method.least_squares(rows, targets)
    return [round(f0, 4), round(f1, 7)]


def residual_conductivity(name, component, reference, points, T_c):
    block = component["conductivity"] = {"n": list(tables.GLOBAL_CURVE), "xi": 1.0, "source": "yang2021",
                                         "kind": "global curve, xi = 1"}
    # Where not published: the values that [huber2003] takes for refrigerants in general.
    block["critical"] = {"phi0_m": 1.94e-10, "Gamma": 0.0496, "q_D_per_m": 2e9, "T_far_K": round(1.5 * T_c, 3)}
    if name in tables.CONDUCTIVITY:
        row = tables.CONDUCTIVITY[name]
        block["xi"], block["n"] = row[0], row[1:5]
        block["critical"] = dict(zip(("phi0_m", "Gamma", "q_D_per_m", "T_far_K"), row[5:]))
        block["kind"] = "published" if row[0] == 1.0 else "global curve, published xi"
        try_global_curve(component, block, reference, points)
        return
    known = [p for p in points if "conductivity" in p]
    if not known:
        return
    if name in ("R718", "R728", "R50"):  # unlike the fluids of the global curve
        rows, targets = [], []
        for p in known:
            s, unit = p["s"], method.conductivity_unit(reference.M, p["T"], p["rho"], p["s"]) / p["conductivity"]
            block["n"] = [0.0] * 4
            rest = conductivity(component, reference, p)
            rows.append([s ** power * unit for power in method.CONDUCTIVITY_POWERS])
            targets.append(1 - rest / p["conductivity"])
        block["n"] = [float(f"{n:.7g}") for n in method.least_squares(rows, targets)]
        block["kind"] = "fitted to reference"
    else:
        fitted_xi(component, block, points, "conductivity", lambda p: conductivity(component, reference, p))
        block["kind"] = "global curve, xi fitted to reference"


def try_global_curve(component, block, reference, points):
    """Takes the global curve with a fitted xi where the published one is far off and that one is much nearer."""
    def worst():
        found = [deviations(points, region, "conductivity", lambda p: conductivity(component, reference, p))
                 for region in method.REGIONS]
        return max((method.mean_and_largest(d)["p95"] for d in found if d), default=0)

    published, before = {key: block[key] for key in ("n", "xi", "kind")}, worst()
    if before <= FAR_OFF:
        return
    block["n"], block["kind"] = list(tables.GLOBAL_CURVE), "global curve, xi fitted to reference"
    fitted_xi(component, block, points, "conductivity", lambda p: conductivity(component, reference, p))
    if worst() > 0.7 * before:
        block.update(published)


def conductivity(component, reference, p):
    one, x = [component], [1.0]
    background = method.background_conductivity(one, x, p["T"], p["rho"], p["s"], [p["cp0"]])
    if "near" not in p:
        p["near"] = reference.near(p["T"], p["rho"], method.far_temperature(one, x))
    eta = method.viscosity(one, x, p["T"], p["rho"], p["s"])
    return background + method.enhancement(one, x, p["T"], p["rho"], eta, p["near"])


def surface_tension(name, M, T_c, p_c, boiling, library_name, key):
    if name in TENSIONS:
        own_T_c, a, n = TENSIONS[name]
        return {"source": key, "kind": "published", "stated_uncertainty": 0.05, "T_c_K": own_T_c,
                "terms": [{"a_N_per_m": a, "n": n}]}
    if key:
        tension = json.loads(CP.get_fluid_param_string(library_name, "JSON"))[0]["ANCILLARIES"]["surface_tension"]
        return {"source": key, "kind": "published", "stated_uncertainty": 0.05, "T_c_K": tension["Tc"],
                "terms": [{"a_N_per_m": a, "n": n} for a, n in zip(tension["a"], tension["n"])]}
    return {"source": "brock1955", "kind": "corresponding states", "stated_uncertainty": None, "T_c_K": T_c,
            "terms": [{"a_N_per_m": float(f"{corresponding_states_tension(T_c, p_c, boiling):.6g}"), "n": 11 / 9}]}


def corresponding_states_tension(T_c, p_c, boiling):
    """N/m before (1 - T/T_c)^(11/9) [brock1955], with alpha from the boiling point [miller1963]."""
    bar, part = p_c / 1e5, boiling / T_c
    return 1e-3 * bar ** (2 / 3) * T_c ** (1 / 3) * (0.1196 * (1 + part * math.log(bar / 1.01325) / (1 - part)) - 0.279)


def parachor(reference, block):
    """sigma^(1/4) / (rho' - rho'') in SI [macleod1923] [sugden1924]: mean and largest deviation 0.6 .. 0.9 T_c."""
    values = []
    for i in range(13):
        T = (0.6 + 0.025 * i) * reference.T_crit
        if T < reference.T_triple:
            continue
        liquid, vapour = reference.saturated(T, 0)[0], reference.saturated(T, 1)[0]
        values.append(method.tension_at(block, T) ** 0.25 / (liquid - vapour))
    mean = sum(values) / len(values)
    return mean, max(abs(v / mean - 1) for v in values)


def stated(measured, without):
    if not measured:
        return without
    return max(LEAST, math.ceil(measured["p95"] * 100) / 100)


def measure(component, reference, points):
    out = {}
    for key, ours in (("viscosity", lambda p: method.viscosity([component], [1.0], p["T"], p["rho"], p["s"])),
                      ("conductivity", lambda p: conductivity(component, reference, p))):
        for region in method.REGIONS:
            found = deviations(points, region, key, ours)
            if found:
                out[key, region] = method.mean_and_largest(found)
    return out


def make(name, group_xi):
    found = collect(name)
    reference, points = found if found else (None, [])
    library_name, viscosity_key, conductivity_key, tension_key = FLUIDS[name]
    M, T_c, p_c, rho_c, boiling = critical_constants(name, reference)
    epsilon, sigma, lj_source = lennard_jones(name, M, T_c, rho_c)
    component = {"designation": name, "molar_mass_kg_per_mol": M, "epsilon_over_k_K": float(f"{epsilon:.6g}"),
                 "sigma_angstrom": float(f"{sigma:.6g}"), "dilute_gas": {"source": lj_source}}
    if name in NOT_IN_LIBRARY:
        component["critical_constants"] = {"source": "from-memory"}
    block = component["surface_tension"] = surface_tension(name, M, T_c, p_c, boiling, library_name, tension_key)
    component["f_int"] = internal_factor(reference, component, conductivity_key) if reference else [1.32, 0.0]
    residual_viscosity(name, component, points, group_xi)
    residual_conductivity(name, component, reference, points, T_c)
    if reference:
        block["parachor"], block["parachor_spread"] = parachor(reference, block)
    else:  # from the liquid at the boiling point, Rackett's density as from memory: rho_c 2.65
        block["parachor"], block["parachor_spread"] = method.tension_at(block, 0.62 * T_c) ** 0.25 / (2.7 * rho_c), 0.1
    return component, reference, points, measure(component, reference, points)


def as_if_unknown(made):
    """How far a fluid without any published parameter may be off: the same treatment given to known fluids."""
    viscosities, conductivities, tensions = [], [], []
    mean_xi = group_mean_xi()
    for name, (component, reference, points, _) in made.items():
        if not reference or name in ("R717", "R718", "R728", "R50", "R744", "R170", "R1150"):
            continue
        trial = dict(component, f_int=[1.32, 0.0], epsilon_over_k_K=reference.T_crit / 1.2593,
                     sigma_angstrom=0.809 * (1e6 / reference.rho_crit) ** (1 / 3))
        trial["viscosity"] = {"n": tables.HALOGENATED_GROUP, "xi": mean_xi}
        trial["conductivity"] = dict(component["conductivity"], n=tables.GLOBAL_CURVE, xi=1.0)
        for p in points:
            if "viscosity" in p:
                viscosities.append(method.viscosity([trial], [1.0], p["T"], p["rho"], p["s"]) / p["viscosity"] - 1)
            if "conductivity" in p:
                conductivities.append(conductivity(trial, reference, p) / p["conductivity"] - 1)
        if component["surface_tension"]["kind"] == "published":
            _, T_c, p_c, _, boiling = critical_constants(name, reference)
            if not math.isnan(boiling):
                guess = corresponding_states_tension(T_c, p_c, boiling)
                for part in (0.6, 0.7, 0.8, 0.9):
                    published = method.tension_at(component["surface_tension"], part * T_c)
                    tensions.append(guess * (1 - part) ** (11 / 9) / published - 1)
    return [method.mean_and_largest(d) for d in (viscosities, conductivities, tensions)]


def group_mean_xi():
    own = [row[0] for row in tables.VISCOSITY.values() if row[1:] == tables.HALOGENATED_GROUP and row[0] < 1.15]
    return round(sum(own) / len(own), 4)


def rounded(value):
    return {key: round(v, 4) if isinstance(v, float) else v for key, v in value.items()}


def pooled(made):
    """By quantity and region: within what 95 % of the fluids keep their own 95 %."""
    out = {}
    for _, _, _, measured in made.values():
        for key, m in measured.items():
            out.setdefault(key, []).append(m["p95"])
    return {key: method.mean_and_largest(values)["p95"] for key, values in out.items()}


def entry(name, component, measured, unknown, others):
    viscosity_unknown, conductivity_unknown, tension_unknown = unknown
    _, viscosity_key, conductivity_key, _ = FLUIDS[name]
    visc, cond, tension = component["viscosity"], component["conductivity"], component["surface_tension"]
    fallback = {"published": PUBLISHED_VISCOSITY, "group, xi estimated": stated(viscosity_unknown, 0)}
    visc_without = fallback.get(visc["kind"], GROUP_WITHOUT_REFERENCE)
    cond_without = stated(conductivity_unknown, 0) if cond["kind"] == "global curve, xi = 1" else PUBLISHED_CONDUCTIVITY
    if tension["stated_uncertainty"] is None:
        tension["stated_uncertainty"] = stated(tension_unknown, 0)
    for block, key, reference_key, without in (
            (visc, "viscosity", viscosity_key and viscosity_key[0], visc_without),
            (cond, "conductivity", conductivity_key, cond_without)):
        block["uncertainty"] = {}
        for region in method.REGIONS:
            guess = max(without, math.ceil(100 * others[key, region]) / 100) if region == "dense" else without
            block["uncertainty"][region] = stated(measured.get((key, region)), guess)
        if reference_key:
            block["compared_with"] = {"source": reference_key, **{region: rounded(measured[key, region])
                                                                  for region in method.REGIONS if (key, region) in measured}}
    component["dilute_gas"]["f_int"] = component.pop("f_int")
    tension["parachor"] = float(f"{tension['parachor']:.6g}")
    tension["parachor_spread"] = round(tension["parachor_spread"], 4)
    return component


def compact_rows(text):
    """One block a line instead of one number a line."""
    return re.sub(r"[\[{]([^\[\]{}]*)[\]}]", lambda m: re.sub(r"\s*\n\s*", " ", m.group(0)), text)


def show(made, unknown, blends):
    print("mean and largest |deviation| in % (points)")
    print(f"{'':12}" + "".join(f"{key + ' ' + region:22}" for key in ("viscosity", "conductivity") for region in method.REGIONS))
    for name, (component, _, _, measured) in made.items():
        cells = []
        for key in ("viscosity", "conductivity"):
            for region in method.REGIONS:
                m = measured.get((key, region))
                cells.append(f"{100 * m['mean']:5.1f} {100 * m['p95']:5.1f} {100 * m['largest']:5.1f} ({m['points']})" if m else "-")
        print(f"{name:12}" + "".join(f"{c:22}" for c in cells) + f"{component['viscosity']['kind']} {component['viscosity']['xi']}; "
              f"{component['conductivity']['kind']} {component['conductivity']['xi']}; {component['dilute_gas']['source']} {component.get('f_int')}; "
              f"parachor +-{100 * component['surface_tension']['parachor_spread']:.1f}")
    for (name, key, region), m in blends.items():
        print(f"{name:8}{key:16}{region:8}mean {100 * m['mean']:.1f}, 95 % within {100 * m['p95']:.1f}, largest {100 * m['largest']:.1f} %")
    for what, m in zip(("viscosity", "conductivity", "surface tension"), unknown):
        print(f"as if nothing were known, {what}: mean {100 * m['mean']:.1f}, 95 % within {100 * m['p95']:.1f}, largest {100 * m['largest']:.1f} %")


def main():
    made = {name: make(name, group_mean_xi()) for name in FLUIDS}
    unknown = as_if_unknown(made)
    blends = transport_blends.measure(made, {name: row[0] for name, row in FLUIDS.items()})
    show(made, unknown, blends)
    if "--show" in sys.argv:
        return
    others = pooled(made)
    document = {
        "made_by": "tools/transcribe_transport.py: parameters of the cited papers, fitted where `kind` says so; "
                   f"deviations measured against the correlations that CoolProp {CoolProp.__version__} carries",
        "method": {"viscosity": {"source": "martinek2025"}, "conductivity": {"source": "yang2021"},
                   "collision_integral": {"source": "kim2014"}, "critical_enhancement": {"source": "olchowy1989"},
                   "blends": {"sources": ["wilke1950", "mason1958", "weinaug1943"]}},
        "least_uncertainty_of_blends": {
            "compared_with": {"sources": ["geller2000", "geller2001", "okada1999"]},
            **{key: {region: stated(blends["blends", key, region], 0) for region in method.REGIONS}
               for key in ("viscosity", "conductivity")},
            "surface_tension": stated(blends["blends", "surface tension", ""], 0)},
        "components": [entry(name, component, measured, unknown, others) for name, (component, _, _, measured) in made.items()],
    }
    OUT.write_text(compact_rows(json.dumps(document, indent=1)) + "\n")
    print(f"wrote {OUT.relative_to(OUT.parent.parent)}")


if __name__ == "__main__":
    main()
