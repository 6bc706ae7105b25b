#!/usr/bin/env python3
"""Our properties and CoolProp's in one run on this machine, the same states, one core: nanoseconds and ratios.

CoolProp is asked through its vectorised low-level interface (fast_evaluate) where that answers, so that Python costs
nothing a state; else state by state, with the time of an empty call (measured here and printed) subtracted.

Usage:  python3 tools/compare_speed.py BENCH     (BENCH: the built bench/fluids_speed; needs: pip install CoolProp numpy)
"""
import json
import pathlib
import random
import subprocess
import sys
import tempfile
import time

import CoolProp
import CoolProp.CoolProp as CP
import numpy as np

ROOT = pathlib.Path(__file__).resolve().parent.parent
PURE = {"R134a": "R134a", "R290": "n-Propane", "R600a": "IsoButane", "R22": "R22", "R32": "R32", "R717": "Ammonia"}
BLENDS = {"R404A": "R125&R143a&R134a", "R410A": "R32&R125", "R448A": "R32&R125&R1234yf&R134a&R1234ze(E)"}
MASS = {"R404A": (.44, .52, .04), "R410A": (.5, .5), "R448A": (.26, .26, .20, .21, .07)}


def best(question, states, runs=5):
    """Nanoseconds a state."""
    least = float("inf")
    for _ in range(runs):
        start = time.perf_counter()
        question()
        least = min(least, time.perf_counter() - start)
    return least / states * 1e9


def empty_call(state):
    """Nanoseconds that Python needs to reach the library and back: reading a stored constant."""
    def ask():
        for _ in range(20000):
            state.gas_constant()
    return best(ask, 20000)


def vectorised(state, pair, a, b, outputs):
    """Nanoseconds a state through fast_evaluate, or None where it has no answer."""
    keys = np.array(outputs, dtype=np.int32)
    out = np.zeros((len(a), len(outputs)))
    status = np.zeros(len(a), dtype=np.int32)
    try:
        state.fast_evaluate(pair, a, b, keys, out, status)
    except (ValueError, RuntimeError):
        return None
    if np.count_nonzero(status) > 0.02 * len(a):
        return None
    return best(lambda: state.fast_evaluate(pair, a, b, keys, out, status), len(a))


def one_by_one(state, pair, a, b, overhead, output):
    def ask():
        for x, y in zip(a, b):
            try:
                state.update(pair, x, y)
                output(state)
            except ValueError:
                pass
    return best(ask, len(a), runs=3) - 2 * overhead


def states_of(name, table):
    """Temperatures and single-phase states about a refrigeration circuit, from the library's own."""
    rng = random.Random(1)
    T_crit = table["T_crit"]
    saturation = [max(230.0, table["T_min"] + 5) + (0.95 * T_crit - max(230.0, table["T_min"] + 5)) * rng.random()
                  for _ in range(1000)]
    return saturation


def ours(bench, rows):
    with tempfile.NamedTemporaryFile("w", suffix=".txt") as file:
        file.write("\n".join(rows) + "\n")
        file.flush()
        lines = subprocess.run([bench, "--states", file.name], check=True, capture_output=True, text=True).stdout
    out = {}
    for line in lines.splitlines():
        name, rest = line.split(None, 1)
        question, ns = rest.rsplit(None, 1)
        out[name, question.strip()] = float(ns)
    return out


def draw(name, state, table):
    """The questions asked of both: T alone, (T,p) and (p,h)."""
    rng = random.Random(2)
    low, T_crit = max(230.0, table["T_min"] + 5), table["T_crit"]
    T = [low + (0.95 * T_crit - low) * rng.random() for _ in range(1000)]
    Tp, ph = [], []
    while len(Tp) < (1000 if name in PURE else 30):
        T_sat = low + (0.9 * T_crit - low) * rng.random()
        vapour = rng.random() < 0.5
        try:
            state.unspecify_phase()
            state.update(CP.QT_INPUTS, 1 if vapour else 0, T_sat)
            p = state.p()
            at = T_sat + 2 + 50 * rng.random() if vapour else T_sat - 2 - 30 * rng.random()
            state.specify_phase(CP.iphase_gas if vapour else CP.iphase_liquid)
            state.update(CP.PT_INPUTS, p, at)
            Tp.append((at, p))
            ph.append((p, state.hmass()))
        except ValueError:
            continue
        finally:
            state.unspecify_phase()
    return T, Tp, ph


def library(name):
    if name in PURE:
        return CP.AbstractState("HEOS", PURE[name])
    state = CP.AbstractState("HEOS", BLENDS[name])
    state.set_mass_fractions(list(MASS[name]))
    return state


def our_enthalpies(rows_Tp, name, program):
    """h of ours at those states: blends and reference states differ by a constant only."""
    questions = "\n".join(f"T_p {name} {T!r} {p!r}" for T, p in rows_Tp)
    answer = subprocess.run([program], input=questions + "\n", capture_output=True, text=True, check=True).stdout
    return [float(line.split()[4]) if not line.startswith("problem") else None for line in answer.splitlines()]


def main():
    bench = pathlib.Path(sys.argv[1]).resolve()
    program = bench.parent.parent / "tools" / "print_states"
    rows, theirs = [], {}
    for name in [*PURE, *BLENDS]:
        state = library(name)
        crit = state.T_critical() if name in PURE else 355.0 if name == "R448A" else 344.0
        table = {"T_crit": crit, "T_min": state.Ttriple() if name in PURE else 190}
        T, Tp, ph = draw(name, state, table)
        own_h = our_enthalpies(Tp, name, program)
        rows += [f"T {name} {t!r} {1e5!r}" for t in T] if name in BLENDS else []
        overhead = empty_call(state)
        if name in PURE:
            ps = []
            for t in T:
                state.update(CP.QT_INPUTS, 1, t)
                ps.append(state.p())
            rows += [f"T {name} {t!r} {p!r}" for t, p in zip(T, ps)]
            a, b = np.array([1.0] * len(T)), np.array(T)
            fast = vectorised(state, CP.QT_INPUTS, a, b, [CP.iP])
            theirs[name, "dew_pressure(T)"] = fast or one_by_one(state, CP.QT_INPUTS, a, b, overhead, lambda s: s.p())
            tabular = CP.AbstractState("BICUBIC&HEOS", PURE[name])
            at = [np.array(x) for x in zip(*Tp)]
            theirs[name, "(T,p)_full"] = (vectorised(state, CP.PT_INPUTS, at[1], at[0], [CP.iDmass])
                                          or one_by_one(state, CP.PT_INPUTS, at[1], at[0], overhead, lambda s: s.rhomass()))
            theirs[name, "(T,p)_table"] = (vectorised(tabular, CP.PT_INPUTS, at[1], at[0], [CP.iDmass])
                                           or one_by_one(tabular, CP.PT_INPUTS, at[1], at[0], overhead, lambda s: s.rhomass()))
            hp = [np.array(x) for x in zip(*ph)]
            few = [x[:200] for x in hp]
            theirs[name, "(p,h)_full"] = (vectorised(state, CP.HmassP_INPUTS, few[1], few[0], [CP.iT])
                                          or one_by_one(state, CP.HmassP_INPUTS, few[1], few[0], overhead, lambda s: s.T()))
            theirs[name, "(p,h)_table"] = (vectorised(tabular, CP.HmassP_INPUTS, hp[1], hp[0], [CP.iT])
                                           or one_by_one(tabular, CP.HmassP_INPUTS, hp[1], hp[0], overhead, lambda s: s.T()))
        else:
            few = T[:40]
            rows[-len(T):] = [f"T {name} {t!r} 500000.0" for t in few]
            for question, quality in (("bubble_full(T)", 0.0), ("dew_full(T)", 1.0)):
                a = [quality] * len(few)
                theirs[name, question] = one_by_one(state, CP.QT_INPUTS, a, few, overhead, lambda s: s.p())
            theirs[name, "bubble_pressure(T)"] = theirs[name, "bubble_full(T)"]
            theirs[name, "(T,p)_full"] = one_by_one(state, CP.PT_INPUTS, [p for _, p in Tp], [t for t, _ in Tp], overhead,
                                                    lambda s: s.rhomass())
            some = ph[:6]
            theirs[name, "(p,h)_full"] = one_by_one(state, CP.HmassP_INPUTS, [h for _, h in some], [p for p, _ in some],
                                                    overhead, lambda s: s.T())
        rows += [f"Tp {name} {t!r} {p!r}" for t, p in Tp]
        rows += [f"ph {name} {p!r} {h!r}" for (_, p), h in zip(Tp, own_h) if h is not None]
        print(f"{name}: an empty call takes {overhead:.0f} ns, subtracted where CoolProp is asked state by state",
              file=sys.stderr)
    mine = ours(bench, rows)
    print(f"CoolProp {CoolProp.__version__}; nanoseconds a state")
    print(f"{'':10} {'':24} {'ours':>10} {'CoolProp':>12} {'ratio':>8} {'over floor':>10}")
    for (name, question), ns in theirs.items():
        own = mine.get((name, question))
        if own is None or ns is None:
            continue
        floor = mine[name, "floor: polynomial of 8"]
        print(f"{name:10} {question:24} {own:10.1f} {ns:12.1f} {ns / own:8.1f} {own / floor:10.1f}")


if __name__ == "__main__":
    main()
