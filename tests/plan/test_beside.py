"""Work on a second core: the same answer wherever it is done, and nothing left behind."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from phasewright.plan.beside import beside

ALONE = """
import os, threading
from phasewright.plan.beside import beside
"""
two_cores = pytest.mark.skipif(
    sys.platform != "linux" or len(os.sched_getaffinity(0)) < 2,
    reason="a copy is made on Linux with two cores",
)


def alone(program: str) -> str:
    """What a program without other threads prints."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", ALONE + program],
        check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip


def test_what_is_found_beside_is_what_would_be_found_here() -> None:
    with beside(lambda: [n * n for n in range(100_000)]) as found:
        assert found() == [n * n for n in range(100_000)]


@two_cores
def test_it_is_found_in_another_process() -> None:
    told = alone("with beside(os.getpid) as found: print(found() != os.getpid())\n")
    assert told == "True\n"


@two_cores
def test_a_copy_that_breaks_off_leaves_its_fault_to_be_met_here() -> None:
    told = alone(
        "def broken(): raise ValueError(os.getpid() == here)\n"
        "here = os.getpid()\n"
        "try:\n"
        "    with beside(broken) as found: found()\n"
        "except ValueError as fault:\n"
        "    print(fault)\n"
    )
    assert told == "True\n"


@two_cores
def test_a_copy_that_nobody_waits_for_is_ended() -> None:
    told = alone(
        "import time\n"
        "began = time.monotonic()\n"
        "with beside(lambda: time.sleep(60)): pass\n"
        "try:\n"
        "    os.waitpid(-1, 0)\n"
        "except ChildProcessError:\n"
        "    print(time.monotonic() - began < 30)\n"
    )
    assert told == "True\n"


def test_beside_another_thread_no_copy_is_made() -> None:
    told = alone(
        "let_go = threading.Event()\n"
        "threading.Thread(target=let_go.wait).start()\n"
        "with beside(os.getpid) as found: print(found() == os.getpid())\n"
        "let_go.set()\n"
    )
    assert told == "True\n"


def test_where_the_computer_refuses_another_process_it_is_found_here() -> None:
    told = alone(
        "def refused(): raise BlockingIOError\n"
        "os.fork = refused\n"
        "with beside(os.getpid) as found: print(found() == os.getpid())\n"
    )
    assert told == "True\n"
