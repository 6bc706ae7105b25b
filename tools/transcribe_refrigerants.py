#!/usr/bin/env python3
"""Transcribes published coefficients into data/refrigerants/<R>.json, in this project's own format.

The numbers are those of the cited papers (keys in data/references.bib); CoolProp, an open
general-purpose library that carries them in machine-readable form, saves the retyping.

Usage:  python3 tools/transcribe_refrigerants.py        (needs: pip install CoolProp)
The fitted saturation curves beside these files come from tools/fit_saturation.cpp.
The bibliography of each equation is taken over into data/references.bib where it isn't there yet.
"""
import json
import math
import pathlib
import re

import CoolProp
import CoolProp.CoolProp as CP

BIBLIOGRAPHY = pathlib.Path(__file__).resolve().parent.parent / "data" / "references.bib"
DATA = pathlib.Path(__file__).resolve().parent.parent / "data" / "refrigerants"

# The library's name, our designation and keys. Uncertainties: the largest that the authors state
# within liquid and vapour as met in refrigeration, recalled from memory.
REFRIGERANTS = [
    {
        "library_name": "n-Propane", "designation": "R290", "name": "propane",
        "also_called": ["propane", "n-propane", "HC-290"],
        "equation": "lemmon2009", "melting": "reeves1964", "p_max": 100e6,
        "p_max_reason": "our choice: the paper goes to 1000 MPa, far above any refrigeration circuit",
        "viscosity": ("vogel1998", 0.04), "conductivity": ("marsh2002", 0.05),
    },
    {
        "library_name": "IsoButane", "designation": "R600a", "name": "isobutane",
        "also_called": ["isobutane", "2-methylpropane", "HC-600a"],
        "equation": "buecker2006", "melting": "buecker2006", "p_max": 35e6,
        "p_max_reason": "limit of the equation",
        "viscosity": ("vogel2000", 0.06), "conductivity": ("perkins2002", 0.05),
    },
    {
        "library_name": "R134a", "designation": "R134a", "name": "1,1,1,2-tetrafluoroethane",
        "also_called": ["1,1,1,2-tetrafluoroethane", "HFC-134a"],
        "equation": "tillnerroth1994", "melting": None, "p_max": 70e6,
        "p_max_reason": "limit of the equation",
        "viscosity": ("huber2003", 0.05), "conductivity": ("mclinden2000", 0.05),
    },
]


# Equation of state alone: (the library's name, designation, name, what else people call it).
# Viscosity and conductivity of these come from one method for all, see docs/theory/fluids.md.
EQUATION_ONLY = [
    ("R11", "R11", "trichlorofluoromethane", ["CFC-11"]),
    ("R12", "R12", "dichlorodifluoromethane", ["CFC-12"]),
    ("R13", "R13", "chlorotrifluoromethane", ["CFC-13"]),
    ("R13I1", "R13I1", "trifluoroiodomethane", ["CF3I"]),
    ("R14", "R14", "tetrafluoromethane", ["PFC-14"]),
    ("R22", "R22", "chlorodifluoromethane", ["HCFC-22"]),
    ("R23", "R23", "trifluoromethane", ["HFC-23"]),
    ("R32", "R32", "difluoromethane", ["HFC-32"]),
    ("R41", "R41", "fluoromethane", ["HFC-41"]),
    ("R113", "R113", "1,1,2-trichlorotrifluoroethane", ["CFC-113"]),
    ("R114", "R114", "1,2-dichlorotetrafluoroethane", ["CFC-114"]),
    ("R115", "R115", "chloropentafluoroethane", ["CFC-115"]),
    ("R116", "R116", "hexafluoroethane", ["PFC-116"]),
    ("R123", "R123", "2,2-dichloro-1,1,1-trifluoroethane", ["HCFC-123"]),
    ("R124", "R124", "2-chloro-1,1,1,2-tetrafluoroethane", ["HCFC-124"]),
    ("R125", "R125", "pentafluoroethane", ["HFC-125"]),
    ("R141b", "R141b", "1,1-dichloro-1-fluoroethane", ["HCFC-141b"]),
    ("R142b", "R142b", "1-chloro-1,1-difluoroethane", ["HCFC-142b"]),
    ("R143a", "R143a", "1,1,1-trifluoroethane", ["HFC-143a"]),
    ("R152A", "R152a", "1,1-difluoroethane", ["HFC-152a"]),
    ("R161", "R161", "fluoroethane", ["HFC-161"]),
    ("Ethane", "R170", "ethane", ["ethane", "HC-170"]),
    ("R218", "R218", "octafluoropropane", ["PFC-218"]),
    ("R227EA", "R227ea", "1,1,1,2,3,3,3-heptafluoropropane", ["HFC-227ea"]),
    ("R236FA", "R236fa", "1,1,1,3,3,3-hexafluoropropane", ["HFC-236fa"]),
    ("R245fa", "R245fa", "1,1,1,3,3-pentafluoropropane", ["HFC-245fa"]),
    ("n-Butane", "R600", "butane", ["butane", "n-butane", "HC-600"]),
    ("n-Pentane", "R601", "pentane", ["pentane", "n-pentane", "HC-601"]),
    ("Isopentane", "R601a", "isopentane", ["isopentane", "2-methylbutane", "HC-601a"]),
    ("Ammonia", "R717", "ammonia", ["ammonia", "NH3"]),
    ("Water", "R718", "water", ["water", "H2O"]),
    ("Nitrogen", "R728", "nitrogen", ["nitrogen", "N2"]),
    ("CarbonDioxide", "R744", "carbon dioxide", ["carbon dioxide", "CO2"]),
    ("Ethylene", "R1150", "ethylene", ["ethylene", "ethene", "HC-1150"]),
    ("Propylene", "R1270", "propylene", ["propylene", "propene", "HC-1270"]),
    ("DimethylEther", "RE170", "dimethyl ether", ["dimethyl ether", "DME", "E170"]),
    ("RC318", "RC318", "octafluorocyclobutane", ["C318", "PFC-C318"]),
    ("R1123", "R1123", "trifluoroethene", ["HFO-1123"]),
    ("R1130(E)", "R1130(E)", "trans-1,2-dichloroethene", ["HCO-1130(E)"]),
    ("R1132(E)", "R1132(E)", "trans-1,2-difluoroethene", ["HFO-1132(E)"]),
    ("R1224YDZ", "R1224yd(Z)", "(Z)-1-chloro-2,3,3,3-tetrafluoropropene", ["HCFO-1224yd(Z)"]),
    ("R1233zd(E)", "R1233zd(E)", "trans-1-chloro-3,3,3-trifluoropropene", ["HCFO-1233zd(E)"]),
    ("R1234yf", "R1234yf", "2,3,3,3-tetrafluoropropene", ["HFO-1234yf"]),
    ("R1234ze(E)", "R1234ze(E)", "trans-1,3,3,3-tetrafluoropropene", ["HFO-1234ze(E)"]),
    ("R1234ze(Z)", "R1234ze(Z)", "cis-1,3,3,3-tetrafluoropropene", ["HFO-1234ze(Z)"]),
    ("R1243zf", "R1243zf", "3,3,3-trifluoropropene", ["HFO-1243zf"]),
    ("R1336mzz(E)", "R1336mzz(E)", "trans-1,1,1,4,4,4-hexafluoro-2-butene", ["HFO-1336mzz(E)"]),
    ("R1336mzz(Z)", "R1336mzz(Z)", "cis-1,1,1,4,4,4-hexafluoro-2-butene", ["HFO-1336mzz(Z)"]),
]

# Where family name and year alone would name another work.
KEYS = {"Span-JPCRD-2000": "span2000nitrogen", "Buecker-JPCRD-2006": "buecker2006ethane",
        "Buecker-JPCRD-2006B": "buecker2006", "TillnerRoth-JPCRD-1997": "tillnerroth1997",
        "Akasaka-IJR-2020-R1123": "akasaka2020", "McLinden-NISTIR-8570": "mclinden2025"}


def ideal_part(blocks, T_reducing):
    out = {"a1": 0.0, "a2": 0.0, "log_tau": 0.0, "power": [], "einstein": [], "iir_shift": {"a1": 0.0, "a2": 0.0}}
    for block in blocks:
        kind = block["type"]
        if kind == "IdealGasHelmholtzLead":
            out["a1"] += block["a1"]
            out["a2"] += block["a2"]
        elif kind == "IdealGasHelmholtzLogTau":
            out["log_tau"] += block["a"]
        elif kind in ("IdealGasHelmholtzCP0PolyT", "IdealGasHelmholtzCP0Constant"):
            add_heat_capacity(out, block, T_reducing)
        elif kind == "IdealGasHelmholtzPlanckEinsteinFunctionT":
            out["einstein"] += [{"m": n, "theta": v / T_reducing} for n, v in zip(block["n"], block["v"])]
        elif kind == "IdealGasHelmholtzPower":
            out["power"] += [{"n": n, "t": t} for n, t in zip(block["n"], block["t"])]
        elif kind == "IdealGasHelmholtzPlanckEinstein":
            out["einstein"] += [{"m": n, "theta": t} for n, t in zip(block["n"], block["t"])]
        elif kind == "IdealGasHelmholtzEnthalpyEntropyOffset":
            out["iir_shift"] = {"a1": block["a1"], "a2": block["a2"]}
        else:
            raise SystemExit(f"ideal term not known here: {kind}")
    return out


def add_heat_capacity(out, block, T_reducing):
    """cp0/R = sum c T^t, integrated twice: c ln tau for t = 0, c T_r^t tau^-t / (-t (t + 1)) else. The constants of
    integration only move the zeros of h and s; they are the library's, so that an answer can be compared."""
    T0 = block["T0"]
    tau0 = T_reducing / T0
    rows = zip(block["c"], block["t"]) if "c" in block else [(block["cp_over_R"], 0)]
    for c, t in rows:
        if t == 0:
            out["log_tau"] += c
            out["a1"] += c - c * math.log(tau0)
            out["a2"] -= c / tau0
        else:
            assert t != -1
            out["power"].append({"n": -c * T_reducing ** t / (t * (t + 1)), "t": -t})
            out["a1"] += c * T0 ** t / t
            out["a2"] -= c * T0 ** (t + 1) / (T_reducing * (t + 1))


def residual_part(blocks):
    out = {"power": [], "gaussian": []}
    for block in blocks:
        kind = block["type"]
        if kind == "ResidualHelmholtzExponential":
            out["power"] += [{"n": n, "t": t, "d": d, "l": l} | ({"g": g} if g != 1 else {})
                             for n, t, d, l, g in zip(*(block[k] for k in ("n", "t", "d", "l", "g")))]
        elif kind == "ResidualHelmholtzLemmon2005":
            out["power"] += [{"n": n, "t": t, "d": d, "l": l} | ({"m": m} if m else {})
                             for n, t, d, l, m in zip(*(block[k] for k in ("n", "t", "d", "l", "m")))]
        elif kind == "ResidualHelmholtzGaoB":
            keys = ("n", "t", "d", "epsilon", "beta", "gamma", "b")
            out.setdefault("gao", [])
            out["gao"] += [dict(zip(keys, row)) | {"eta": -eta}
                           for eta, *row in zip(block["eta"], *(block[k] for k in keys))]
        elif kind == "ResidualHelmholtzNonAnalytic":
            keys = ("n", "a", "b", "beta", "A", "B", "C", "D")
            out["non_analytic"] = [dict(zip(keys, row)) for row in zip(*(block[k] for k in keys))]
        elif kind == "ResidualHelmholtzPower":
            out["power"] += [{"n": n, "t": t, "d": d, "l": l}
                             for n, t, d, l in zip(block["n"], block["t"], block["d"], block["l"])]
        elif kind == "ResidualHelmholtzGaussian":
            keys = ("n", "t", "d", "eta", "epsilon", "beta", "gamma")
            out["gaussian"] += [dict(zip(keys, row)) for row in zip(*(block[k] for k in keys))]
        else:
            raise SystemExit(f"residual term not known here: {block['type']}")
    return out


def melting_line(source, key):
    if key is None:
        return None
    part = source["parts"][0]
    if source["type"] == "Simon":
        a, c = part["a"], part["c"]
    else:  # the paper scales with its triple point pressure
        a, c = part["a"][0] * part["p_0"], part["t"][0]
    return {"source": key, "T0_K": part["T_0"], "p0_Pa": part["p_0"], "a_Pa": a, "c": c}


def viscosity(source, key, uncertainty):
    dilute, initial, high = source["dilute"], source["initial_density"], source["higher_order"]
    assert dilute["type"] == "collision_integral" and initial["type"] == "Rainwater-Friend"
    assert high["type"] == "modified_Batschinski_Hildebrand" and not any(high["gamma"])
    assert high["t2"] == [0] and len(high["f"]) == 1
    return {
        "source": key, "stated_uncertainty": uncertainty,
        "epsilon_over_k_K": source["epsilon_over_k"], "sigma_m": source["sigma_eta"],
        "dilute": {"constant": dilute["C"], "molar_mass_kg_per_mol": dilute["molar_mass"],
                   "collision": [{"a": a, "t": t} for a, t in zip(dilute["a"], dilute["t"])]},
        "initial_density": [{"b": b, "t": t} for b, t in zip(initial["b"], initial["t"])],
        "residual": {
            "T_K": high["T_reduce"], "rho_mol_per_m3": high["rhomolar_reduce"],
            "terms": [{"a_Pa_s": a, "d": d, "t": t} for a, d, t in zip(high["a"], high["d1"], high["t1"])],
            "close_packing": {"f_Pa_s": high["f"][0], "d": high["d2"][0],
                              "numerator": [{"g": g, "t": t} for g, t in zip(high["g"], high["h"])],
                              "denominator": [{"g": g, "t": t} for g, t in zip(high["p"], high["q"])]},
        },
    }


def conductivity(source, equation, p_crit, key, uncertainty):
    dilute, residual, critical = source["dilute"], source["residual"], source["critical"]
    assert dilute["n"] == list(range(len(dilute["n"]))) and dilute["B"] == [1.0]
    assert critical["type"] == "simplified_Olchowy_Sengers"
    reducing = equation["STATES"]["reducing"]
    return {
        "source": key, "stated_uncertainty": uncertainty,
        "dilute": {"T_K": dilute["T_reducing"], "a_W_per_m_K": dilute["A"]},
        "residual": {"T_K": residual["T_reducing"], "rho_kg_per_m3": residual["rhomass_reducing"],
                     "terms": [{"b_W_per_m_K": b, "d": d, "t": t}
                               for b, d, t in zip(residual["B"], residual["d"], residual["t"])]},
        "critical_enhancement": {
            "source": "olchowy1989", "R0": critical["R0"], "Gamma": critical["GAMMA"],
            "gamma": critical["gamma"], "nu": 0.63, "xi0_m": critical["zeta0"], "q_D_per_m": critical["qD"],
            "T_far_K": critical.get("T_ref", 1.5 * reducing["T"]),
            "T_K": reducing["T"], "p_Pa": p_crit, "rho_mol_per_m3": reducing["rhomolar"]},
    }


def citation_key(library_key):
    """lemmon2009 of Lemmon-JCED-2009, and its entry in the bibliography."""
    family, *_, = library_key.split("-")
    key = KEYS.get(library_key) or family.lower() + re.search(r"(?:19|20)\d\d", library_key).group(0)
    text = BIBLIOGRAPHY.read_text()
    if f"{{{key}," not in text:
        BIBLIOGRAPHY.write_text(text.rstrip("\n") + "\n\n" + entry(key, library_key))
    return key


def entry(key, library_key):
    library = pathlib.Path(CoolProp.__file__).parent / "CoolPropBibTeXLibrary.bib"
    found = re.search(r"@(\w+)\{" + re.escape(library_key) + r",(.*?)\n\}", library.read_text(), re.S)
    fields = {}
    for name, value in re.findall(r"\n\s*(\w+)\s*=\s*(\{.*?\}|\w+)\s*,?\s*(?=\n\s*\w+\s*=|\Z|\n\s*\n)", found.group(2), re.S):
        fields[name.lower()] = re.sub(r"\s+", " ", value.strip("{}"))
    kept = [f"  {k:<9} = {{{fields[k]}}}," for k in
            ("author", "title", "journal", "booktitle", "publisher", "institution", "volume", "number", "pages", "year", "doi")
            if fields.get(k)]
    return f"@{found.group(1).lower()}{{{key},\n" + "\n".join(kept) + "\n}\n"


def to_iir(name, equation, reducing):
    """What a1 and a2 need besides, for h = 200 kJ/kg and s = 1 kJ/(kg K) in liquid at 0 C [iir]; nothing for what has
    no liquid there, and for water, whose own reference everybody uses."""
    state = CP.AbstractState("HEOS", name)
    if name == "Water" or not equation["Ttriple"] < 273.15 < state.T_critical():
        return 0.0, 0.0
    state.update(CP.QT_INPUTS, 0, 273.15)
    R, M = equation["gas_constant"], equation["molar_mass"]
    dh, ds = 200e3 - state.hmass(), 1e3 - state.smass()
    return -ds * M / R, dh * M / (R * reducing["T"])


def surface_tension(source, uncertainty=0.05):
    tension = source["ANCILLARIES"].get("surface_tension")
    if not tension or "Mulero" not in tension.get("BibTeX", ""):
        return None
    key = {"Mulero-JPCRD-2012": "mulero2012", "Mulero-JPCRD-2014": "mulero2014"}[tension["BibTeX"]]
    return {"source": key, "stated_uncertainty": uncertainty, "T_c_K": tension["Tc"],
            "terms": [{"a_N_per_m": a, "n": n} for a, n in zip(tension["a"], tension["n"])]}


def transcribe(row):
    source = json.loads(CP.get_fluid_param_string(row["library_name"], "JSON"))[0]
    equation, transport = source["EOS"][0], source.get("TRANSPORT", {})
    reducing = equation["STATES"]["reducing"]
    ideal = ideal_part(equation["alpha0"], reducing["T"])
    if "equation" not in row:  # to one reference state for all
        a1, a2 = to_iir(row["library_name"], equation, reducing)
        ideal["iir_shift"]["a1"] += a1
        ideal["iir_shift"]["a2"] += a2
    T_max = max(equation["T_max"], 1.01 * source["STATES"]["critical"]["T"])
    p_max = row.get("p_max", min(equation["p_max"], 100e6))
    reason = "limit of the equation" if p_max == equation["p_max"] else \
        "our choice: the paper goes higher, far above any refrigeration circuit"
    out = {
        "designation": row["designation"], "name": row["name"], "also_called": row["also_called"],
        "made_by": f"tools/transcribe_refrigerants.py, numbers of the cited papers through CoolProp {CoolProp.__version__}",
        "CAS": source["INFO"]["CAS"],
        "molar_mass_kg_per_mol": equation["molar_mass"],
        "equation_of_state": {
            "source": row.get("equation") or citation_key(equation["BibTeX_EOS"]),
            "gas_constant_J_per_mol_K": equation["gas_constant"],
            "reducing": {"T_K": reducing["T"], "rho_mol_per_m3": reducing["rhomolar"]},
            "published_critical_point": {"T_K": source["STATES"]["critical"]["T"],
                                         "p_Pa": source["STATES"]["critical"]["p"],
                                         "rho_mol_per_m3": source["STATES"]["critical"]["rhomolar"]},
            "range": {"T_triple_K": equation["Ttriple"], "T_max_K": T_max, "p_max_Pa": p_max,
                      "p_max_reason": row.get("p_max_reason", reason)},
            "ideal": ideal, "residual": residual_part(equation["alphar"]),
        },
    }
    if "viscosity" in row:
        out["viscosity"] = viscosity(transport["viscosity"], *row["viscosity"])
        out["conductivity"] = conductivity(transport["conductivity"], equation,
                                           source["STATES"]["critical"]["p"], *row["conductivity"])
    tension = surface_tension(source)
    if tension:
        out["surface_tension"] = tension
    melting = melting_line(source["ANCILLARIES"].get("melting_line"), row.get("melting"))
    if melting:
        out["melting_line"] = melting
    return out


# No reference equation published at hand: the residual part of a similar molecule (nearly the same acentric factor) at
# this one's critical temperature and pressure, by corresponding states; the ideal part is the similar molecule's.
ESTIMATED = [
    {"designation": "R1132a", "name": "1,1-difluoroethene", "also_called": ["HFO-1132a", "vinylidene fluoride"],
     "CAS": "75-38-7", "like": "R1270", "T_crit": 302.8, "p_crit": 4.46e6, "M": 0.064034, "T_triple": 129.0},
]


def estimate(row):
    """T_crit and p_crit are from memory; with them the normal boiling point comes out at 187.5 K, as recalled too."""
    out = json.loads((DATA / f"{row['like']}.json").read_text())
    equation = out["equation_of_state"]
    old = equation["reducing"]
    shrink = old["T_K"] / row["T_crit"]
    z = equation["published_critical_point"]["p_Pa"] / (
        old["rho_mol_per_m3"] * equation["gas_constant_J_per_mol_K"] * old["T_K"])
    rho = row["p_crit"] / (z * equation["gas_constant_J_per_mol_K"] * row["T_crit"])
    equation["source"] = "our-estimate"
    equation["estimated_by"] = f"corresponding states from {row['like']}; critical point from memory"
    equation["reducing"] = {"T_K": row["T_crit"], "rho_mol_per_m3": rho}
    equation["published_critical_point"] = {"T_K": row["T_crit"], "p_Pa": row["p_crit"], "rho_mol_per_m3": rho}
    equation["range"] |= {"T_triple_K": row["T_triple"], "T_max_K": 450.0, "p_max_Pa": 30e6,
                          "p_max_reason": "our choice: an estimate goes no further"}
    ideal = equation["ideal"]
    ideal["einstein"] = [{"m": k["m"], "theta": k["theta"] * shrink} for k in ideal["einstein"]]
    ideal["power"] = [{"n": k["n"] * shrink ** k["t"], "t": k["t"]} for k in ideal["power"]]
    kept = {"designation": row["designation"], "name": row["name"], "also_called": row["also_called"],
            "made_by": "tools/transcribe_refrigerants.py, estimated", "CAS": row["CAS"],
            "molar_mass_kg_per_mol": row["M"], "equation_of_state": equation}
    return kept


def compact_rows(text):
    """One table row a line instead of one number a line."""
    return re.sub(r"[\[{]([^\[\]{}]*)[\]}]", lambda m: re.sub(r"\s*\n\s*", " ", m.group(0)), text)


if __name__ == "__main__":
    plain = [dict(zip(("library_name", "designation", "name", "also_called"), row)) for row in EQUATION_ONLY]
    for row in REFRIGERANTS + plain:
        path = DATA / f"{row['designation']}.json"
        path.write_text(compact_rows(json.dumps(transcribe(row), indent=2)) + "\n")
        print(f"wrote {path.relative_to(DATA.parent.parent)}")
    for row in ESTIMATED:
        path = DATA / f"{row['designation']}.json"
        path.write_text(compact_rows(json.dumps(estimate(row), indent=2)) + "\n")
        print(f"estimated {path.relative_to(DATA.parent.parent)}")
