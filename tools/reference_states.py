"""States of our pure fluids as CoolProp, an independent open library, computes them.

Shared by tools/make_reference_rows.py, which writes them under tests/data/fluids, and
tools/compare_live.py, which compares at once. Every state is taken at (T, rho): there the library
evaluates the equation itself, without the tolerance of a flash of its own.
"""

import json
import pathlib

import CoolProp
import CoolProp.CoolProp as CP

from transcribe_refrigerants import EQUATION_ONLY, REFRIGERANTS

DATA = pathlib.Path(__file__).resolve().parent.parent / "data" / "refrigerants"

# Our designation -> the library's name. The first three have correlations of their own for transport, and full
# grids under tests/data/fluids.
WITH_TRANSPORT = {row["designation"]: row["library_name"] for row in REFRIGERANTS}
LIBRARY_NAMES = WITH_TRANSPORT | {designation: name for name, designation, *_ in EQUATION_ONLY}


def our_data(designation):
    return json.loads((DATA / f"{designation}.json").read_text())


def molar_mass(designation):
    return our_data(designation)["molar_mass_kg_per_mol"]


def use_our_zeros():
    """h = 200 kJ/kg and s = 1 kJ/(kg K) in liquid at 0 C [iir] where ours has it so; for the first three, for water, and
    for what has no liquid there, both keep the zero of the equation's paper."""
    for name, designation, *_ in EQUATION_ONLY:
        state = CP.AbstractState("HEOS", name)
        triple = our_data(designation)["equation_of_state"]["range"]["T_triple_K"]
        if designation == "R718" or not triple < 273.15 < state.T_critical():
            continue
        state.update(CP.QT_INPUTS, 0, 273.15)
        M = state.molar_mass()
        CP.set_reference_stateD(name, 273.15, state.rhomolar(), 200e3 * M, 1e3 * M)


use_our_zeros()

# Left out: |T/Tc - 1| < 1e-3 together with |rho/rho_c - 1| < 0.3. There d p/d rho nearly vanishes, so a
# density from (T, p) and cp say more about rounding than about the equation.
NEAR_T, NEAR_RHO = 1e-3, 0.3

# Saturation is compared from this pressure up: the library takes it from the liquid, where rounding alone
# is about 1e-8 Pa (it moves the triple point pressure of R290 by 2e-4 of itself). Below it, ours is held to a
# solution in 113-bit numbers: tests/differential/fluids_saturation_fit_test.cpp.
LOWEST_SATURATION = 10.0

SINGLE_PHASE_COLUMNS = ["T", "rho", "p", "u", "h", "s", "cv", "cp", "w", "viscosity", "conductivity"]
ONE_PHASE_COLUMNS = SINGLE_PHASE_COLUMNS[:-2]  # without transport
SATURATION_COLUMNS = ["T", "p", "rho_liquid", "rho_vapour", "h_liquid", "h_vapour", "s_liquid", "s_vapour",
                      "surface_tension"]


class Reference:
    def __init__(self, name):
        self.name = name
        self.state = CP.AbstractState("HEOS", LIBRARY_NAMES[name])
        ours = our_data(name)["equation_of_state"]["range"]
        self.T_max, self.p_max = ours["T_max_K"], ours["p_max_Pa"]
        self.T_min = max(ours["T_triple_K"], self.state.Tmin())  # below it the library only extrapolates
        # The critical point of the equation itself, which differs a little from the published one.
        source = json.loads(CP.get_fluid_param_string(LIBRARY_NAMES[name], "JSON"))[0]
        meta = source["EOS"][0]["SUPERANCILLARY"]["meta"]
        self.T_crit = meta["Tcrittrue / K"]
        self.rho_crit = meta["rhocrittrue / mol/m^3"] * self.state.molar_mass()
        self.molar_mass = self.state.molar_mass()
        self.has_transport = name in WITH_TRANSPORT
        self.has_tension = "surface_tension" in our_data(name)
        self.T_saturation = self.temperature_from(LOWEST_SATURATION)

    def temperature_from(self, p):
        self.state.unspecify_phase()
        self.state.update(CP.QT_INPUTS, 0, self.T_min)
        if self.state.p() >= p:
            return self.T_min
        self.state.update(CP.PQ_INPUTS, p, 0)
        return self.state.T()

    def highest_pressure(self, T):
        """The limit offered, or where the liquid freezes."""
        limit = self.p_max
        try:
            return min(limit, self.state.melting_line(CP.iP, CP.iT, T))
        except ValueError:  # no melting line, or T above where it passes the limit
            return limit

    def near_critical(self, T, rho):
        return abs(T / self.T_crit - 1) < NEAR_T and abs(rho / self.rho_crit - 1) < NEAR_RHO

    def density(self, T, p):
        """kg/m3, or None where the library finds no fluid (frozen, or beyond its limits)."""
        try:
            self.state.unspecify_phase()
            self.state.update(CP.PT_INPUTS, p, T)
            return self.state.rhomass()
        except ValueError:
            return None

    def saturated_densities(self, T):
        self.state.unspecify_phase()
        self.state.update(CP.QT_INPUTS, 0, T)
        return self.state.saturated_liquid_keyed_output(CP.iDmass), self.state.saturated_vapor_keyed_output(CP.iDmass)

    def single_phase(self, T, rho):
        """A row of SINGLE_PHASE_COLUMNS; of ONE_PHASE_COLUMNS where transport isn't a correlation of its own."""
        s = self.state
        s.specify_phase(CP.iphase_gas)  # no search for phases: the equation at this T and rho
        s.update(CP.DmassT_INPUTS, rho, T)
        row = [T, rho, s.p(), s.umass(), s.hmass(), s.smass(), s.cvmass(), s.cpmass(), s.speed_sound()]
        if self.has_transport:
            row += [s.viscosity(), s.conductivity()]
        s.unspecify_phase()
        return row

    def tension(self):
        try:
            return self.state.surface_tension()
        except ValueError:  # the correlation's critical temperature lies below the equation's
            return 0.0

    def saturation(self, T):
        """A row of SATURATION_COLUMNS, without surface tension where ours has no correlation of it."""
        s = self.state
        s.unspecify_phase()
        s.update(CP.QT_INPUTS, 0, T)
        liquid, p = (s.rhomass(), s.hmass(), s.smass()), s.p()
        tension = [self.tension()] if self.has_tension else []
        s.update(CP.QT_INPUTS, 1, T)
        vapour = (s.rhomass(), s.hmass(), s.smass())
        return [T, p, liquid[0], vapour[0], liquid[1], vapour[1], liquid[2], vapour[2], *tension]


def spread(low, high, count):
    return [low + (high - low) * i / (count - 1) for i in range(count)]


def log_spread(low, high, count):
    return [low * (high / low) ** (i / (count - 1)) for i in range(count)]


def grid(reference, temperatures=46, pressures=46, shift=0.0):
    """(T, rho) over liquid, vapour, supercritical and close to saturation, outside NEAR_T and NEAR_RHO.
    `shift` in 0..1 moves the grid by that part of a step, for a comparison at other points."""
    T_step = (reference.T_max - reference.T_min) / temperatures
    out = []

    def take(T, rho):
        if rho is None or T > reference.T_max or reference.near_critical(T, rho):
            return
        if reference.single_phase(T, rho)[2] < reference.highest_pressure(T):
            out.append((T, rho))

    for i in range(temperatures):
        T = round(reference.T_min + 0.01 + (i + shift) * T_step * 0.999, 4)
        for p in log_spread(1e3 * 1.1 ** shift, reference.p_max * 0.999, pressures):
            take(T, reference.density(T, p))
    coldest = reference.T_saturation + 1
    for i in range(60):  # close to saturation, both sides, from a hair to a third away
        T = round(coldest + (i + shift) / 60 * (reference.T_crit * 0.9985 - coldest), 4)
        liquid, vapour = reference.saturated_densities(T)
        for part in (1e-6, 1e-3, 3e-2):
            take(T, liquid * (1 + part * min(1, (liquid - vapour) / liquid)))
        for part in (1e-6, 1e-3, 3e-2, 0.3):
            take(T, vapour * (1 - part))
    for T_part in (1.0012, 1.003, 1.01, 1.03, 1.1):  # across the critical density
        for rho_part in spread(0.15, 2.2, 24):
            take(reference.T_crit * T_part, reference.rho_crit * (rho_part + 0.01 * shift))
    return out


def saturation_temperatures(reference, count=120, shift=0.0):
    lowest, highest = reference.T_saturation + 0.001, reference.T_crit * (1 - NEAR_T)
    return [round(lowest + (i + shift) / count * (highest - lowest), 4) for i in range(count)]


VERSION = CoolProp.__version__
