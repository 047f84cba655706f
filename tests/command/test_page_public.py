"""`phasewright page --public` as a program: strangers are served apart, and all of it ends with it."""

import contextlib
import json
import os
import re
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from phasewright.files.shop_file import read_text

pytestmark = pytest.mark.whole
ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")
PATIENCE_S = 120.0


class Stay(urllib.request.HTTPRedirectHandler):
    """Leaves a redirection to whoever asked."""

    def redirect_request(self, *_):
        return None


class Visitor:
    """Asks a server as a browser of its own would."""

    def __init__(self, address):
        self.address = address
        self._door = urllib.request.build_opener(Stay)

    def ask(self, path, data=None, kind="application/x-www-form-urlencoded"):
        head = {"origin": self.address, "content-type": kind}
        request = urllib.request.Request(self.address + path, data, head)
        try:
            with self._door.open(request, timeout=PATIENCE_S) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as told:
            return told.code, told.headers.get("location") or told.read().decode()

    def study(self, text):
        status, told = self.ask("/api/study", text.encode(), "application/yaml")
        return status, json.loads(told)


@contextlib.contextmanager
def serving(tmp_path):
    run = subprocess.Popen(
        [sys.executable, "-u", "-m", "phasewright", "page", "--no-browser", "--public",
         "--port", str(free_port())],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "XDG_DATA_HOME": str(tmp_path)},
    )  # fmt: skip
    try:
        first = run.stdout.readline()
        address = re.search(r"http://127\.0\.0\.1:\d+", first)
        assert address, first + run.stderr.read()
        yield run, address[0]
    finally:
        run.kill()
        run.communicate()


def free_port():
    import socket

    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return door.getsockname()[1]


def children(pid):
    """Every process that a process has begun, and theirs."""
    found = []
    for at in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            state, parent = at.read_text().rsplit(")", 1)[1].split()[:2]
            if int(parent) == pid and state != "Z":
                found += [int(at.parent.name), *children(int(at.parent.name))]
    return found


def until(true, what):
    end = time.monotonic() + PATIENCE_S
    while not true():
        assert time.monotonic() < end, f"waited in vain for {what}"
        time.sleep(0.05)


def alive(pids):
    return [pid for pid in pids if Path(f"/proc/{pid}").exists()]


def test_several_visitors_at_once_each_get_their_own_answer_and_it_ends_when_asked(tmp_path):
    with serving(tmp_path) as (run, address):
        visitor = Visitor(address)
        until(lambda: json.loads(visitor.ask("/health")[1])["ready"] == 2, "both processes")
        name = read_text(TEXT).shop
        texts = [TEXT.replace(name, f"Shed {number}") for number in range(4)]
        with ThreadPoolExecutor(4) as crowd:
            told = list(crowd.map(lambda text: Visitor(address).study(text), texts))
        assert [status for status, _ in told] == [200] * 4
        assert [study["shop"] for _, study in told] == [f"Shed {number}" for number in range(4)]
        begun = children(run.pid)
        assert len(begun) >= 2
        run.send_signal(signal.SIGTERM)
        assert run.wait(30) == 0
        until(lambda: not alive(begun), "its processes to end")
    assert list(tmp_path.iterdir()) == []


def test_it_ends_while_a_study_runs_and_somebody_waits(tmp_path):
    with serving(tmp_path) as (run, address):
        visitor = Visitor(address)
        until(lambda: json.loads(visitor.ask("/health")[1])["ready"] == 2, "both processes")
        long = (ROOT / "examples" / "cider-barn.shop.yaml").read_bytes()
        with ThreadPoolExecutor(1) as crowd:
            waits = crowd.submit(visitor.ask, "/api/study", long, "application/yaml")
            until(lambda: json.loads(visitor.ask("/health")[1])["working"] == 1, "the study")
            begun = children(run.pid)
            run.send_signal(signal.SIGTERM)
            assert run.wait(30) == 0
            until(lambda: not alive(begun), "its processes to end")
            with contextlib.suppress(Exception):  # the waiting one is let go, answered or not
                waits.result(30)
        assert "Traceback" not in run.stderr.read()


def test_a_server_that_is_killed_leaves_no_process_behind(tmp_path):
    with serving(tmp_path) as (run, address):
        visitor = Visitor(address)
        until(lambda: json.loads(visitor.ask("/health")[1])["ready"] == 2, "both processes")
        begun = children(run.pid)
        run.kill()
        run.wait(30)
        until(lambda: not alive(begun), "its processes to end")


def test_with_the_network_cut_off_nothing_is_missing(tmp_path):
    """In a namespace in which there is no network but the loopback: every page, what it loads, and
    an answer."""
    inside = ["unshare", "--net", "--map-root-user"]
    try:
        subprocess.run([*inside, "ip", "link", "set", "lo", "up"], check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError) as barred:
        pytest.skip(f"no network namespace may be made here: {barred}")
    told = subprocess.run(
        [*inside, sys.executable, __file__, str(tmp_path)],
        capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    assert told.stdout == "nothing is missing"


def cut_off(folder):
    """What is done inside the namespace."""
    import socket

    subprocess.run(["ip", "link", "set", "lo", "up"], check=True)
    with pytest.raises(OSError):
        socket.create_connection(("192.0.2.1", 9), timeout=2.0)  # a documentation address
    with serving(folder) as (_, address):
        visitor = Visitor(address)
        status, place = visitor.ask("/demo/pottery", b"")
        assert status == 303
        page = ""

        def answered():
            nonlocal page
            page = visitor.ask(f"{place}?stage=3")[1]
            return 'class="headline"' in page

        until(answered, "the answer")
        loads = set(re.findall(r'(?:src|href)="(/(?:static|fonts)/[^"]+)"', page))
        assert any("htmx" in each for each in loads)
        style = visitor.ask("/static/page.css")[1]
        loads |= set(re.findall(r'url\("?(/[^")]+)"?\)', style))
        for each in sorted(loads):
            assert Visitor(address)._door.open(address + each, timeout=30).status == 200, each
        assert not re.findall(r'(?:src|href|action)="(?:https?:)?//', page)
    sys.stdout.write("nothing is missing")


if __name__ == "__main__":
    cut_off(Path(sys.argv[1]))
