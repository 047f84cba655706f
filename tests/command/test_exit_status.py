"""The exit status and the words of every end a command can come to, from outside."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from phasewright.command import sources
from phasewright.command.app import run
from phasewright.quantities.errors import MachineFault, NotComputable, UsageError

ROOT = Path(__file__).resolve().parents[2]
POTTERY = ROOT / "examples" / "pottery.shop.yaml"
PROGRAM = [sys.executable, "-m", "phasewright"]


def phasewright(*arguments, folder=None, **environment):
    return subprocess.run(
        [*PROGRAM, *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        cwd=folder,
        env={**os.environ, **environment},
        timeout=300,
    )


def test_help_names_every_command_and_no_other():
    told = phasewright("--help")
    assert told.returncode == 0
    listed = [
        line.split()[0]
        for line in told.stdout.split("COMMAND\n")[1].splitlines()
        if line.startswith("    ") and line[4] != " "
    ]
    assert listed == ["study", "check", "new", "start", "page", "sources"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["study"], "SHOP.yaml"),
        (["check", "a", "b"], "b"),
        (["nonsense"], "nonsense"),
        (["stduy", "x"], "Did you mean 'study'?"),
        (["study", "--nonsense", "x"], "--nonsense"),
        (["study", "--qui", "x"], "--qui"),
        (["study", "x", "--out"], "--out"),
        (["check", "no-such.shop.yaml"], "no-such.shop.yaml"),
        (["study", "."], "is a folder"),
        ([], "usage: phasewright"),
    ],
)
def test_wrong_use_is_2_and_says_what(arguments, words, tmp_path):
    told = phasewright(*arguments, folder=tmp_path)
    assert told.returncode == 2
    assert told.stdout == ""
    assert words in told.stderr
    assert "Traceback" not in told.stderr


def test_out_that_is_a_file_is_wrong_use_before_anything_is_computed(tmp_path):
    (tmp_path / "answer").write_text("mine")
    told = phasewright("study", POTTERY, "--out", "answer", folder=tmp_path)
    assert told.returncode == 2
    assert "is a file" in told.stderr
    assert (tmp_path / "answer").read_text() == "mine"


@pytest.mark.parametrize("command", ["study", "check"])
def test_mistakes_are_1_and_all_are_listed_with_line_and_path(command, tmp_path):
    shop = tmp_path / "bad.shop.yaml"
    text = POTTERY.read_text(encoding="utf-8")
    assert "country: GB" in text
    text = text.replace("country: GB", "country: 17", 1)
    shop.write_text(text.replace("supply:", "supply:\n  voltagee: 230 V", 1))
    told = phasewright(command, shop)
    assert told.returncode == 1
    lines = told.stderr.splitlines()
    assert any("bad.shop.yaml:" in line and "voltagee" in line for line in lines)
    assert any("supply.country" in line for line in lines)
    assert "Traceback" not in told.stderr
    assert told.stdout == ""


def test_check_is_0_and_short(tmp_path):
    told = phasewright("check", POTTERY, folder=tmp_path)
    assert told.returncode == 0, told.stderr
    assert "The file has no mistakes." in told.stdout
    assert max(map(len, told.stdout.splitlines())) <= 80
    assert "\x1b" not in told.stdout
    assert list(tmp_path.iterdir()) == []


def test_sources_say_how_sure_they_are():
    told = phasewright("sources")
    assert told.returncode == 0, told.stderr
    for status in ("published: ", "from memory: ", "common practice: "):
        assert status in told.stdout


def test_plain_letters_where_the_terminal_has_no_others():
    told = phasewright("sources", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert told.returncode == 0, told.stderr
    assert told.stdout.isascii()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_a_disk_that_is_full_is_4_in_one_sentence():
    with open("/dev/full", "w") as full:
        told = subprocess.run(
            [*PROGRAM, "sources"], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert told.returncode == 4
    assert len(told.stderr.splitlines()) == 1
    assert "No space left" in told.stderr


def test_a_reader_that_leaves_is_no_failure():
    with subprocess.Popen(
        [*PROGRAM, "sources"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        process.stdout.close()
        told = process.stderr.read()
        assert process.wait(60) == 0
    assert told == b""


def test_ctrl_c_is_130():
    waits = (
        "import signal, sys, time; from phasewright.command import app, sources\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)  # even as a background job\n"
        "sources.list_sources = lambda: (print('ready', flush=True), time.sleep(60))\n"
        "sys.exit(app.run(['sources']))\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", waits], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout.readline().strip() == b"ready"
        process.send_signal(signal.SIGINT)
        _, told = process.communicate(timeout=30)
    assert process.returncode == 130
    assert told.decode().strip() == "Stopped."


@pytest.mark.parametrize(
    ("fault", "status", "words"),
    [
        (ZeroDivisionError("by nought"), 4, "A fault of this program"),
        (MachineFault("the port is taken"), 4, "the port is taken"),
        (NotComputable("no such circuit"), 4, "no such circuit"),
        (UsageError("one file, not two"), 2, "one file, not two"),
    ],
)
def test_every_fault_leaves_in_one_sentence(fault, status, words, monkeypatch, capsys):
    def fail():
        raise fault

    monkeypatch.setattr(sources, "list_sources", fail)
    assert run(["sources"]) == status
    told = capsys.readouterr().err
    assert words in told
    assert len(told.splitlines()) == 1
    monkeypatch.setenv("PHASEWRIGHT_TRACE", "1")
    assert run(["sources"]) == status
    assert "Traceback" in capsys.readouterr().err
