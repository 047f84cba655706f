"""Studies in real processes: in stages, in line, stopped, killed, and ended with their server."""

import os
import signal
import time

import pytest
from page.conftest import ROOT

import phasewright
from phasewright.job.texts import rewritten, shop_of
from phasewright.network.compiled import compile_kernels, compiled
from phasewright.page.limits import Bounds
from phasewright.page.open_shop import Work
from phasewright.page.shelf import Shelf
from phasewright.page.studies import TOO_MANY, TOO_MANY_OF_YOURS, Studies

pytestmark = pytest.mark.whole
TEXT = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")
LONG = (ROOT / "examples" / "cider-barn.shop.yaml").read_text(encoding="utf-8")
PATIENCE_S = 120.0


@pytest.fixture
def studies():
    """Makes lines of studies, which are closed."""
    made = []
    if not compiled():
        compile_kernels()

    def of(**bounds):
        made.append(Studies(Bounds(**bounds)))
        return made[-1]

    yield of
    for each in made:
        each.close()


def until(true, what=""):
    end = time.monotonic() + PATIENCE_S
    while not true():
        assert time.monotonic() < end, f"waited in vain for {what}"
        time.sleep(0.005)


def gone(pid):
    """Whether a process is no more; one that has ended and is not yet asked for is none."""
    try:
        with open(f"/proc/{pid}/stat") as told:
            return told.read().rsplit(")", 1)[1].split()[0] == "Z"
    except FileNotFoundError:
        return True


def begun(studies, text, **more):
    work = Work(text)
    studies.begin(work, **more)
    return work


def test_the_answer_is_that_of_the_library_and_a_change_is_told_in_stages(studies):
    line = studies()
    first = begun(line, TEXT)
    until(lambda: first.ended, "the first answer")
    here = phasewright.study(phasewright.read(ROOT / "examples" / "pottery.shop.yaml"))
    assert first.answer.answer == here.answer
    assert first.look is None
    changed, shop = rewritten(TEXT, {"machines[0].motors[0].plate.power": "1.3 kW"})
    second = begun(line, changed, before=TEXT)
    stages = []
    until(lambda: stages.append(second.stage) or second.ended, "the second answer")
    assert stages == sorted(stages), "less was known than before"
    assert stages[-1] == 7
    touched = [motor.id for motor in second.look.motors]
    name = shop.machines[0].name
    assert touched == [f"{name}/{motor.name}" for motor in shop.machines[0].motors]
    assert second.look.line.before_a.number == pytest.approx(
        here.plans[0].supply_current_a.running.number
    )
    titles = [plan.title for plan in second.ranked]
    assert {plan.title for plan in second.answer.plans} <= set(titles)


def test_what_is_dropped_stops_and_the_process_goes_on_with_the_next(studies):
    line = studies()
    long, waits, last = begun(line, LONG), begun(line, LONG + "# waits\n"), begun(line, TEXT)
    until(lambda: long.done > 0, "the first step")
    pids = line.pids()
    assert [line.place(work) for work in (long, waits, last)] == [0, 1, 2]
    line.drop(waits)
    assert line.place(last) == 1
    line.drop(long)
    until(lambda: last.ended, "the next answer")
    assert last.answer is not None
    assert not long.ended
    assert not waits.ended
    assert line.pids() == pids


def worked_s(pid):
    """Seconds of a processor that a process has worked, its own and the system's for it."""
    with open(f"/proc/{pid}/stat") as told:
        fields = told.read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def test_of_ten_changes_in_a_row_the_last_is_answered_for_hardly_more_than_one(studies):
    shelf = Shelf(studies=studies())
    entry = shelf.put(LONG)
    until(lambda: entry.work.ended, "the first answer")
    pid = shelf.studies.pids()[0]

    def changed(kw, watts):
        before = worked_s(pid)
        for each in watts:
            text, _ = rewritten(LONG, {"machines[0].motors[0].plate.power": f"{kw}{each} kW"})
            shelf.change(entry, text)
            time.sleep(0.05)
        until(lambda: entry.work.ended, "the answer")
        return worked_s(pid) - before

    one = changed("2.0", "5")
    ten = changed("2.1", "0123456789")
    assert ten < 5.0 * one  # each answered whole would be ten
    assert "2.19 kW" in entry.text
    assert entry.work.answer == phasewright.study(shop_of(entry.text))


def test_what_takes_too_long_is_ended_and_the_next_has_a_process_of_its_own(studies):
    line = studies(study_s=0.3)
    line.open()
    until(lambda: line.state()["ready"] == 1, "the process")
    before = line.pids()
    long = begun(line, LONG)
    until(lambda: long.ended, "the end")
    assert "longer than 0.3 s of a processor" in long.failed
    until(lambda: gone(before[0]), "the old process to go")
    until(lambda: line.state()["ready"] == 1, "the new process")
    assert set(line.pids()).isdisjoint(before)


def test_a_process_that_dies_takes_one_study_with_it_and_no_more(studies):
    line = studies()
    long, last = begun(line, LONG), begun(line, TEXT)
    until(lambda: long.done > 0, "the first step")
    os.kill(line.pids()[0], signal.SIGKILL)
    until(lambda: last.ended, "the next answer")
    assert "broke off" in long.failed
    assert last.answer is not None


def test_the_line_has_an_end_and_each_visitor_a_part_of_it(studies):
    line = studies(waiting=3, waiting_each=2)
    works = [
        begun(line, TEXT + f"# {number}\n", who=who)
        for number, who in enumerate(["a", "a", "a", "a", "b", "b"])
    ]
    assert [work.failed for work in works] == ["", "", "", TOO_MANY_OF_YOURS, "", TOO_MANY]
    assert [work.again for work in works] == [False, False, False, True, False, True]


def test_two_processes_work_at_one_time_and_none_is_left(studies):
    line = studies(processes=2)
    works = [begun(line, LONG + f"# {number}\n") for number in range(2)]
    until(lambda: all(work.done for work in works), "both to be worked for")
    assert line.state()["working"] == 2
    pids = line.pids()
    line.close()
    assert all(gone(pid) for pid in pids)
    assert line.state()["processes"] == 0
