"""What tools/compare_live.py and tools/compare_blends.py share: the library in an environment of its own, our
program's answers, and the record of the worst deviation.
"""

import os
import pathlib
import subprocess
import sys

TOP = pathlib.Path(__file__).resolve().parent.parent
LIBRARY = "CoolProp==8.0.0"

# h, u in J/kg and s in J/(kg K) are held relative to at least this: their zero is a convention.
SCALE = {"u": 1e5, "h": 1e5, "s": 1e3}
# The pressure of a cold liquid is a small difference of terms of the size of rho R T: 1 kPa of 20 MPa near the triple
# point of R22, where 50 digits show ours 5e-9 and the library 1.3e-7 away. So p is held relative to at least this
# part of rho R T.
PRESSURE_PART = 0.01
SINGLE_PHASE_ANSWER = ["T", "p", "rho", "u", "h", "s", "cv", "cp", "w", "viscosity", "conductivity"]
SATURATION_ANSWER = ["T", "p", "rho_liquid", "rho_vapour", "h_liquid", "h_vapour", "s_liquid", "s_vapour",
                     "surface_tension", "p_bubble"]


def could_not_run(why):
    print(f"{pathlib.Path(sys.argv[0]).name}: {why}", file=sys.stderr)
    sys.exit(2)


def with_library():
    """Runs this script again in an environment that has the library, if this one hasn't."""
    try:
        import CoolProp  # noqa: F401
    except ImportError:
        venv = TOP / "build" / "live"
        python = venv / "bin" / "python"
        if os.environ.get("COLDWRIGHT_LIVE") == "1":
            could_not_run(f"{LIBRARY} is installed in {venv} but does not load")
        try:
            subprocess.run([sys.executable, "-m", "venv", "--clear", str(venv)], check=True)
            subprocess.run([str(python), "-m", "pip", "install", "--quiet", LIBRARY], check=True)
        except (OSError, subprocess.CalledProcessError) as error:
            could_not_run(f"{LIBRARY} could not be installed: {error}")
        os.execve(str(python), [str(python), *sys.argv], {**os.environ, "COLDWRIGHT_LIVE": "1"})


def find_program(given):
    candidates = [pathlib.Path(given)] if given else sorted(TOP.glob("build/*/tools/print_states"))
    for candidate in candidates:
        if os.access(candidate, os.X_OK):
            return candidate
    could_not_run("print_states is not built; run ./test first or name it with --program")


def ask(program, questions):
    """One answer a question: numbers (None where the program has none), or its problem as text."""
    if not questions:
        return []
    done = subprocess.run([str(program)], input="\n".join(questions) + "\n", capture_output=True, text=True, check=False)
    answers = done.stdout.splitlines()
    if done.returncode != 0 or len(answers) != len(questions):
        could_not_run(f"{program} answered {len(answers)} of {len(questions)} questions")
    return [answer if answer.startswith("problem:") else
            [None if word == "-" else float(word) for word in answer.split()] for answer in answers]


class Worst:
    """Largest relative deviation of each property, with where it was."""

    def __init__(self):
        self.found = {}
        self.refused = 0

    def refuse(self, question, answer):
        self.refused += 1
        if self.refused <= 3:
            print(f"refused: {question}\n  {answer}")

    def add(self, name, ours, theirs, question, scale=0.0):
        part = abs(ours - theirs) / max(abs(theirs), scale, SCALE.get(name.split("_")[0], 1e-30))
        if not part <= self.found.get(name, (-1.0,))[0]:
            self.found[name] = (part, question, ours, theirs)

    def part(self, name):
        return self.found[name][0] if name in self.found else 0.0

    def beyond(self, tolerance_of):
        """Tells of each property beyond its tolerance; their number and that of the states refused."""
        bad = self.refused
        for name, (part, question, ours, theirs) in self.found.items():
            if not part < tolerance_of(name):
                bad += 1
                print(f"BEYOND {tolerance_of(name):.0e}: {name} {part:.1e} at {question}: {ours!r}, {theirs!r}")
        return bad
