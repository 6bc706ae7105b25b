#!/usr/bin/env python3
"""What another method makes of the evidence that the diagnosis is told: boosted trees learned on judged visits.

    build/release/bench/judge evidence VISITS.jsonl --set G --seed 7 > EVIDENCE
    python3 tools/another_method.py EVIDENCE... [--looks compressor,condenser_fan,...]

A ceiling to compare with, not a part of the product: trees learn the virtual cabinet itself, four of five parts
of the visits at a time, and answer the fifth. Visits with one of fourteen causes, as docs/evidence.md counts.
Needs numpy and scikit-learn from PyPI.
"""
import argparse

import numpy as np
from sklearn.ensemble import HistGradientBoostingClassifier
from sklearn.model_selection import StratifiedKFold

LOOKED_AT = "complaint,compressor,condenser_fan,evaporator_fan,condenser_face,evaporator_coil"
SAME = {"high_load": "sound", "not_pumping": "worn_valves"}
LEFT_OUT = {"pumping_lost_at_times", "moisture_freeze"}
UNKNOWN_TIME = 60.0  # min of running, where it isn't known


def visit(line):
    """One line as (cabinet, causes, plate and air, looks, readings with minutes)."""
    words = line.split()
    causes, known, looks, readings = [], {}, {}, {}
    for word in words[3:]:
        if "=" in word:
            subject, value = word.split("=")
            looks[subject] = value
        elif word.startswith("truth:"):
            causes.append(word.split(":")[1])
        elif word.count(":") == 1:
            name, value = word.split(":")
            known[name] = float(value)
        else:
            name, value, minutes = word.split(":")
            readings[name] = (float(value), float(minutes))
    return words[1], causes, known, looks, readings


def numbers(known, readings):
    """Temperatures as differences, current over the plate's; what wasn't read is missing."""
    at = {name: value for name, (value, _) in readings.items()}
    ambient, box = known["ambient"], known["box"]
    middle, liquid, discharge, suction, inlet, outlet = (
        at.get(name + "_temp", np.nan)
        for name in ("condenser_middle", "liquid_line", "discharge_line", "suction_line", "evaporator_inlet",
                     "evaporator_outlet"))
    running = readings["compressor_current"][1]
    return [ambient, box, ambient - box, at["compressor_current"] / known["plate"], middle - ambient,
            liquid - ambient, middle - liquid, (middle - liquid) / max(middle - ambient, 1.5),
            discharge - middle, discharge - ambient, suction - ambient, suction - box, box - inlet, inlet,
            outlet - inlet, box - outlet, suction - outlet, middle, discharge - suction,
            min(running, UNKNOWN_TIME) if running >= 0 else UNKNOWN_TIME]


def main():
    """Prints first and second places of five-fold answers, and who was right by cause."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("evidence", nargs="+")
    parser.add_argument("--looks", default=LOOKED_AT)
    arguments = parser.parse_args()
    looked_at = arguments.looks.split(",")
    visits = []
    for name in arguments.evidence:
        with open(name, encoding="utf-8") as lines:
            visits += [visit(line) for line in lines]
    visits = [v for v in visits if len(v[1]) == 1 and v[1][0] not in LEFT_OUT]
    words = sorted({(s, v[3][s]) for v in visits for s in looked_at if s in v[3]})
    cabinets = sorted({v[0] for v in visits})
    told = np.array([
        numbers(known, readings) + [float(looks.get(s) == w) for s, w in words] +
        [float(cabinet == c) for c in cabinets] for cabinet, _, known, looks, readings in visits
    ])
    truth = np.array([SAME.get(v[1][0], v[1][0]) for v in visits])
    first, second = np.empty_like(truth), np.empty_like(truth)
    for learned, asked in StratifiedKFold(5, shuffle=True, random_state=1).split(told, truth):
        model = HistGradientBoostingClassifier(
            max_iter=120, learning_rate=0.06, max_leaf_nodes=12, l2_regularization=3, min_samples_leaf=8)
        model.fit(told[learned], truth[learned])
        order = np.argsort(-model.predict_proba(told[asked]), axis=1)
        first[asked], second[asked] = model.classes_[order[:, 0]], model.classes_[order[:, 1]]
    right = first == truth
    print(f"{len(truth)} visits: first {right.mean():.3f}, first or second {(right | (second == truth)).mean():.3f}")
    for cause in sorted(set(truth)):
        print(f"  {cause}: {right[truth == cause].mean():.2f} of {(truth == cause).sum()}")


if __name__ == "__main__":
    main()
