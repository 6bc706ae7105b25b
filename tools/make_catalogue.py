#!/usr/bin/env python3
"""Makes data/catalogue.json from the tables in tools/catalogue/: one entry for each refrigerant.

Usage:  python3 tools/make_catalogue.py              writes data/catalogue.json
        python3 tools/make_catalogue.py --check      fails when the file isn't what the tables give

The tables are transcribed from published works; a code in their source columns stands for one of them:

  coolprop   the designations and compositions of [ashrae34], as the open library CoolProp 8.0.0 [bell2014]
             carries them (dev/mixtures/ASHRAE_predefined_2026.tsv in its source archive)
  table1..3b a table of the handbook's chapter on refrigerants [ashrae2021, Chapter 29]
  ipcc       the three assessment reports [ipcc2007, Table 2.14], [ipcc2013, Table 8.A.1] and
             [ipcc2021, Table 7.SM.7], as the open library chemicals 1.5.2 [chemicals2016] carries them
  library    that library's own table of ozone depletion potentials
  eu517      the annexes of [eu517-2014], recalled
  zero       no chlorine, bromine or iodine in it: the handbook's text under Table 3A
  recalled   [from-memory]: to be verified before it becomes a limit

A field left empty is not known; nothing is filled in for it.
"""
import argparse
import csv
import json
import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
TABLES = ROOT / "tools" / "catalogue"
OUTPUT = ROOT / "data" / "catalogue.json"

HANDBOOK = "ashrae2021, Chapter 29, "
SOURCES = {
    "table1": HANDBOOK + "Table 1", "table2": HANDBOOK + "Table 2",
    "table3a": HANDBOOK + "Table 3A", "table3b": HANDBOOK + "Table 3B",
    "zero": HANDBOOK + "text to Table 3A", "coolprop": "bell2014, version 8.0.0",
    "library": "chemicals2016", "recalled": "from-memory", "eu517": "from-memory, eu517-2014",
}
REPORTS = {"AR4": "ipcc2007, Table 2.14", "AR5": "ipcc2013, Table 8.A.1", "AR6": "ipcc2021, Table 7.SM.7"}
EDITIONS = {"table1": "ASHRAE 34 as printed in 2021", "table2": "ASHRAE 34 as printed in 2021",
            "recalled": "ASHRAE 34-2022, recalled"}
WEIGHTED = "computed, weighted by mass"

ADDITIVES = {"R290", "R600", "R600a", "R601", "R601a", "R1270", "R170"}
CHLORINATED = {"R11", "R12", "R13", "R22", "R113", "R114", "R115", "R123", "R124", "R141b", "R142b"}
UNSURE_OF_OIL = {"RE170", "R1130(E)", "R1132(E)"}


def table(name):
    with open(TABLES / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(text):
    if text == "":
        return None
    value = float(text)
    return int(value) if value == int(value) and "." not in text else value


def shown(value):
    """Rounded to what a sum of such values can hold: one decimal, three below 10."""
    return round(value, 1) if value >= 10 else round(value, 3)


def tolerance(text):
    """"±2" or "+0.5,-1.5" in percent to (plus, minus) as fractions; "?" is not known."""
    if text in ("", "?"):
        return None, None
    if text[0] == "±":
        part = round(float(text[1:]) / 100, 6)
        return part, part
    plus, minus = text.split(",")
    return tuple(None if one[1:] == "?" else round(float(one[1:]) / 100, 6) for one in (plus, minus))


def classified(row):
    if row["safety_class"] == "":
        return None
    code = row["class_source"]
    return {"value": row["safety_class"], "source": SOURCES[code], "edition": EDITIONS[code]}


def kilograms(volume_fraction, molar_mass):
    """kg/m3 at 25 °C and 101.325 kPa, as an ideal gas."""
    return round(volume_fraction * molar_mass * 1e-3 * 101325 / (8.314462618 * 298.15), 4)


def flammability_limits():
    limits = {}
    for row in table("flammability.csv"):
        values = []
        recalled = number(row["LFL_recalled_kg_per_m3"])
        if recalled is not None:
            values.append({"value": recalled, "source": "from-memory, iso817", "edition": "ISO 817:2014, recalled"})
        for column, source, edition in (("LFL_volume_IEC60079", "iec60079-20-1", "IEC 60079-20-1:2010"),
                                        ("LFL_volume_NFPA497", "nfpa497", "NFPA 497:2008")):
            share = number(row[column])
            if share is not None:
                values.append({"value": kilograms(share, float(row["molar_mass_g_per_mol"])),
                               "volume_fraction": share, "source": source + "; chemicals2016", "edition": edition})
        limits[row["designation"]] = dict(values[0], **({"other": values[1:]} if values[1:] else {}))
    return limits


class Climate:
    """GWP and ODP of the components, and of what is mixed from them."""

    def __init__(self):
        self.rows = {row["designation"]: row for row in table("climate.csv")}

    def gwp100(self, designation):
        row = self.rows[designation]
        out, sources, recalled = {}, [], []
        for report, printed in REPORTS.items():
            out[report] = number(row[report])
            if out[report] is None:
                continue
            code = row[report + "_source"]
            sources.append(printed if code == "ipcc" else SOURCES[code])
            if sources[-1].startswith("from-memory"):
                recalled.append(report)
        out["source"] = "; ".join(sources) or None
        return self.tidy(out, recalled)

    def gwp20(self, designation):
        value = number(self.rows[designation]["GWP20_AR6"])
        return value if value is None else {"value": value, "source": REPORTS["AR6"]}

    def odp(self, designation):
        row = self.rows[designation]
        value = number(row["ODP"])
        return value if value is None else {"value": value, "source": SOURCES[row["ODP_source"]]}

    @staticmethod
    def tidy(out, recalled):
        if out["source"] is None:
            return None
        if recalled:
            out["from_memory"] = recalled
        return out

    def sum_of(self, parts, column):
        """(sum or None when no component has a value, components without one)"""
        total, missing = 0.0, []
        for designation, fraction in parts:
            value = number(self.rows[designation][column])
            if value is None:
                missing.append(designation)
            else:
                total += fraction * value
        return (None if len(missing) == len(parts) else shown(total)), missing

    def mixed_gwp100(self, parts):
        out, recalled, zero = {}, [], {}
        for report in REPORTS:
            out[report], missing = self.sum_of(parts, report)
            if out[report] is not None and missing:
                zero[report] = missing
            if any(self.rows[d][report + "_source"] == "eu517" for d, _ in parts):
                recalled.append(report)
        out["source"] = WEIGHTED
        if zero:
            out["counted_as_zero"] = zero
        return self.tidy(out, recalled)

    def mixed_gwp20(self, parts):
        value, missing = self.sum_of(parts, "GWP20_AR6")
        if value is None:
            return None
        return dict({"value": value, "source": WEIGHTED}, **({"counted_as_zero": missing} if missing else {}))

    def mixed_odp(self, parts):
        total, missing = 0.0, []
        for designation, fraction in parts:
            value = number(self.rows[designation]["ODP"])
            if value is None:
                missing.append(designation)
            else:
                total += fraction * value
        return dict({"value": round(total, 5), "source": WEIGHTED}, **({"counted_as_zero": missing} if missing else {}))


def oils_of_blend(parts):
    """Families in use, common practice: what the most demanding component asks for. None: not known."""
    names = {designation for designation, _ in parts}
    if names & UNSURE_OF_OIL:
        return None
    if names <= ADDITIVES:
        return ["MO", "AB", "PAO", "POE"]
    if names & CHLORINATED:
        return ["MO", "AB", "POE"]
    if names & ADDITIVES and "R32" not in names:
        return ["MO", "AB", "POE"]
    return ["POE", "PVE"] if not names & {"R744", "R13I1", "R23", "R116"} else ["POE"]


def lighter_than_air():
    """Those whose vapour rises: a molar mass well below the air's 28.96 g/mol [iso2533]."""
    return {row["designation"] for row in table("flammability.csv")
            if row["molar_mass_g_per_mol"] and float(row["molar_mass_g_per_mol"]) < 0.9 * 28.96}


def pure_entry(row, climate, limits):
    oils = row["oils"].split() or None
    entry = {"designation": row["designation"], "kind": "pure", "name": row["name"], "cas": row["cas"],
             "also_called": [one.strip() for one in row["also_called"].split(";") if one.strip()],
             "components": [{"designation": row["designation"], "mass_fraction": 1}],
             "safety_class": classified(row), "LFL_kg_per_m3": limits.get(row["designation"]),
             "GWP100": climate.gwp100(row["designation"]), "GWP20_AR6": climate.gwp20(row["designation"]),
             "ODP": climate.odp(row["designation"]), "oils": oils}
    if row["designation"] in lighter_than_air():
        entry["lighter_than_air"] = True
    if oils:
        entry["oils_source"] = "common-practice"
    return entry


def blend_entry(row, climate, limits):
    names = row["components"].split("/")
    fractions = [round(float(one) / 100, 6) for one in row["mass_percent"].split("/")]
    tolerances = row["tolerances"].split("/") if row["tolerances"] else [""] * len(names)
    assert len(names) == len(fractions) == len(tolerances), row["designation"]
    assert abs(sum(fractions) - 1) < 1e-9, row["designation"]
    components = []
    for name, fraction, text in zip(names, fractions, tolerances):
        plus, minus = tolerance(text)
        components.append({"designation": name, "mass_fraction": fraction,
                           "tolerance_plus": plus, "tolerance_minus": minus})
    parts = list(zip(names, fractions))
    entry = {"designation": row["designation"], "kind": "blend", "also_called": [], "components": components,
             "composition_source": SOURCES[row["composition_source"]]}
    if row["designation"] in ("R507A", "R509A"):  # the handbook's note d to Table 2
        entry["also_called"] = [row["designation"][:-1]]
    if row["tolerances"]:
        entry["tolerance_source"] = SOURCES[row["tolerance_source"]]
    oils = oils_of_blend(parts)
    entry.update({"safety_class": classified(row), "LFL_kg_per_m3": limits.get(row["designation"]),
                  "GWP100": climate.mixed_gwp100(parts), "GWP20_AR6": climate.mixed_gwp20(parts),
                  "ODP": climate.mixed_odp(parts), "oils": oils})
    if oils:
        entry["oils_source"] = "common-practice"
    if row["note"]:
        entry["note"] = row["note"]
    return entry


ABOUT = ("One entry for each refrigerant. Mass fractions and tolerances as fractions of one; LFL in kg/m3, from "
         "volume fractions at 25 °C and 101.325 kPa; GWP over 100 and 20 years against CO2; ODP against R11. "
         "GWP100's source names one work for each value given, in the order AR4, AR5, AR6; from_memory lists the "
         "values that are recalled or rest on a recalled one; a component without a value counts as zero and is "
         "named in counted_as_zero. null: not known. Critical and boiling points come from the equations.")


def compact(value):
    return json.dumps(value, ensure_ascii=False)


def document(entries):
    """JSON with one line for each member of an entry, and for each component."""
    lines = ["{", f' "about": {compact(ABOUT)},', ' "made_by": "tools/make_catalogue.py",', ' "refrigerants": [']
    for entry in entries:
        members = []
        for key, value in entry.items():
            if key == "components":
                inner = ",\n    ".join(compact(one) for one in value)
                members.append(f'   "components": [\n    {inner}]')
            else:
                members.append(f"   {compact(key)}: {compact(value)}")
        head = ", ".join(one.strip() for one in members[:2])
        lines.append("  {" + head + ",\n" + ",\n".join(members[2:]) + "}" + ("," if entry is not entries[-1] else ""))
    return "\n".join(lines + [" ]", "}"]) + "\n"


def catalogue():
    climate, limits = Climate(), flammability_limits()
    pures = [pure_entry(row, climate, limits) for row in table("pures.csv")]
    known = {entry["designation"] for entry in pures}
    blends = [blend_entry(row, climate, limits) for row in table("blends.csv")]
    for blend in blends:
        for part in blend["components"]:
            assert part["designation"] in known, (blend["designation"], part["designation"])
    return document(pures + blends)


def main():
    parser = argparse.ArgumentParser(description="Makes data/catalogue.json from tools/catalogue/.")
    parser.add_argument("--check", action="store_true", help="compare instead of writing")
    arguments = parser.parse_args()
    text = catalogue()
    if not arguments.check:
        OUTPUT.write_text(text, encoding="utf-8")
        return 0
    if OUTPUT.exists() and OUTPUT.read_text(encoding="utf-8") == text:
        print("data/catalogue.json is what the tables give")
        return 0
    print("data/catalogue.json is not what the tables give: run tools/make_catalogue.py", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
