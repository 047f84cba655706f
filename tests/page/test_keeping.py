"""Shops are kept by themselves: after a killed server, on a full disk, with two windows at once."""

import base64
import errno
import html
import io
import os
import re
import zipfile
from concurrent.futures import ThreadPoolExecutor

import pytest
from page.conftest import ROOT
from page.test_forms import sent_back
from starlette.testclient import TestClient

from phasewright.files.shop_file import read_text
from phasewright.files.shop_folder import ShopFolder
from phasewright.files.yaml_tree import MOST_BYTES
from phasewright.job.keeping import steps_back, together
from phasewright.page.open_shop import Overtaken
from phasewright.page.server import page
from phasewright.page.shelf import Shelf
from phasewright.page.studies import Studies

BASE = "http://127.0.0.1:8765"
HERE = {"origin": BASE}
TEXT = (ROOT / "examples" / "cider-barn.shop.yaml").read_text(encoding="utf-8")
NAME = read_text(TEXT).shop
PLAIN = {"region": "wires in mm2, motors in kW", "machine": "Saw", "plate": "2 kW"}


@pytest.fixture(autouse=True)
def no_study(monkeypatch):
    monkeypatch.setattr(Studies, "begin", lambda *_: None)


@pytest.fixture
def folder(tmp_path):
    return ShopFolder(tmp_path / "shops")


@pytest.fixture
def begun(folder):
    """Begins one more server on the same folder."""
    made = []

    def server(**how):
        client = TestClient(page(folder=folder, **how)[0], base_url=BASE)
        made.append(client)
        return client.__enter__()

    yield server
    for client in made:
        client.__exit__(None, None, None)


def opened(client, text=TEXT):
    files = {"shop": ("a.shop.yaml", io.BytesIO(text.encode()), "text/plain")}
    answer = client.post("/open", files=files, headers=HERE, follow_redirects=False)
    assert answer.status_code == 303
    return answer.headers["location"]


def text_at(client, place):
    return client.get(f"{place}/shop.yaml").text


def state_of(client, place):
    return re.search(r'name="state" value="(\d+)"', client.get(f"{place}/supply").text)[1]


def send(client, at, state, **typed):
    data = {"state": state, **typed}
    return client.post(at, data=data, headers=HERE, follow_redirects=False)


def window(client, place, machine):
    """A window on a machine's form as it stands now; gives what sends it with another name."""
    action, fields = sent_back(client.get(f"{place}/machine/{machine}").text)

    def rename(name):
        data = {}
        for key, value in fields:
            data.setdefault(key, []).append(value)
        data["name"] = [name]
        return client.post(action, data=data, headers=HERE, follow_redirects=False)

    return rename


def renamed(client, place, machine, name):
    return window(client, place, machine)(name)


def names(text):
    return [machine.name for machine in read_text(text).machines]


def field(page, do):
    """The text that a choice of the page sends."""
    for text, chosen in re.findall(r'name="text" value="([^"]*)"><button name="do" value="(\w+)"',
                                   page):  # fmt: skip
        if chosen == do:
            return text
    return None


def full(*_):
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_change_is_there_after_the_server_was_ended_with_its_way_back(begun):
    one = begun()
    place = opened(one)
    assert renamed(one, place, 0, "Mill A").status_code == 303
    assert renamed(one, place, 1, "Press B").status_code == 303
    last = text_at(one, place)
    other = begun()
    assert text_at(other, place) == last
    assert NAME in html.unescape(other.get("/").text)
    send(other, f"{place}/back", state_of(other, place))
    send(other, f"{place}/back", state_of(other, place))
    assert text_at(other, place) == TEXT


def test_a_demo_is_kept_when_it_is_changed_and_not_before(begun, folder):
    client = begun()
    place = client.post("/demo/cider-barn", headers=HERE, follow_redirects=False).headers[
        "location"
    ]
    assert folder.keys() == ()
    assert renamed(client, place, 0, "Mill A").status_code == 303
    kept = folder.states(folder.keys()[0])
    assert [state.number for state in kept] == [1, 2]
    assert kept[0].text == TEXT


def test_without_a_folder_nothing_is_written_and_nothing_listed(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    with TestClient(page(public=True)[0], base_url=BASE) as client:
        place = opened(client)
        assert renamed(client, place, 0, "Mill A").status_code == 303
        assert NAME + "</a>" not in html.unescape(client.get("/").text)
        assert "in memory" in client.get(f"{place}/history").text
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_is_told_and_made_good_when_there_is_room(begun, folder, monkeypatch):
    client = begun()
    place = opened(client)
    with monkeypatch.context() as tight:
        tight.setattr(os, "fsync", full)
        assert renamed(client, place, 0, "Mill A").status_code == 303
        told = client.get(place)
        assert told.status_code == 200
        assert "No space left on device" in told.text
        assert "goes on in memory" in told.text
        assert names(text_at(client, place))[0] == "Mill A"
    assert [state.number for state in folder.states(place[6:])] == [1]
    assert renamed(client, place, 1, "Press B").status_code == 303
    assert "No space left" not in client.get(place).text
    assert [state.number for state in folder.states(place[6:])] == [1, 2, 3]


def test_two_windows_on_different_machines_can_have_both(begun):
    client = begun()
    place = opened(client)
    late = window(client, place, 1)
    assert renamed(client, place, 0, "Mill A").status_code == 303
    late = late("Press B")
    assert late.status_code == 409
    assert names(text_at(client, place))[0] == "Mill A"
    assert "Press B" not in text_at(client, place)
    assert "Mill A" in late.text
    assert "Press B" in late.text
    both = send(client, f"{place}/settle", "2", do="both", text=field(late.text, "both"))
    assert both.status_code == 303
    assert names(text_at(client, place))[:2] == ["Mill A", "Press B"]


def test_two_windows_on_the_same_machine_are_asked_which(begun):
    client = begun()
    place = opened(client)
    one, other = window(client, place, 0), window(client, place, 0)
    one("Mill A")
    late = other("Mill B")
    assert late.status_code == 409
    assert field(late.text, "both") is None
    mine = field(late.text, "mine")
    apart = send(client, f"{place}/settle", "2", do="apart", text=mine).headers["location"]
    assert names(text_at(client, apart))[0] == "Mill B"
    assert names(text_at(client, place))[0] == "Mill A"
    assert send(client, f"{place}/settle", "2", do="mine", text=mine).status_code == 303
    assert names(text_at(client, place))[0] == "Mill B"
    history = client.get(f"{place}/history").text
    assert "Mill A" in history
    back = send(client, f"{place}/restore", "3", older="2")
    assert back.status_code == 303
    assert names(text_at(client, place))[0] == "Mill A"


def test_a_decision_that_is_overtaken_itself_is_asked_again(begun):
    client = begun()
    place = opened(client)
    one, other = window(client, place, 0), window(client, place, 0)
    one("Mill A")
    late = other("Mill B")
    renamed(client, place, 0, "Mill C")
    again = send(client, f"{place}/settle", "2", do="mine", text=field(late.text, "mine"))
    assert again.status_code == 409
    assert "Mill B" in again.text
    assert names(text_at(client, place))[0] == "Mill C"


def test_two_servers_on_one_folder_notice_each_other(begun):
    one, other = begun(), begun()
    place = opened(one)
    assert text_at(other, place) == TEXT
    late = window(other, place, 0)
    assert renamed(one, place, 0, "Mill A").status_code == 303
    assert late("Mill B").status_code == 409
    assert names(text_at(other, place))[0] == "Mill A"
    assert renamed(other, place, 0, "Mill B").status_code == 303
    assert names(text_at(one, place))[0] == "Mill B"


def test_a_change_sent_twice_is_done_once_without_asking(begun):
    client = begun()
    place = opened(client)
    for _ in range(2):
        answer = send(client, f"{place}/machine/1", "1", do="duplicate")
        assert answer.status_code == 303
    assert len(names(text_at(client, place))) == len(names(TEXT)) + 1
    assert state_of(client, place) == "2"


def test_taking_back_what_was_overtaken_is_asked(begun):
    client = begun()
    place = opened(client)
    renamed(client, place, 0, "Mill A")
    renamed(client, place, 1, "Press B")
    late = send(client, f"{place}/back", "2")
    assert late.status_code == 409
    assert names(text_at(client, place))[:2] == ["Mill A", "Press B"]
    both = send(client, f"{place}/settle", "3", do="both", text=field(late.text, "both"))
    assert both.status_code == 303
    assert names(text_at(client, place))[:2] == [names(TEXT)[0], "Press B"]


@pytest.mark.parametrize("state", ["", "99", "-1", "x", "1" * 40])
def test_a_form_that_does_not_say_what_it_saw_changes_nothing(begun, state):
    client = begun()
    place = opened(client)
    refused = send(client, f"{place}/machine/0", state, name="Mill A")
    assert refused.status_code == 409
    assert f'href="{place}"' in refused.text
    assert text_at(client, place) == TEXT


def test_a_last_state_that_cannot_be_read_is_told_and_the_one_before_shown(begun, folder):
    one = begun()
    place = opened(one)
    renamed(one, place, 0, "Mill A")
    (folder.folder / place[6:] / "00002.shop.yaml").write_bytes(b"\xff torn")
    other = begun()
    assert text_at(other, place) == TEXT
    assert "State 2 of this shop" in other.get(place).text
    assert "cannot be read" in other.get("/").text
    assert renamed(other, place, 0, "Mill C").status_code == 303
    assert folder.newest(place[6:]) == 3
    assert (folder.folder / place[6:] / "00002.shop.yaml").read_bytes() == b"\xff torn"


def test_a_shop_in_a_link_is_opened_letter_by_letter(begun):
    client = begun()
    text = TEXT.replace("\n", "\r\n")
    sent = base64.urlsafe_b64encode(text.encode()).decode().rstrip("=")
    answer = client.post("/link", data={"text": sent}, headers=HERE, follow_redirects=False)
    assert answer.status_code == 303
    told = client.get(answer.headers["location"] + "/shop.yaml")
    assert told.content == text.encode()


@pytest.mark.parametrize("text", ["", "%", "é", "a", "AAAA", "Zm9vOiAxCg"])
def test_a_torn_link_is_refused_in_words(begun, folder, text):
    refused = begun().post("/link", data={"text": text}, headers=HERE)
    assert refused.status_code == 422
    assert "was not taken" in refused.text
    assert folder.keys() == ()


def test_a_link_from_another_site_is_not_opened(begun):
    sent = base64.urlsafe_b64encode(TEXT.encode()).decode()
    answer = begun().post("/link", data={"text": sent}, headers={"origin": "http://example.org"})
    assert answer.status_code == 403


def test_taking_back_goes_on_backwards():
    assert steps_back(["a"]) == []
    assert steps_back(["a", "b", "c"]) == ["a", "b"]
    assert steps_back(["a", "b", "c", "b"]) == ["a"]
    assert steps_back(["a", "b", "c", "b", "a"]) == []
    assert steps_back(["a", "b", "c", "b", "d"]) == ["a", "b"]


def test_two_changes_are_put_together_only_where_they_do_not_meet():
    lines = TEXT.splitlines(keepends=True)
    at = [n for n, line in enumerate(lines) if "hours_per_year" in line]
    assert len(at) > 1
    mine, theirs = list(lines), list(lines)
    mine[at[0]] = re.sub(r"\d+", "77", lines[at[0]], count=1)
    theirs[at[-1]] = re.sub(r"\d+", "88", lines[at[-1]], count=1)
    both = together(TEXT, "".join(mine), "".join(theirs))
    assert both == together(TEXT, "".join(theirs), "".join(mine))
    assert ("77" in both.splitlines()[at[0]], "88" in both.splitlines()[at[-1]]) == (True, True)
    assert together(TEXT, "".join(mine), TEXT) == "".join(mine)
    theirs[at[0]] = re.sub(r"\d+", "66", lines[at[0]], count=1)
    assert together(TEXT, "".join(mine), "".join(theirs)) is None


@pytest.mark.whole
def test_everything_in_one_archive_is_what_the_command_writes(tmp_path):
    from phasewright.command.study import study_shop
    from phasewright.job.papers import papers, zipped
    from phasewright.job.read import read
    from phasewright.job.study import study

    at = ROOT / "examples" / "pottery.shop.yaml"
    study_shop(at, tmp_path / "out", quick=True)
    shop = read(at)
    packed = zipped(papers(shop, study(shop, quick=True)).files, "pottery")
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        assert archive.testzip() is None
        inside = {name: archive.read(name) for name in archive.namelist()}
    out = tmp_path / "out"
    written = {
        f"pottery/{p.relative_to(out)}": p.read_bytes() for p in out.rglob("*") if p.is_file()
    }
    assert inside == written


def test_a_file_opened_again_at_the_start_goes_on_where_it_stands(folder):
    (app, first), (again, second) = (page(text=TEXT, folder=folder) for _ in range(2))
    assert first == second
    assert len(folder.keys()) == 1
    shelf = again.state.shelf
    shelf.change(shelf.get(first[6:]), TEXT.replace(NAME, "Another name"))
    last, third = page(text=TEXT, folder=folder)
    assert third != first
    for made in (app, again, last):
        made.state.shelf.close()


def test_the_largest_shop_file_fits_into_a_form(begun):
    """What a form carries is a third longer than the text (RFC 4648)."""
    sent = base64.urlsafe_b64encode(b"#" * MOST_BYTES).decode()
    told = begun().post("/link", data={"text": sent}, headers=HERE)
    assert told.status_code == 422
    assert "was not taken" in told.text
    assert "larger" not in told.text


def test_of_many_changes_at_once_one_is_done_and_the_others_are_asked(folder):
    shelves = [Shelf(folder), Shelf(folder)]
    key = shelves[0].put(TEXT).key

    def change(number):
        shelf = shelves[number % 2]
        try:
            shelf.change(shelf.get(key), f"{TEXT}# {number}\n", TEXT)
        except Overtaken as late:
            return late.mine
        return None

    with ThreadPoolExecutor(8) as threads:
        told = list(threads.map(change, range(16)))
    assert told.count(None) == 1
    done = told.index(None)
    assert [state.text for state in folder.states(key)] == [TEXT, f"{TEXT}# {done}\n"]
    assert all(shelf.get(key).text == f"{TEXT}# {done}\n" for shelf in shelves)
    for shelf in shelves:
        shelf.close()
