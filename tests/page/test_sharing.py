"""In a real browser: a link that carries the whole shop, and a server that was killed."""

import base64
import os
import re
import select
import signal
import subprocess
import sys
import zlib
from urllib.parse import urlsplit

import pytest
from page.conftest import ROOT

from phasewright.files.shop_file import read_text

pytestmark = pytest.mark.whole
FILE = ROOT / "examples" / "pottery.shop.yaml"


def kept_text(seen):
    with seen.expect_download() as kept:
        seen.click("text=Keep the shop file")
    return kept.value.path().read_bytes()


def test_a_link_carries_the_whole_shop_and_no_server_sees_it_before(look, address):
    sender = look(accept_downloads=True)
    sender.goto(address)
    sender.set_input_files("#shop", str(FILE))
    sender.click("text=Open it")
    sender.click("text=Make a link")
    sender.wait_for_selector("#share-look:has-text('letters')")
    link = sender.input_value("#share-link")
    letters = urlsplit(link).fragment.removeprefix("shop=")
    assert len(letters) < FILE.stat().st_size
    reader = look(accept_downloads=True)
    sent = []
    reader.on("request", lambda asked: sent.append(f"{asked.url}\n{asked.post_data or ''}"))
    reader.goto(link)
    reader.wait_for_selector("#link-open:visible")
    assert "#" not in reader.url
    assert sent[0].strip() == f"{address}/link"
    assert not any(letters in each or "phasewright" in each.split("/", 3)[3] for each in sent)
    assert reader.text_content("#link-shown") == FILE.read_text(encoding="utf-8")
    reader.click("text=Open this shop")
    reader.wait_for_url(re.compile(r"/shop/"))
    assert reader.url.rsplit("/", 1)[1] != sender.url.rsplit("/", 1)[1]
    assert kept_text(reader) == FILE.read_bytes()
    reader.goto(f"{address}/link")
    reader.fill("#link-pasted", link[:-40])
    reader.wait_for_selector("#link-told:has-text('cannot be opened')")
    assert not reader.is_visible("#link-open")
    bomb = zlib.compressobj(9, zlib.DEFLATED, -15)
    packed = bomb.compress(b"#" * 50_000_000) + bomb.flush()
    letters = base64.urlsafe_b64encode(packed).decode().rstrip("=")
    reader.fill("#link-pasted", f"{address}/link#shop={letters}")
    reader.wait_for_selector("#link-told:has-text('larger than any shop file')")
    assert not reader.is_visible("#link-open")
    reader.fill("#link-pasted", f"look at {link}")
    reader.wait_for_selector("#link-open:visible")


def served(folder, port):
    run = subprocess.Popen(
        [sys.executable, "-u", "-m", "phasewright", "page", "--no-browser", "--port", str(port)],
        stdout=subprocess.PIPE, text=True, env={**os.environ, "XDG_DATA_HOME": str(folder)},
    )  # fmt: skip
    ready, _, _ = select.select([run.stdout], [], [], 120)
    assert ready
    assert f":{port}/" in run.stdout.readline()
    return run


def test_a_killed_server_has_lost_nothing(look, tmp_path, free_port):
    at = f"http://127.0.0.1:{free_port}/"
    run = served(tmp_path, free_port)
    try:
        seen = look(accept_downloads=True)
        seen.goto(at)
        seen.set_input_files("#shop", str(FILE))
        seen.click("text=Open it")
        place = seen.url
        seen.goto(f"{place}/machine/0")
        seen.fill("#name", "Renamed before the end")
        seen.click("text=Keep and draw")
        seen.wait_for_url(place)
        run.send_signal(signal.SIGKILL)
        run.wait(30)
        run.stdout.close()
        run = served(tmp_path, free_port)
        seen.goto(at)
        seen.click(f"text={read_text(FILE.read_text(encoding='utf-8')).shop}")
        assert seen.url == place
        assert b"Renamed before the end" in kept_text(seen)
        seen.click("text=Take the last change back")
        seen.wait_for_load_state()
        assert kept_text(seen) == FILE.read_bytes()
    finally:
        run.kill()
        run.wait(30)
        run.stdout.close()
