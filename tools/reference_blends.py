"""Blends as CoolProp, an independent open library, computes them from the same mixture model: its multi-fluid
backend with the same mole fractions. A pair that data/blends/pairs.json doesn't carry mixes without parameters
of its own (all beta and gamma 1, no departure), here as there.

The ideal gas of a mixture is put together here from the library's pure fluids. Its own mixtures evaluate it at
T_crit/T of the published critical point in place of T_reducing/T of the equation [kunz2012, Eq. 12], which moves cp
of R134a by 5e-5, and count ln rho with each component's gas constant, while their pressure counts it with the
mixture's.

Shared by tools/make_reference_rows.py and tools/compare_blends.py.
"""

import json
import math
import pathlib

import CoolProp
import CoolProp.CoolProp as CP

import reference_states as states

TOP = pathlib.Path(__file__).resolve().parent.parent
R = 8.31446261815324  # J/(mol K), of the mixture [newell2018]
VERSION = CoolProp.__version__

ONE_PHASE_COLUMNS = ["T", "rho", "p", "h", "s", "cp", "w"]
LINE_COLUMNS = ["T", "p_bubble", "p_dew"]


def catalogue():
    """Designation -> [(component, mass fraction)] of every blend whose components are carried."""
    carried = set(states.LIBRARY_NAMES)
    out = {}
    for row in json.loads((TOP / "data" / "catalogue.json").read_text())["refrigerants"]:
        parts = [(c["designation"], c["mass_fraction"]) for c in row["components"]]
        if row["kind"] == "blend" and all(name in carried for name, _ in parts):
            out[row["designation"]] = parts
    return out


def estimate_missing_pairs(blends):
    """What ours does with a pair without published parameters, told to the library."""
    known = {frozenset((row["of"], row["and"]))
             for row in json.loads((TOP / "data" / "blends" / "pairs.json").read_text())["pairs"]}
    missing = {frozenset((a, b)) for parts in blends.values() for a, _ in parts for b, _ in parts if a < b} - known
    fitted = {frozenset((row["of"], row["and"])): row["gamma_T"]
              for row in json.loads((TOP / "data" / "blends" / "estimated_pairs.json").read_text())["pairs"]}
    CP.set_config_bool(CP.OVERWRITE_BINARY_INTERACTION, True)
    for pair in missing:
        cas = [CP.get_fluid_param_string(states.LIBRARY_NAMES[name], "CAS") for name in pair]
        CP.apply_simple_mixing_rule(*cas, "Lorentz-Berthelot")
        if pair in fitted:
            set_gamma(cas, fitted[pair])
    return missing


def set_gamma(cas, gamma):
    """The library knows a pair in one order only."""
    try:
        CP.set_mixture_binary_pair_data(cas[0], cas[1], "gammaT", gamma)
    except ValueError:
        CP.set_mixture_binary_pair_data(cas[1], cas[0], "gammaT", gamma)


class Blend:
    def __init__(self, parts):
        names = "&".join(states.LIBRARY_NAMES[name] for name, _ in parts)
        self.state, self.probe = CP.AbstractState("HEOS", names), CP.AbstractState("HEOS", names)
        moles = [share / states.molar_mass(name) for name, share in parts]
        self.fractions = [amount / sum(moles) for amount in moles]
        self.state.set_mole_fractions(self.fractions)
        ranges = [states.our_data(name)["equation_of_state"]["range"] for name, _ in parts]
        self.T_max, self.p_max = (min(row[key] for row in ranges) for key in ("T_max_K", "p_max_Pa"))
        self.pures = [CP.AbstractState("HEOS", states.LIBRARY_NAMES[name]) for name, _ in parts]
        for pure in self.pures:
            pure.specify_phase(CP.iphase_gas)

    def ideal(self, T):
        """Of the ideal gas at T over R of the mixture: u/(R T), cv/R and s/R but for the density."""
        u = cv = s = 0.0
        for x, pure in zip(self.fractions, self.pures):
            pure.update(CP.DmolarT_INPUTS, 1.0, T)
            weight, tau = x * pure.gas_constant() / R, pure.tau()
            u += weight * tau * pure.dalpha0_dTau()
            cv -= weight * tau * tau * pure.d2alpha0_dTau2()
            s += weight * (tau * pure.dalpha0_dTau() - pure.alpha0())
        return u, cv, s

    def one_phase(self, T, rho):
        """A row of ONE_PHASE_COLUMNS: the model itself at this T and rho."""
        s = self.state
        s.specify_phase(CP.iphase_gas)
        s.update(CP.DmassT_INPUTS, rho, T)
        tau, delta, M = s.tau(), s.delta(), s.molar_mass()
        u, cv, entropy = self.ideal(T)
        u += tau * s.dalphar_dTau()
        cv -= tau * tau * s.d2alphar_dTau2()
        entropy += tau * s.dalphar_dTau() - s.alphar() - math.log(rho / M)
        stiffness = 1 + 2 * delta * s.dalphar_dDelta() + delta * delta * s.d2alphar_dDelta2()
        cp = cv + (1 + delta * s.dalphar_dDelta() - delta * tau * s.d2alphar_dDelta_dTau()) ** 2 / stiffness
        p = s.p()
        s.unspecify_phase()
        return [T, rho, p, u * R * T / M + p / rho, entropy * R / M, cp * R / M, math.sqrt(R * T / M * cp / cv * stiffness)]

    def gibbs(self, rho):
        """p and the Gibbs energy over R T up to a constant, of the probe's composition."""
        self.probe.update(CP.DmolarT_INPUTS, rho, self.state.T())
        fractions = self.probe.get_mole_fractions()
        return self.probe.p(), sum(x * math.log(self.probe.fugacity(i)) for i, x in enumerate(fractions))

    def phases_are_stable(self, T, quality):
        """Whether each phase found at T is the one that its composition takes at that pressure: of several densities
        with this pressure the one of least Gibbs energy. Some equations have more than three such densities near their
        critical point, and an answer between the real ones is none."""
        self.state.update(CP.QT_INPUTS, quality, T)
        p = self.state.p()
        ends = [(self.state.mole_fractions_liquid(), self.state.saturated_liquid_keyed_output(CP.iDmolar)),
                (self.state.mole_fractions_vapor(), self.state.saturated_vapor_keyed_output(CP.iDmolar))]
        for fractions, found in ends:
            self.probe.set_mole_fractions(list(fractions))
            self.probe.specify_phase(CP.iphase_gas)
            own = self.gibbs(found)[1]
            grid = [self.state.rhomolar_reducing() * i / 100 for i in range(1, 320)]
            for low, high in zip(grid, grid[1:]):
                if (self.gibbs(low)[0] - p) * (self.gibbs(high)[0] - p) > 0:
                    continue
                for _ in range(50):
                    middle = 0.5 * (low + high)
                    low, high = (middle, high) if (self.gibbs(low)[0] - p) * (self.gibbs(middle)[0] - p) > 0 else (low, middle)
                if self.gibbs(low)[1] < own - 1e-7:
                    return False
        return True

    def line_point(self, T, quality):
        """(p, molar density of the liquid, of the vapour) or None where the library finds no equilibrium."""
        s = self.state
        try:
            s.unspecify_phase()
            s.update(CP.QT_INPUTS, quality, T)
            return (s.p(), s.saturated_liquid_keyed_output(CP.iDmolar), s.saturated_vapor_keyed_output(CP.iDmolar))
        except ValueError:
            return None


def judge(low, high):
    """Whether the library's bubble and dew point are sound, each by itself and together: the liquid is the denser phase,
    and no dew pressure lies above the bubble pressure."""
    def denser(point):
        return point is not None and point[1] > point[2] * (1 + 1e-5)
    together = not (low and high) or low[0] >= high[0] * (1 - 1e-9)
    return denser(low), denser(high), together
