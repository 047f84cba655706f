"""Progress: silent for short work, a line a step for long work, and never in the way."""

import io
import sys

import pytest

from phasewright.command import progress


@pytest.fixture
def clock(monkeypatch):
    now = [100.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    return now


def test_short_work_says_nothing(clock, capsys):
    with progress.Steps() as steps:
        steps("reading", 0, 3)
    assert capsys.readouterr() == ("", "")


def test_long_work_says_each_step_once(clock, capsys):
    with progress.Steps() as steps:
        clock[0] += progress.PATIENCE_S + 1.0
        for done in range(3):
            steps("weighing", done, 3)
        steps("writing", 0, 0)
        steps("", 3, 3)
    assert capsys.readouterr() == ("", "weighing (0 of 3)\nwriting\n")


class Closed(io.StringIO):
    def write(self, text):
        raise BrokenPipeError


def test_work_goes_on_when_nobody_listens(clock, monkeypatch):
    monkeypatch.setattr(sys, "stderr", Closed())
    with progress.Steps() as steps:
        clock[0] += progress.PATIENCE_S + 1.0
        steps("weighing", 0, 3)
