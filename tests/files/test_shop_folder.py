"""The user's shops on the disk: whole or not at all, nothing overwritten.

Sources of the places: XDG Base Directory Specification 0.8; Windows' known folder LocalAppData;
Apple's File System Programming Guide.
"""

import errno
import os
import stat
from pathlib import Path

import pytest

from phasewright.files.shop_folder import MOST_STATES, ShopFolder, State, data_folder
from phasewright.quantities.errors import MachineFault

KEY = "0123456789abcdef01234567"
HOME = Path("/home/owner")


@pytest.fixture
def folder(tmp_path):
    return ShopFolder(tmp_path / "shops")


def full(*_):
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize(
    ("platform", "environ", "place"),
    [
        ("linux", {}, "/home/owner/.local/share/phasewright"),
        ("linux", {"XDG_DATA_HOME": "/data"}, "/data/phasewright"),
        ("linux", {"XDG_DATA_HOME": "data"}, "/home/owner/.local/share/phasewright"),
        ("linux", {"XDG_DATA_HOME": ""}, "/home/owner/.local/share/phasewright"),
        ("darwin", {}, "/home/owner/Library/Application Support/Phasewright"),
        ("win32", {"LOCALAPPDATA": "/local"}, "/local/Phasewright"),
        ("win32", {}, "/home/owner/AppData/Local/Phasewright"),
    ],
)
def test_data_lies_where_the_platform_wants_it(platform, environ, place):
    assert data_folder(platform, environ, HOME) == Path(place)


def test_nothing_is_made_before_a_shop_is_put(folder):
    assert folder.keys() == ()
    assert folder.newest(KEY) == 0
    assert folder.states(KEY) == ()
    assert not folder.folder.exists()


def test_states_come_back_letter_by_letter(folder):
    texts = ["a: 1\r\n", "b: ü\n", "c"]
    for number, text in enumerate(texts, 1):
        assert folder.put(KEY, State(number, text, 0.0))
    assert [state.text for state in folder.states(KEY)] == texts
    assert [state.number for state in folder.states(KEY, after=1)] == [2, 3]
    assert folder.newest(KEY) == 3
    assert folder.keys() == (KEY,)


def test_a_number_that_is_taken_is_never_overwritten(folder):
    assert folder.put(KEY, State(1, "mine", 0.0))
    assert not folder.put(KEY, State(1, "theirs", 0.0))
    assert folder.states(KEY)[0].text == "mine"


def test_only_the_owner_reads_them(folder):
    folder.put(KEY, State(1, "a", 0.0))
    for path in (folder.folder / KEY, *(folder.folder / KEY).iterdir()):
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0


def test_a_full_disk_changes_nothing_and_leaves_nothing(folder, monkeypatch):
    folder.put(KEY, State(1, "a", 0.0))
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(MachineFault, match="No space left"):
        folder.put(KEY, State(2, "b", 0.0))
    assert [path.name for path in (folder.folder / KEY).iterdir()] == ["00001.shop.yaml"]


def test_a_disk_without_links_is_used_too(folder, monkeypatch):
    def no_links(*_):
        raise PermissionError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", no_links)
    assert folder.put(KEY, State(1, "mine", 0.0))
    assert not folder.put(KEY, State(1, "theirs", 0.0))
    assert [state.text for state in folder.states(KEY)] == ["mine"]


def test_what_was_left_half_written_is_no_state(folder):
    folder.put(KEY, State(1, "a", 0.0))
    (folder.folder / KEY / ".00002.shop.yaml-torn").write_text("half")
    assert folder.newest(KEY) == 1


def test_the_oldest_states_make_room(folder):
    for number in range(1, MOST_STATES + 4):
        folder.put(KEY, State(number, str(number), 0.0))
    assert [state.number for state in folder.states(KEY)] == list(range(4, MOST_STATES + 4))


@pytest.mark.parametrize("key", ["", "..", "../" + KEY, KEY.upper(), KEY + "/..", "a" * 23, "."])
def test_no_key_leads_out_of_the_folder(folder, key):
    folder.put(KEY, State(1, "a", 0.0))
    assert folder.states(key) == ()
    assert folder.newest(key) == 0
