"""`phasewright page` as a program: it tells its address, answers there alone, and ends on Ctrl-C."""

import contextlib
import re
import select
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    """Shops of these tests are kept nowhere else."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))


def started(*arguments):
    return subprocess.Popen(
        [sys.executable, "-u", "-m", "phasewright", "page", "--no-browser", *arguments],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip


@contextlib.contextmanager
def serving(*arguments):
    run = started(*arguments)
    try:
        ready, _, _ = select.select([run.stdout], [], [], 120)
        assert ready, "it told no address"
        first = run.stdout.readline()
        address = re.search(r"http://127\.0\.0\.1:\d+/\S*", first)
        assert address, first + run.stderr.read()
        yield run, address[0]
    finally:
        run.kill()
        run.communicate()


def free_port():
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return door.getsockname()[1]


def test_it_serves_a_shop_on_this_computer_alone_and_ends_on_ctrl_c():
    port = free_port()
    shop = str(ROOT / "examples" / "pottery.shop.yaml")
    with serving("--port", str(port), shop) as (run, address):
        assert f":{port}/shop/" in address
        with urllib.request.urlopen(address, timeout=60) as answer:
            assert "Lane end pottery" in answer.read().decode()
        for host in other_addresses():
            with pytest.raises(OSError), socket.create_connection((host, port), timeout=2):
                pass
        run.send_signal(signal.SIGINT)
        assert run.wait(60) == 130


def other_addresses():
    """Addresses by which other computers would reach this one."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address; nothing is sent
        except OSError:
            return []
        return [probe.getsockname()[0]]


def test_a_port_that_is_taken_is_told_in_a_sentence():
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        door.listen()
        port = door.getsockname()[1]
        run = started("--port", str(port))
        _, told = run.communicate(timeout=120)
    assert run.returncode == 4
    assert told.strip() == f"The page could not be served on port {port}: Address already in use."


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (["--port", "0"], 2, "--port names a port from 1 to 65535."),
        (["nowhere.yaml"], 2, "There is no file nowhere.yaml."),
        ([str(ROOT / "README.md")], 1, "README.md"),
    ],
)
def test_wrong_use_is_told(arguments, status, words):
    run = started(*arguments)
    _, told = run.communicate(timeout=120)
    assert run.returncode == status
    assert words in told
    assert "Traceback" not in told
