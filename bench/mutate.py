"""Change the code in small ways, one at a time, and see whether a test notices each.

mutmut makes the mutants, in `mutants/`. The tests are collected once and pass once, which tells who
runs which function; each mutant is then met by those tests in a fork of this process, the quickest
first, until one fails, so that pytest starts once and not for each. What was killed stays so until
its function changes, whatever becomes of the tests; what survived is tried again.
"""

import argparse
import contextlib
import functools
import gc
import math
import os
import resource
import sys
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from mutmut.__main__ import create_mutants
from mutmut.mutation.data import SourceFileMutationData
from mutmut.mutation.trampoline import set_mutant_under_test
from mutmut.state import state
from mutmut.utils.file_utils import copy_also_copy_files, copy_src_dir, setup_source_paths

MUTANTS = Path("mutants")
# How the tests of a mutant ended, in mutmut's words.
NOTICED, SURVIVED, NO_TESTS, TOO_LONG = 1, 0, 33, 36


class Part(NamedTuple):
    """What is changed, and the tests that have its values from outside.

    `own`: a module is met only by the tests in the file named after it, where there is one.
    """

    folder: str
    tests: tuple[str, ...]
    own: bool = False


# The stored vectors hold what the code once gave; what compiles the kernel or reads its signatures
# sees no mutants; 40,000 sections of noise are too slow to be met by each.
PARTS = {
    "kernel": Part(
        "src/bankside/kernel",
        (
            "tests/kernel",
            "tests/published",
            "--deselect=tests/kernel/test_compiled.py",
            "--deselect=tests/kernel/test_names.py",
            "--deselect=tests/kernel/test_vectors.py",
            "--deselect=tests/kernel/test_scatter.py::"
            "test_the_variance_of_noise_on_a_straight_section",
        ),
    ),
    # Nearly every test runs all the checks: the whole of them would take hours.
    "checks": Part("src/bankside/gauging/checks", ("tests/gauging/checks",), own=True),
}


class Loop:
    """What takes the place of pytest's own loop over tests."""

    def __init__(self, files: Sequence[SourceFileMutationData], own: bool) -> None:
        self.files = files
        self.own = own
        self.failed = False
        self.caches: list[Any] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note that a test failed."""
        self.failed = self.failed or report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Run every test once, then every mutant."""
        reached = self._unchanged(session.items)
        if self.failed:
            return True
        self.caches = [
            cache
            for cache in gc.get_objects()
            if isinstance(cache, functools._lru_cache_wrapper)
            and cache.__module__.startswith("bankside.")
        ]
        for file in self.files:
            for name, ended in file.exit_code_by_key.items():
                if ended in (None, SURVIVED, NO_TESTS):
                    tests = reached[name.partition("__mutmut_")[0]]
                    if self.own:
                        tests = _own(tests, Path(file.path).stem)
                    file.exit_code_by_key[name] = self._changed(name, sorted(tests, key=_seconds))
            file.save()
            print(file.path, flush=True)
        return True

    def _unchanged(self, items: Sequence[pytest.Item]) -> dict[str, list[tuple[float, Any]]]:
        """Return which tests run each function, each with its seconds."""
        reached = defaultdict(list)
        set_mutant_under_test("stats")
        for item, after in zip(items, [*items[1:], None], strict=True):
            state()._stats.clear()
            began = time.process_time()
            item.ihook.pytest_runtest_protocol(item=item, nextitem=after)
            for function in state()._stats:
                reached[function].append((time.process_time() - began, item))
        return reached

    def _changed(self, name: str, tests: Sequence[tuple[float, Any]]) -> int:
        """Return how the tests ended with one mutant, tried in a fork."""
        if not tests:
            return NO_TESTS
        child = os.fork()
        if child == 0:
            self._child(name, tests)
        status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        return status if status in (NOTICED, SURVIVED) else TOO_LONG

    def _child(self, name: str, tests: Sequence[tuple[float, Any]]) -> None:
        enough = 2 + math.ceil(10 * sum(seconds for seconds, _ in tests))
        resource.setrlimit(resource.RLIMIT_CPU, (enough, enough + 1))
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        set_mutant_under_test(name)
        # What the unchanged code remembered would answer in the mutant's place.
        for cache in self.caches:
            cache.cache_clear()
        try:
            for _, item in tests:
                item.ihook.pytest_runtest_protocol(item=item, nextitem=None)
                if self.failed:
                    break
        except BaseException:
            os._exit(NOTICED)
        os._exit(NOTICED if self.failed else SURVIVED)


def _own(tests: list[tuple[float, Any]], module: str) -> list[tuple[float, Any]]:
    """Return the tests in the file named after a module; all of them where it has none."""
    own = [test for test in tests if test[1].path.stem == f"test_{module}"]
    return own or tests


def _seconds(test: tuple[float, Any]) -> float:
    return test[0]


def _files(folder: str, only: Sequence[str]) -> Iterator[SourceFileMutationData]:
    """Give the files with mutants in a folder, those named if any are."""
    for source in sorted(Path(folder).glob("*.py")):
        file = SourceFileMutationData(path=source)
        file.meta_path = file.meta_path.absolute()
        file.load()
        if file.exit_code_by_key and (not only or source.stem in only):
            yield file


def main() -> int:
    """Make the mutants and try those of one part."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("part", choices=PARTS)
    parser.add_argument("modules", nargs="*", help="only these of the part, such as digits edges")
    asked = parser.parse_args()
    folder, tests, own = PARTS[asked.part]
    unknown = [one for one in asked.modules if not Path(folder, f"{one}.py").is_file()]
    if unknown:
        parser.error(f"no module of {folder}: {', '.join(unknown)}")
    MUTANTS.mkdir(exist_ok=True)
    with open(os.devnull, "w") as nowhere, contextlib.redirect_stdout(nowhere):
        set_mutant_under_test("mutant_generation")
        copy_src_dir()
        copy_also_copy_files()
        setup_source_paths()
        create_mutants(1)
    files = [*_files(folder, asked.modules)]
    os.chdir(MUTANTS)
    # Native: pytest's own tracebacks parse the source, which has every mutant in it.
    options = ["--rootdir=.", "-q", "-s", "--tb=native", "-p", "no:randomly", "-p", "no:xdist"]
    return pytest.main(
        [*options, "--hypothesis-profile=mutation", *tests], plugins=[Loop(files, own)]
    )


if __name__ == "__main__":
    sys.exit(main())
