"""Residual entropy scaling [yang2021] [yang2022] [martinek2025] in Python, written apart from the C++ of
core/fluids/transport_scaling.cpp, and the reference correlations that it is compared with, as CoolProp
[bell2014] evaluates them. Shared by tools/transcribe_transport.py and tools/make_transport_rows.py.
"""

import json
import math

import CoolProp.CoolProp as CP

BOLTZMANN, AVOGADRO = 1.380649e-23, 6.02214076e23
R = BOLTZMANN * AVOGADRO

# Omega(2,2) of the Lennard-Jones gas [kim2014].
COLLISION_A = -0.92032979
COLLISION_BC = [(2.3508044, 1.6330213), (0.50110649, -6.9795156e-1), (-4.7193769e-1, 1.6096572e-1),
                (1.5806367e-1, -2.2109440e-2), (-2.6367184e-2, 1.7031434e-3), (1.8120118e-3, -0.56699986e-4)]
VISCOSITY_POWERS = (1.8, 2.4, 2.8)
CONDUCTIVITY_POWERS = (1.0, 1.5, 2.0, 2.5)
F_INT_HIGH = 450.0  # K, beyond it f_int stays


def f_int_low(T_c):
    """K, below it f_int stays: many references' dilute gas is a line in T that heads for zero in the cold."""
    return min(250.0, 0.75 * T_c)


def collision_integral(T_star):
    T_star = max(T_star, 0.3)  # where [kim2014] begins; a gas that cold is hardly there
    ln = math.log(T_star)
    return COLLISION_A + sum(b / T_star ** k + c * ln ** k for k, (b, c) in enumerate(COLLISION_BC, 1))


def lennard_jones_viscosity(epsilon, sigma, M, T):
    """5/16 sqrt(M k T / (N_A pi)) / (sigma^2 Omega); sigma in angstrom."""
    return (5 / 16 * math.sqrt(M * BOLTZMANN * T / (AVOGADRO * math.pi))
            / ((sigma * 1e-10) ** 2 * collision_integral(T / epsilon)))


def f_int(component, T):
    f0, f1 = component["f_int"]
    return f0 + f1 * min(max(T, f_int_low(component["surface_tension"]["T_c_K"])), F_INT_HIGH)


def dilute_viscosity(component, T):
    return lennard_jones_viscosity(component["epsilon_over_k_K"], component["sigma_angstrom"],
                                   component["molar_mass_kg_per_mol"], T)


def translational_conductivity(component, T):
    return 15 / 4 * R / component["molar_mass_kg_per_mol"] * dilute_viscosity(component, T)


def dilute_conductivity(component, T, cp0):
    """Translation and internal freedom: 15/4 R eta0/M + f_int eta0/M (cp0 - 5/2 R)."""
    internal = dilute_viscosity(component, T) / component["molar_mass_kg_per_mol"] * (cp0 - 2.5 * R)
    return translational_conductivity(component, T) + f_int(component, T) * internal


def mixed_dilute(components, x, ratio, value):
    """Wilke's rule [wilke1950], and with the translational part as `ratio` that of [mason1958]."""
    M = [c["molar_mass_kg_per_mol"] for c in components]
    total = 0
    for i in range(len(x)):
        below = sum(x[j] * (1 + math.sqrt(ratio[i] / ratio[j]) * (M[j] / M[i]) ** 0.25) ** 2
                    / math.sqrt(8 * (1 + M[i] / M[j])) for j in range(len(x)))
        total += x[i] * value[i] / below
    return total


def mean_molar_mass(components, x):
    return sum(c["molar_mass_kg_per_mol"] * part for c, part in zip(components, x))


def viscosity_unit(M, T, rho, s):
    return (rho * AVOGADRO) ** (2 / 3) * math.sqrt(M / AVOGADRO * BOLTZMANN * T) / s ** (2 / 3)


def conductivity_unit(M, T, rho, s):
    return (rho * AVOGADRO) ** (2 / 3) * BOLTZMANN * math.sqrt(BOLTZMANN * T * AVOGADRO / M) / s ** (2 / 3)


def series(n, powers, s):
    return sum(a * s ** p for a, p in zip(n, powers))


def viscosity(components, x, T, rho, s):
    """Pa s; rho in mol/m3, s = -s_res/R."""
    pure = [dilute_viscosity(c, T) for c in components]
    ln = sum(part * series(c["viscosity"]["n"], VISCOSITY_POWERS, s / c["viscosity"]["xi"])
             for c, part in zip(components, x))
    return (mixed_dilute(components, x, pure, pure)
            + math.expm1(ln) * viscosity_unit(mean_molar_mass(components, x), T, rho, s))


def conductivity_plus(components, x, s):
    return sum(part * series(c["conductivity"]["n"], CONDUCTIVITY_POWERS, s / c["conductivity"]["xi"])
               for c, part in zip(components, x))


def background_conductivity(components, x, T, rho, s, cp0):
    """W/(m K) without critical enhancement; cp0 of each component in J/(mol K)."""
    translational = [translational_conductivity(c, T) for c in components]
    pure = [dilute_conductivity(c, T, one) for c, one in zip(components, cp0)]
    return (mixed_dilute(components, x, translational, pure)
            + conductivity_plus(components, x, s) * conductivity_unit(mean_molar_mass(components, x), T, rho, s))


def enhancement(components, x, T, rho, eta, near):
    """Simplified crossover [olchowy1989]. `near`: cp, cv, drho_dp, drho_dp_far (at T_far), p_crit, rho_crit."""
    mixed = {key: sum(c["conductivity"]["critical"][key] * part for c, part in zip(components, x))
             for key in ("phi0_m", "Gamma", "q_D_per_m", "T_far_K")}
    excess = near["drho_dp"] - mixed["T_far_K"] / T * near["drho_dp_far"]
    if excess <= 0:
        return 0.0
    phi = mixed["phi0_m"] * (near["p_crit"] * rho / near["rho_crit"] ** 2 / mixed["Gamma"] * excess) ** (0.63 / 1.239)
    y, ratio = mixed["q_D_per_m"] * phi, near["cv"] / near["cp"]
    omega = 2 / math.pi * ((1 - ratio) * math.atan(y) + ratio * y - 1
                           + math.exp(-1 / (1 / y + y * y * (near["rho_crit"] / rho) ** 2 / 3)))
    return rho * near["cp"] * 1.02 * BOLTZMANN * T / (6 * math.pi * eta * phi) * omega


def far_temperature(components, x):
    return sum(c["conductivity"]["critical"]["T_far_K"] * part for c, part in zip(components, x))


def tension_at(block, T):
    """N/m from the terms of an entry in data/transport.json."""
    return sum(t["a_N_per_m"] * (1 - T / block["T_c_K"]) ** t["n"] for t in block["terms"])


class Reference:
    """One fluid of the library, or a mixture of several, at (T, rho)."""

    def __init__(self, library_name, viscosity_entry=0, fractions=None):
        self.own = {}  # "viscosity", "conductivity": a correlation of tools/transport_correlations.py
        if viscosity_entry:
            library_name = with_viscosity_entry(library_name, viscosity_entry)
        self.state = CP.AbstractState("HEOS", library_name)
        if fractions:
            self.state.set_mole_fractions(fractions)
        self.M = self.state.molar_mass()
        if not fractions or len(fractions) == 1:
            self.T_crit, self.p_crit = self.state.T_critical(), self.state.p_critical()
            self.rho_crit, self.T_triple = self.state.rhomolar_critical(), self.state.Ttriple()

    def at(self, T, rho):
        self.state.specify_phase(CP.iphase_gas)  # no search for phases: the equation at this T and rho
        self.state.update(CP.DmolarT_INPUTS, rho, T)
        return self.state

    def s_plus(self, T, rho):
        return -self.at(T, rho).smolar_residual() / R

    def cp0(self, T):
        return self.at(T, 1e-6).cp0molar()

    def viscosity(self, T, rho):
        return self.own["viscosity"](self, T, rho) if "viscosity" in self.own else self.at(T, rho).viscosity()

    def conductivity(self, T, rho):
        return self.own["conductivity"](self, T, rho) if "conductivity" in self.own else self.at(T, rho).conductivity()

    def near(self, T, rho, T_far, critical=None):
        far = 1 / self.at(T_far, rho).first_partial_deriv(CP.iP, CP.iDmolar, CP.iT)
        s = self.at(T, rho)
        critical = critical or self
        return {"cp": s.cpmolar(), "cv": s.cvmolar(), "drho_dp": 1 / s.first_partial_deriv(CP.iP, CP.iDmolar, CP.iT),
                "drho_dp_far": far, "p_crit": critical.p_crit, "rho_crit": critical.rho_crit}

    def saturated(self, T, quality):
        self.state.unspecify_phase()
        self.state.update(CP.QT_INPUTS, quality, T)
        return self.state.rhomolar(), self.state.p()

    def density(self, T, p):
        self.state.unspecify_phase()
        self.state.update(CP.PT_INPUTS, p, T)
        return self.state.rhomolar()


def with_viscosity_entry(library_name, entry):
    """The library lists several viscosity correlations for some fluids and takes the first: here another."""
    fluid = json.loads(CP.get_fluid_param_string(library_name, "JSON"))[0]
    name = f"{fluid['INFO']['NAME']}-viscosity-{entry}"
    fluid["TRANSPORT"]["viscosity"] = fluid["TRANSPORT"]["viscosity"][entry]
    fluid["INFO"].update({"NAME": name, "ALIASES": [], "CAS": name, "REFPROP_NAME": "N/A"})
    CP.add_fluids_as_JSON("HEOS", json.dumps([fluid]))
    return name


def grid(reference, p_max=10e6):
    """(T, rho): saturation from 0.55 T_c to 0.96 T_c, compressed liquid, vapour down to 1 bar, hot gas."""
    low = max(reference.T_triple + 1, 0.55 * reference.T_crit)
    out = []
    for i in range(13):
        T = low + (0.96 * reference.T_crit - low) * i / 12
        rho, p = reference.saturated(T, 0)
        out += [(T, rho), (T, reference.saturated(T, 1)[0])]
        for pressed in (3e6, p_max):
            try:
                if pressed > p * 1.02:
                    out.append((T, reference.density(T, pressed)))
            except ValueError:  # frozen
                pass
        if p > 1.2e5:
            out.append((T, reference.density(T, 1e5)))
    for part in (1.02, 1.1, 1.25):
        if part * reference.T_crit < reference.state.Tmax():
            out += [(part * reference.T_crit, reference.density(part * reference.T_crit, p))
                    for p in (1e5, 1e6, 2e6, 0.9 * reference.p_crit)]
    return out


REGIONS = ("liquid", "dense", "vapour")


def region(s):
    """Of s+ = -s_res/R, which orders states from thin gas to cold liquid. The borders are our choice."""
    return "vapour" if s < 0.4 else "dense" if s < 1.5 else "liquid"


def mean_and_largest(deviations):
    sizes = sorted(abs(d) for d in deviations)
    return {"points": len(sizes), "mean": sum(sizes) / len(sizes),
            "p95": sizes[min(len(sizes) - 1, math.ceil(0.95 * len(sizes)) - 1)], "largest": sizes[-1]}


def solve(A, b):
    """Gauss with pivots, for the few unknowns of a fit."""
    n = len(b)
    rows = [list(row) + [value] for row, value in zip(A, b)]
    for i in range(n):
        pivot = max(range(i, n), key=lambda k: abs(rows[k][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for k in range(i + 1, n):
            factor = rows[k][i] / rows[i][i]
            rows[k] = [a - factor * c for a, c in zip(rows[k], rows[i])]
    out = [0.0] * n
    for i in reversed(range(n)):
        out[i] = (rows[i][n] - sum(rows[i][k] * out[k] for k in range(i + 1, n))) / rows[i][i]
    return out


def least_squares(rows, targets):
    n = len(rows[0])
    return solve([[sum(r[i] * r[j] for r in rows) for j in range(n)] for i in range(n)],
                 [sum(r[i] * t for r, t in zip(rows, targets)) for i in range(n)])


def smallest(function, low, high, steps=60):
    """Golden section after a coarse scan."""
    step = (high - low) / 40
    best = min((low + step * i for i in range(41)), key=function)
    a, b, g = best - step, best + step, (math.sqrt(5) - 1) / 2
    for _ in range(steps):
        c, d = b - g * (b - a), a + g * (b - a)
        a, b = (a, d) if function(c) < function(d) else (c, b)
    return (a + b) / 2
