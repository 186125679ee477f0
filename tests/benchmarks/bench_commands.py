"""How long commands take from start to finish, the compiled code being there from an earlier run.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_commands

Each command runs once unmeasured, then five times; the middle one counts, of the seconds that pass and of those that
the processor takes, which others on the machine change less. The aims are 1.0 s for a comparison and 0.5 s
for commands that compute nothing. Below the table stands what the slowest imports of a comparison take, as Python's own
`-X importtime` tells them.
"""

import importlib.util
import os
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SCENARIO = "scenarios/sailing-school-launch.toml"
COMMANDS = (
    (("-m", "model", "compare", SCENARIO), 1.0),
    (("-m", "model", "check", SCENARIO), 0.5),
    (("-m", "model", "--help"), 0.5),
    (("-c", "import model.measures"), None),
    (("-c", "import numba"), None),
    (("-c", "import numpy, pydantic"), None),
    (("-c", "pass"), None),
)
"""What Python is started with, and the aim; the last ones say where the time goes. [s]"""
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""As users have it: where Python may not keep what it made of the sources, every run reads them anew, at 0.1 s."""
RUNS = 5
SLOW_IMPORT_MS = 50.0


def run(arguments: tuple[str, ...]) -> subprocess.CompletedProcess[str]:
    """One run, start to finish."""
    return subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, env=ENVIRONMENT, capture_output=True, text=True, check=False
    )


def median(arguments: tuple[str, ...]) -> tuple[float, float, bool]:
    """Middle of some runs, that of the processor's time, and whether all went well. [s]"""
    went_well, taken, worked = run(arguments).returncode == 0, [], []
    for _ in range(RUNS):
        start, before = time.perf_counter(), processor_time()
        went_well &= run(arguments).returncode == 0
        taken.append(time.perf_counter() - start)
        worked.append(processor_time() - before)
    return statistics.median(taken), statistics.median(worked), went_well


def processor_time() -> float:
    """What all commands so far have taken of the processor. [s]"""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def slow_imports(arguments: tuple[str, ...]) -> list[tuple[float, str]]:
    """Imports that take long, with what they import themselves. [ms]"""
    told = [
        line.split("|") for line in run(("-X", "importtime", *arguments)).stderr.split("\n") if "import time:" in line
    ]
    found = [(float(parts[1]) / 1000.0, parts[2].strip()) for parts in told if parts[1].strip().isdigit()]
    return sorted((one for one in found if one[0] >= SLOW_IMPORT_MS), reverse=True)


def main() -> None:
    """Print the tables."""
    has_commands = importlib.util.find_spec("model.__main__") is not None
    print(f"{'command':56}{'s':>6}{'aim':>6}{'processor s':>13}")
    for arguments, aim in COMMANDS:
        name = " ".join(["python", *arguments])
        if arguments[:2] == ("-m", "model") and not has_commands:
            print(f"{name:56}  (there is no command line yet)")
            continue
        taken, worked, went_well = median(arguments)
        print(f"{name:56}{taken:6.2f}{aim or '':>6}{worked:13.2f}{'' if went_well else '  FAILED'}")
    print(f"\n{'imports of a comparison, with what they import':48}{'ms':>6}")
    for taken, name in slow_imports(COMMANDS[0][0] if has_commands else COMMANDS[3][0]):
        print(f"{name:48}{taken:6.0f}")


if __name__ == "__main__":
    main()
