"""`phasewright new` from outside: scripted sessions, exit statuses, nothing half-written."""

import os
import select
import signal
import subprocess
import sys
import time

import pytest

from phasewright.files.shop_file import read

PROGRAM = [sys.executable, "-m", "phasewright", "new"]
PLATE = "3 HP 220/440V 8.4/4.2A 1430 RPM 50Hz"
ANSWERS = ["Lane end", "GB", "1", "", "", "60 A", "Lathe", "lathe", PLATE, "", "", "", "", ""]


def new(path, answers, **environment):
    return subprocess.run(
        [*PROGRAM, str(path)],
        input="".join(f"{answer}\n" for answer in answers),
        capture_output=True, text=True, check=False, timeout=60,
        env={**os.environ, **environment},
    )  # fmt: skip


def test_a_session_writes_a_file_that_check_accepts(tmp_path):
    path = tmp_path / "mine.shop.yaml"
    told = new(path, ANSWERS)
    assert told.returncode == 0, told.stderr
    assert f"Written: {path}" in told.stdout
    assert "Read: power 3 hp, voltage 220/440 V" in told.stdout
    assert [entry.name for entry in tmp_path.iterdir()] == [path.name]
    shop = read(path)
    assert shop.machines[0].motors[0].plate.speed[0].number == 1430
    checked = subprocess.run(
        [*PROGRAM[:-1], "check", str(path)], capture_output=True, text=True, check=False
    )
    assert checked.returncode == 0
    assert "The file has no mistakes." in checked.stdout


def test_a_file_that_is_there_is_2_and_stays(tmp_path):
    path = tmp_path / "mine.shop.yaml"
    path.write_text("mine")
    told = new(path, ANSWERS)
    assert told.returncode == 2
    assert "is there already" in told.stderr
    assert told.stdout == ""
    assert path.read_text() == "mine"


def test_a_folder_that_is_not_there_is_2_before_anything_is_asked(tmp_path):
    told = new(tmp_path / "no" / "mine.shop.yaml", ANSWERS)
    assert told.returncode == 2
    assert "There is no folder" in told.stderr
    assert told.stdout == ""


@pytest.mark.parametrize("length", [0, 1, 6, len(ANSWERS) - 1])
def test_answers_that_end_too_early_are_2_and_write_nothing(length, tmp_path):
    told = new(tmp_path / "mine.shop.yaml", ANSWERS[:length])
    assert told.returncode == 2
    assert "nothing was written" in told.stderr
    assert list(tmp_path.iterdir()) == []


def test_quit_is_130_and_writes_nothing(tmp_path):
    told = new(tmp_path / "mine.shop.yaml", [*ANSWERS[:7], "quit"])
    assert told.returncode == 130
    assert "Nothing was written." in told.stdout
    assert list(tmp_path.iterdir()) == []


def test_back_takes_the_last_answer_back(tmp_path):
    path = tmp_path / "mine.shop.yaml"
    told = new(path, ["Wrong name", "back", "back", "Right name", *ANSWERS[1:]])
    assert told.returncode == 0, told.stderr
    assert read(path).shop == "Right name"


def test_a_wrong_answer_is_told_in_the_file_s_words_and_asked_again(tmp_path):
    path = tmp_path / "mine.shop.yaml"
    told = new(path, [*ANSWERS[:5], "60", "60 kg", *ANSWERS[5:]])
    assert told.returncode == 0, told.stderr
    flat = " ".join(told.stdout.split())
    assert "'60' has no unit; write a current with its unit, for example '14.5 A'" in flat
    assert "'60 kg' is not a current" in flat
    assert read(path).supply.service_rating.number == 60


def test_letters_the_input_cannot_tell_are_no_fault(tmp_path):
    path = tmp_path / "mine.shop.yaml"
    told = subprocess.run(
        [*PROGRAM, str(path)], input=b"\xff\xfe\n" + "\n".join(ANSWERS[1:]).encode() + b"\n",
        capture_output=True, check=False, timeout=60,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    assert read(path).machines[0].name == "Lathe"


def test_a_terminal_of_plain_letters_is_enough(tmp_path):
    told = new(tmp_path / "mine.shop.yaml", ANSWERS, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert told.returncode == 0, told.stderr
    assert told.stdout.isascii()
    asked, _, _ = told.stdout.partition("Written:")
    assert max(map(len, asked.splitlines())) <= 80


class Terminal:
    """A pseudo-terminal with the program behind it."""

    def __init__(self, path):
        self.ours, theirs = os.openpty()
        self.process = subprocess.Popen(
            [*PROGRAM, str(path)], stdin=theirs, stdout=theirs, stderr=theirs,
            start_new_session=True, env={**os.environ, "TERM": "dumb"},
            # a shell lets its background jobs ignore an interrupt, and a child inherits that
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )  # fmt: skip
        os.close(theirs)
        self.shown = b""

    def wait_for(self, words, seconds=30):
        """Read until the words have been shown, and forget what came before them."""
        until = time.monotonic() + seconds
        while words.encode() not in self.shown:
            ready, _, _ = select.select([self.ours], [], [], max(0, until - time.monotonic()))
            assert ready, f"never shown: {words}; but {self.shown!r}"
            try:
                self.shown += os.read(self.ours, 65536)
            except OSError:  # the other end is closed: everything has been read
                assert words.encode() in self.shown
        self.shown = self.shown.partition(words.encode())[2]

    def type(self, text):
        self.wait_for("\n> ")
        os.write(self.ours, text)


@pytest.fixture
def terminal(tmp_path):
    made = Terminal(tmp_path / "mine.shop.yaml")
    yield made
    made.process.kill()
    made.process.wait()
    os.close(made.ours)


needs_a_terminal = pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal")


@needs_a_terminal
def test_somebody_types_at_a_terminal(terminal, tmp_path):
    for answer in ANSWERS:
        terminal.type(f"{answer}\n".encode())
    terminal.wait_for("Written:")
    assert terminal.process.wait(30) == 0
    assert read(tmp_path / "mine.shop.yaml").shop == "Lane end"


@needs_a_terminal
def test_ctrl_c_is_130_and_writes_nothing(terminal, tmp_path):
    terminal.type(b"Lane end\n")
    terminal.wait_for("Which country")
    terminal.wait_for("\n> ")
    time.sleep(0.5)  # a signal after the prompt and before the read waits for the next line
    terminal.process.send_signal(signal.SIGINT)
    terminal.wait_for("Stopped.")
    assert terminal.process.wait(30) == 130
    assert list(tmp_path.iterdir()) == []


@needs_a_terminal
def test_the_end_of_input_at_a_terminal_is_2_and_writes_nothing(terminal, tmp_path):
    terminal.type(b"\x04")
    terminal.wait_for("nothing was written")
    assert terminal.process.wait(30) == 2
    assert list(tmp_path.iterdir()) == []
