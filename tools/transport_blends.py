"""Transport of four measured blends: ours by the mixing rules of tools/transport_method.py, theirs by the
correlations to the measurements, as CoolProp [bell2014] carries them. Shared by tools/transcribe_transport.py
and tools/make_transport_rows.py.
"""

import json

import CoolProp.CoolProp as CP

import transport_method as method

# Blends measured by others: mass fractions of the components.
BLENDS = {"R404A": {"R125": 0.44, "R143a": 0.52, "R134a": 0.04}, "R407C": {"R32": 0.23, "R125": 0.25, "R134a": 0.52},
          "R410A": {"R32": 0.5, "R125": 0.5}, "R507A": {"R125": 0.5, "R143a": 0.5}}


def points_of(name, made, library):
    """States of a blend with the correlations of its measured viscosity [geller2000], conductivity [geller2001]
    and surface tension [okada1999], which the library carries, and ours at the same density. The blend's residual
    entropy is that of the library's mixture model."""
    components = [made[part][0] for part in BLENDS[name]]
    moles = [share / c["molar_mass_kg_per_mol"] for share, c in zip(BLENDS[name].values(), components)]
    x = [n / sum(moles) for n in moles]
    mixture = method.Reference("&".join(library[part] for part in BLENDS[name]), 0, x)
    measured = method.Reference(name)
    critical = {"p_crit": measured.p_crit, "rho_crit": measured.rho_crit}
    out = []
    for T in range(240, 331, 10):
        for quality in (0, 1):
            rho = measured.saturated(T, quality)[0]
            s = mixture.s_plus(T, rho)
            cp0 = [made[part][1].cp0(T) for part in BLENDS[name]]
            near = mixture.near(T, rho, method.far_temperature(components, x), measured) | critical
            eta = method.viscosity(components, x, T, rho, s)
            row = {"T": T, "rho": rho, "s": s, "cp0": cp0, "near": near, "x": x, "components": components,
                   "viscosity": measured.viscosity(T, rho), "conductivity": measured.conductivity(T, rho),
                   "our_viscosity": eta,
                   "our_conductivity": method.background_conductivity(components, x, T, rho, s, cp0)
                   + method.enhancement(components, x, T, rho, eta, near)}
            out.append(row)
    return out


def tension_of(name, made, library, T):
    """Ours and the measured one, both phases taken at the blend's own composition."""
    points = [(p["x"], p["components"]) for p in points_of(name, made, library)[:1]]
    x, components = points[0]
    measured = method.Reference(name)
    liquid, vapour = measured.saturated(T, 0)[0], measured.saturated(T, 1)[0]
    root = sum(part * c["surface_tension"]["parachor"] for part, c in zip(x, components)) * (liquid - vapour)
    tension = json.loads(CP.get_fluid_param_string(name, "JSON"))[0]["ANCILLARIES"]["surface_tension"]
    block = {"T_c_K": tension["Tc"], "terms": [{"a_N_per_m": a, "n": n} for a, n in zip(tension["a"], tension["n"])]}
    return root ** 4, method.tension_at(block, T)


def measure(made, library):
    """Over all four blends, by quantity and region."""
    found = {}
    for name in BLENDS:
        for p in points_of(name, made, library):
            for key in ("viscosity", "conductivity"):
                deviation = p["our_" + key] / p[key] - 1
                for group in ("blends", name):
                    found.setdefault((group, key, method.region(p["s"])), []).append(deviation)
        for T in range(240, 321, 10):
            ours, theirs = tension_of(name, made, library, T)
            for group in ("blends", name):
                found.setdefault((group, "surface tension", ""), []).append(ours / theirs - 1)
    return {key: method.mean_and_largest(values) for key, values in found.items()}
