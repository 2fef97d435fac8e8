"""Runs the errors; what for and how stands in `tests/mutation/__init__.py`."""

from __future__ import annotations

import argparse
import gc
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import os
import resource
import shutil
import signal
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.mutation.equivalent import is_equivalent, stale
from tests.mutation.guards import GUARDS
from tests.mutation.mutants import Mutant, mutants

CHECKOUT = Path(__file__).resolve().parents[2]
FORMULAS = "spec.derive.formulas"
HEAVY = ("numpy", "CoolProp.HumidAirProp", "networkx", "shapely", "ht.insulation", "psychrolib")
"""Imported once, before the forks. Nothing of the project: each error wants it fresh."""

OPTIONS = (
    "-x", "-q", "--tb=no", "--assert=plain", "-p", "no:cacheprovider", "-o", "addopts=",
    "-p", "no:unraisableexception", "-p", "no:threadexception", "--hypothesis-profile=mutation",
)  # fmt: skip
"""What tells only whether a test fails, quickly."""


ENDED = (signal.SIGXCPU, signal.SIGKILL, signal.SIGSEGV)
"""What ends a process that never would, or that broke: the error was seen."""


@dataclass
class Tally:
    """What became of a module's errors."""

    killed: int = 0
    equivalent: list[Mutant] = field(default_factory=list)
    survived: list[Mutant] = field(default_factory=list)

    @property
    def share(self) -> float:
        """Survivors, of all errors that are no known equivalents."""
        whole = self.killed + len(self.survived)
        return len(self.survived) / whole if whole else 0.0


class Planted(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives one module its erroneous source when it is imported."""

    def __init__(self, name: str, source: str) -> None:
        self.name, self.source = name, source

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        return importlib.util.spec_from_loader(name, self) if name == self.name else None

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.source, f"<{self.name}>", "exec"), module.__dict__)


class OfModule:
    """Leaves out calls that try other modules: those name theirs in their identifiers."""

    def __init__(self, module: str) -> None:
        self.name = f"{FORMULAS}.{module}."

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keeps what tries this module, or says nothing of which it tries."""
        items[:] = [i for i in items if f"{FORMULAS}." not in i.nodeid or self.name in i.nodeid]


def fork(module: str, source: str, tests: Sequence[str], seconds: int) -> int:
    """A process that runs the tests on a source; returns its id."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        return child
    code = 99
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1), os.dup2(quiet, 2)
        sys.meta_path.insert(0, Planted(f"{FORMULAS}.{module}", source))
        for test in tests:  # file by file: the first one kills most
            code = int(pytest.main([*OPTIONS, test], plugins=[OfModule(module)]))
            code = 0 if code == pytest.ExitCode.NO_TESTS_COLLECTED else code
            if code:
                break
    finally:
        os._exit(code)


def seconds_alone(module: str, source: str, tests: Sequence[str]) -> float:
    """Processor time of the guards on the sound module. Raises SystemExit when they fail."""
    start = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    _, status = os.waitpid(fork(module, source, tests, 600), 0)
    if status != 0:
        raise SystemExit(f"{module}: its guards fail without any error in it: {' '.join(tests)}")
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - start


def run(module: str, source: str, tests: Sequence[str], jobs: int, every: int) -> Tally:
    """Plants the errors of a module, all or each so many'th, so many at a time."""
    limit = 5 + int(8 * seconds_alone(module, source, tests))
    tally, running = Tally(), {}
    todo: Iterator[Mutant] = islice(mutants(source), 0, None, every)
    while True:
        while len(running) < jobs and (mutant := next(todo, None)) is not None:
            running[fork(module, mutant.source, tests, limit)] = mutant
        if not running:
            return tally
        child, status = os.wait()
        mutant = running.pop(child)
        if status == 0:
            known = is_equivalent(module, mutant.before, mutant.after)
            (tally.equivalent if known else tally.survived).append(mutant)
        elif os.WIFSIGNALED(status) and os.WTERMSIG(status) not in ENDED:
            raise SystemExit(f"{module}: stopped from outside on {mutant.after}")
        else:
            tally.killed += 1


def enter(copy: Path) -> None:
    """From here on `spec` and `tests` are those of the copy."""
    os.chdir(copy)
    sys.path[:] = [str(copy), *(p for p in sys.path if p and Path(p).resolve() != CHECKOUT)]
    for name in [n for n in sys.modules if n.partition(".")[0] in ("tests", "spec")]:
        del sys.modules[name]


def main() -> None:
    """Arguments in, a table out; exit status 1 where a tenth or more survive."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("modules", nargs="*", help="all unless given")
    parser.add_argument("--jobs", type=int, default=1, help="processes at a time")
    parser.add_argument("--every", type=int, default=1, help="a sample: each so many'th error")
    chosen = parser.parse_args()
    for module in chosen.modules:
        if module not in GUARDS:
            parser.error(f"no module is called {module}; there are {', '.join(GUARDS)}")
    settings.register_profile(
        "mutation",
        deadline=None,
        max_examples=25,
        derandomize=True,
        database=None,
        phases=(Phase.explicit, Phase.generate),
        suppress_health_check=list(HealthCheck),
    )
    for name in HEAVY:
        importlib.import_module(name)
    with tempfile.TemporaryDirectory(prefix="mutation-") as folder:
        copy = Path(folder) / "checkout"
        shutil.copytree(
            CHECKOUT, copy, ignore=shutil.ignore_patterns(".*", "__pycache__", "packet")
        )
        enter(copy)
        pytest.main(["--version", "--noconftest"])  # its plugins, before the forks
        gc.freeze()
        tallies = {}
        print(
            f"{'module':18}{'mutants':>8}{'killed':>8}{'survived':>9}{'share':>7}{'equivalent':>11}",
            flush=True,
        )
        for module in chosen.modules or GUARDS:
            source = (copy / "spec/derive/formulas" / f"{module}.py").read_text("utf-8")
            tests = [f"tests/{file}" for file in GUARDS[module]]
            tally = tallies[module] = run(module, source, tests, chosen.jobs, chosen.every)
            alive, known = len(tally.survived), len(tally.equivalent)
            print(
                f"{module:18}{tally.killed + alive + known:8}{tally.killed:8}{alive:9}"
                f"{tally.share:7.1%}{known:11}"
            )
            for mutant in sorted(tally.survived, key=lambda m: m.line):
                print(f"  {module}.py:{mutant.line}: {mutant.before}\n{'':>14}-> {mutant.after}")
            if chosen.every == 1:
                for line in stale(module, [(m.before, m.after) for m in tally.equivalent]):
                    print(f"  {module}: equivalent.toml has what no surviving error makes: {line}")
            sys.stdout.flush()
    raise SystemExit(any(tally.share >= 0.1 for tally in tallies.values()))


if __name__ == "__main__":
    main()
