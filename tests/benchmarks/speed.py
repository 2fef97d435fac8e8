"""Measures, and asserts nothing: `python tests/benchmarks/speed.py [rounds]`.

1. A cold `scantling check` of the first starter beside a bare script that only loads the file with
   libyaml and validates it with jsonschema against the same bundled schema, and beside
   check-jsonschema where that is installed. Medians of alternating runs.
2. The whole packet beside what the bare renderers take for the same documents.
3. The cost per room of jobs of 2 to 40 rooms.
"""

from __future__ import annotations

import json
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from spec import files
from spec.job.bundle import bundle

BARE = """
import json, sys, yaml
from jsonschema import Draft202012Validator
schema = json.load(open(sys.argv[2], encoding="utf-8"))
with open(sys.argv[1], "rb") as file:
    job = yaml.load(file, Loader=type("Plain", (yaml.CBaseLoader,), {}))
errors = list(Draft202012Validator(schema).iter_errors(job))
"""


def timed(command: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def cold(job: Path, rounds: int, folder: Path) -> None:
    schema = folder / "schema.json"
    schema.write_text(json.dumps(bundle()), encoding="utf-8")
    bare = folder / "bare.py"
    bare.write_text(BARE, encoding="utf-8")
    commands = {
        "bare load and validate": [sys.executable, str(bare), str(job), str(schema)],
        "scantling check": [str(Path(sys.executable).with_name("scantling")), "check", str(job)],
        "scantling check --so-far": [
            str(Path(sys.executable).with_name("scantling")),
            "check",
            "--so-far",
            str(job),
        ],
    }
    other = shutil.which("check-jsonschema", path=str(Path(sys.executable).parent))
    if other:
        commands["check-jsonschema"] = [other, "--schemafile", str(schema), str(job)]
    taken: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(rounds):
        for name, command in commands.items():
            taken[name].append(timed(command))
    base = statistics.median(taken["bare load and validate"])
    for name, times in taken.items():
        middle = statistics.median(times)
        print(f"{name:28} {middle * 1000:7.0f} ms   {middle / base:5.2f} x bare")


def packet(job: Path, rounds: int, folder: Path) -> None:
    from spec.compose import compose
    from spec.pipeline import check_file, run
    from spec.render.fonts import made_printable
    from spec.render.press import Press

    whole, bare = [], []
    for n in range(rounds):
        start = time.perf_counter()
        run(job, folder / f"out{n}")
        whole.append(time.perf_counter() - start)
        documents, _ = made_printable(compose(check_file(job)).documents)
        start = time.perf_counter()
        press = Press()
        for document in documents:
            for _ in press.set(document):
                pass
        bare.append(time.perf_counter() - start)
    a, b = statistics.median(whole), statistics.median(bare)
    print(f"whole packet {a:.2f} s, bare renderers {b:.2f} s: {a / b:.2f} x")


def rooms(folder: Path, rounds: int) -> None:
    from spec.pipeline import check_file

    for count in (2, 10, 40):
        path = folder / f"rooms{count}.yaml"
        path.write_text(many_rooms(count), encoding="utf-8")
        times = []
        for _ in range(rounds):
            start = time.perf_counter()
            check_file(path)
            times.append(time.perf_counter() - start)
        middle = statistics.median(times)
        print(f"{count:3} rooms {middle * 1000:7.0f} ms, {middle / count * 1000:6.1f} ms per room")


ROOM = """  room_{n}:
    taped: {{to: finish, who: lead, when: 2026-05-04}}
    height: 8 ft
    diagonals: {{WA{n}-WC{n}: 20 ft}}
    stacks:
      st_{n}:
        bottom_to_top: {{lower: {{is: racks, height: 8 ft, depth: 14 in, rows: 20, deep: 1}}}}
    walls_clockwise:
"""
WALL = """      W{letter}{n}:
        length: {length} ft
        millwork:
          lower: {{left_to_right: {{R{letter}{n}: {{width: {length} ft, columns: 40}}}}}}
"""


def many_rooms(count: int) -> str:
    """A job of like rooms with a rack on every wall."""
    text = "scantling: 1\njob: {number: 26-099, units: imperial}\nrooms:\n"
    for n in range(count):
        text += ROOM.format(n=n)
        for letter, length in (("A", 16), ("B", 12), ("C", 16), ("D", 12)):
            text += WALL.format(n=n, letter=letter, length=length)
    return text


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    job = files.templates() / "jobs" / "garden_store" / "job.yaml"
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        cold(job, rounds, folder)
        rooms(folder, rounds)
        packet(job, max(rounds // 2, 1), folder)


if __name__ == "__main__":
    main()
