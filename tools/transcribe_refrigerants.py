#!/usr/bin/env python3
"""Transcribes published coefficients into data/refrigerants/<R>.json, in this project's own format.

The numbers are those of the cited papers (keys in data/references.bib); CoolProp, an open
general-purpose library that carries them in machine-readable form, saves the retyping.

Usage:  python3 tools/transcribe_refrigerants.py        (needs: pip install CoolProp)
The fitted saturation curves beside these files come from tools/fit_saturation.cpp.
"""
import json
import pathlib

import CoolProp
import CoolProp.CoolProp as CP

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
        "surface_tension": ("mulero2012", 0.05),
    },
    {
        "library_name": "IsoButane", "designation": "R600a", "name": "isobutane",
        "also_called": ["isobutane", "2-methylpropane", "HC-600a"],
        "equation": "buecker2006", "melting": "buecker2006", "p_max": 35e6,
        "p_max_reason": "limit of the equation",
        "viscosity": ("vogel2000", 0.06), "conductivity": ("perkins2002", 0.05),
        "surface_tension": ("mulero2012", 0.05),
    },
    {
        "library_name": "R134a", "designation": "R134a", "name": "1,1,1,2-tetrafluoroethane",
        "also_called": ["1,1,1,2-tetrafluoroethane", "HFC-134a"],
        "equation": "tillnerroth1994", "melting": None, "p_max": 70e6,
        "p_max_reason": "limit of the equation",
        "viscosity": ("huber2003", 0.05), "conductivity": ("mclinden2000", 0.05),
        "surface_tension": ("mulero2012", 0.05),
    },
]


def ideal_part(blocks):
    out = {"a1": 0.0, "a2": 0.0, "log_tau": 0.0, "power": [], "einstein": [], "iir_shift": {"a1": 0.0, "a2": 0.0}}
    for block in blocks:
        kind = block["type"]
        if kind == "IdealGasHelmholtzLead":
            out["a1"], out["a2"] = block["a1"], block["a2"]
        elif kind == "IdealGasHelmholtzLogTau":
            out["log_tau"] = block["a"]
        elif kind == "IdealGasHelmholtzPower":
            out["power"] += [{"n": n, "t": t} for n, t in zip(block["n"], block["t"])]
        elif kind == "IdealGasHelmholtzPlanckEinstein":
            out["einstein"] += [{"m": n, "theta": t} for n, t in zip(block["n"], block["t"])]
        elif kind == "IdealGasHelmholtzEnthalpyEntropyOffset":
            out["iir_shift"] = {"a1": block["a1"], "a2": block["a2"]}
        else:
            raise SystemExit(f"ideal term not known here: {kind}")
    return out


def residual_part(blocks):
    out = {"power": [], "gaussian": []}
    for block in blocks:
        if block["type"] == "ResidualHelmholtzPower":
            out["power"] += [{"n": n, "t": t, "d": d, "l": l}
                             for n, t, d, l in zip(block["n"], block["t"], block["d"], block["l"])]
        elif block["type"] == "ResidualHelmholtzGaussian":
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


def transcribe(row):
    source = json.loads(CP.get_fluid_param_string(row["library_name"], "JSON"))[0]
    equation, transport = source["EOS"][0], source["TRANSPORT"]
    reducing = equation["STATES"]["reducing"]
    tension = source["ANCILLARIES"]["surface_tension"]
    out = {
        "designation": row["designation"], "name": row["name"], "also_called": row["also_called"],
        "made_by": f"tools/transcribe_refrigerants.py, numbers of the cited papers through CoolProp {CoolProp.__version__}",
        "molar_mass_kg_per_mol": equation["molar_mass"],
        "equation_of_state": {
            "source": row["equation"], "gas_constant_J_per_mol_K": equation["gas_constant"],
            "reducing": {"T_K": reducing["T"], "rho_mol_per_m3": reducing["rhomolar"]},
            "published_critical_point": {"T_K": source["STATES"]["critical"]["T"],
                                         "p_Pa": source["STATES"]["critical"]["p"],
                                         "rho_mol_per_m3": source["STATES"]["critical"]["rhomolar"]},
            "range": {"T_triple_K": equation["Ttriple"], "T_max_K": equation["T_max"], "p_max_Pa": row["p_max"],
                      "p_max_reason": row["p_max_reason"]},
            "ideal": ideal_part(equation["alpha0"]), "residual": residual_part(equation["alphar"]),
        },
        "viscosity": viscosity(transport["viscosity"], *row["viscosity"]),
        "conductivity": conductivity(transport["conductivity"], equation,
                                     source["STATES"]["critical"]["p"], *row["conductivity"]),
        "surface_tension": {"source": row["surface_tension"][0], "stated_uncertainty": row["surface_tension"][1],
                            "T_c_K": tension["Tc"],
                            "terms": [{"a_N_per_m": a, "n": n} for a, n in zip(tension["a"], tension["n"])]},
    }
    melting = melting_line(source["ANCILLARIES"].get("melting_line"), row["melting"])
    if melting:
        out["melting_line"] = melting
    return out


def compact_rows(text):
    """One table row a line instead of one number a line."""
    import re
    return re.sub(r"[\[{]([^\[\]{}]*)[\]}]", lambda m: re.sub(r"\s*\n\s*", " ", m.group(0)), text)


if __name__ == "__main__":
    for row in REFRIGERANTS:
        path = DATA / f"{row['designation']}.json"
        path.write_text(compact_rows(json.dumps(transcribe(row), indent=2)) + "\n")
        print(f"wrote {path.relative_to(DATA.parent.parent)}")
