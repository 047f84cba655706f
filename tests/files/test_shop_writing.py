"""Writing shop files: equal when read back, everything else left as it was, nothing lost."""

import difflib
import os

import pytest
from files.shop_texts import BARN, EXAMPLES, FULL, FURNITURE, data
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files import kept
from phasewright.files.shop_file import read, read_text
from phasewright.files.shop_writing import rewrite, shop_text, write
from phasewright.files.yaml_splice import changed, steps
from phasewright.quantities.errors import MachineFault, ShopFileError, UsageError


@pytest.fixture
def barn(tmp_path):
    path = tmp_path / "barn.shop.yaml"
    path.write_text(BARN.read_text(encoding="utf-8"), encoding="utf-8")
    return path


def changes_of(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line.startswith(("+ ", "- "))]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_a_fresh_file_reads_back_as_the_same_shop(path, tmp_path):
    shop = read(path)
    write(shop, tmp_path / "fresh.yaml")
    assert read(tmp_path / "fresh.yaml") == shop


def test_a_fresh_file_of_every_key_reads_back():
    text = shop_text(read_text(FULL))
    assert read_text(text) == read_text(FULL)
    assert shop_text(read_text(text)) == text


def test_a_fresh_file_is_written_in_the_words_of_its_region():
    text = shop_text(read(FURNITURE))
    assert "power: 3 hp\n" in text
    assert "conductor: 3 AWG" in text
    assert "length: 80 ft" in text


@pytest.mark.parametrize(
    ("path", "entry", "lines"),
    [
        ("supply.service_rating", "80 A", ["-   service_rating: 60 A", "+   service_rating: 80 A"]),
        ("wishes.labour", 45, ["-   labour: own", "+   labour: 45"]),
        ("currency", None, ["- currency: GBP"]),
        ("supply.transformer", "25 kVA", ["+   transformer: 25 kVA"]),
        ("machines[0].runs_with", ["Press"], ["+     runs_with: [Press]"]),
        ("places[0].name", "barn", ["+ places:", "+   - {name: barn}"]),
        ("shop", "Ann's: barn #2", ["- shop: Three trees cider barn", '+ shop: "Ann\'s: barn #2"']),
        (
            "machines[1].motors[0].load.duty",
            0.5,
            [
                "-         load: {kind: hydraulic_pump, start: unloaded}",
                "+         load: {kind: hydraulic_pump, start: unloaded, duty: 0.5}",
            ],
        ),
        (
            "wishes.quiet.at",
            None,
            [
                "-   quiet: {level: 45 dB, at: neighbour, distance: 30 m, hours: evening}",
                "+   quiet: {level: 45 dB, distance: 30 m, hours: evening}",
            ],
        ),
        (
            "machines[4]",
            {"name": "Saw", "motors": [{"name": "a", "plate": {"power": "1 kW"}}]},
            [
                "+   - name: Saw",
                "+     motors:",
                "+       - name: a",
                "+         plate: {power: 1 kW}",
            ],
        ),
        (
            "supply.other_loads",
            None,
            ["-   other_loads:", "-     - {name: lights and kettle, current: 12 A}"],
        ),
        ("tariff.nothing_there", None, []),
    ],
)
def test_only_what_is_changed_changes(barn, path, entry, lines):
    before = barn.read_text(encoding="utf-8")
    assert "# An invented shop" in before
    rewrite(barn, {path: entry})
    assert changes_of(before, barn.read_text(encoding="utf-8")) == lines


def test_a_machine_and_a_motor_can_be_taken_away(barn):
    shop = rewrite(barn, {"machines[0]": None})
    assert [machine.name for machine in shop.machines] == ["Press", "Filter", "Bottle washer"]
    shop = rewrite(barn, {"machines[1].motors[1]": None})
    assert [motor.name for motor in shop.machine("Filter").motors] == ["pump"]
    assert "# One person works here" in barn.read_text(encoding="utf-8")


def test_several_changes_at_once_and_the_versions_before_are_kept(barn):
    first = barn.read_text(encoding="utf-8")
    rewrite(barn, {"shop": "Second", "supply.service_rating": "63 A"})
    second = barn.read_text(encoding="utf-8")
    shop = rewrite(barn, {"shop": "Third"})
    assert shop.name == "Third" == read(barn).name
    assert (barn.parent / "barn.shop.yaml.1").read_text(encoding="utf-8") == first
    assert (barn.parent / "barn.shop.yaml.2").read_text(encoding="utf-8") == second
    assert len(list(barn.parent.iterdir())) == 3


def test_a_change_that_changes_nothing_writes_nothing(barn):
    rewrite(barn, {"supply.service_rating": "60 A"})
    assert [path.name for path in barn.parent.iterdir()] == [barn.name]


def test_a_change_that_is_a_mistake_is_told_and_nothing_is_written(barn):
    before = barn.read_bytes()
    with pytest.raises(ShopFileError, match="'80 kg' is not a current"):
        rewrite(barn, {"shop": "New", "supply.service_rating": "80 kg"})
    with pytest.raises(ShopFileError, match="is missing"):
        rewrite(barn, {"region": None})
    assert barn.read_bytes() == before
    assert [path.name for path in barn.parent.iterdir()] == [barn.name]


def test_the_word_none_gives_way_to_keys_and_a_value_does_not():
    text = "machines:\n  - circuit: {residual_current: none, breaker: B16}\n"
    there = {"machines[0].circuit.residual_current.rating": "30 mA"}
    told = changed(text, there, "f")
    assert told == text.replace("none", "{rating: 30 mA}")
    with pytest.raises(UsageError):
        changed(text, {"machines[0].circuit.breaker.amps": "16 A"}, "f")


@pytest.mark.parametrize(
    "path",
    ["", "a b", "machines[x]", "machines[9].name", "shop.name", "machines.name", "region[0]"],
)
def test_a_path_that_leads_nowhere_is_refused(barn, path):
    with pytest.raises(UsageError):
        rewrite(barn, {path: "x"})
    assert [entry.name for entry in barn.parent.iterdir()] == [barn.name]


def test_a_path_is_its_steps():
    assert steps("machines[1].motors[0].plate.power") == [
        "machines", 1, "motors", 0, "plate", "power",
    ]  # fmt: skip


def test_line_ends_of_another_system_stay():
    text = FULL.replace("\n", "\r\n")
    changes = {"shop": "New", "supply.country": None, "wishes.keep[1]": "lamp"}
    after = changed(text, {**changes, "machines[1].users": "owner", "places[1].name": "shed"}, "f")
    assert after.count("\r\n") == after.count("\n") == text.count("\n") + 1
    assert read_text(after).wishes.keep == ("original controls", "lamp")


def test_where_the_disk_refuses_nothing_changes(barn, monkeypatch):
    before = barn.read_bytes()

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(kept.os, "fsync", full)
    with pytest.raises(MachineFault, match="could not be written: No space left on device"):
        rewrite(barn, {"shop": "New"})
    assert barn.read_bytes() == before
    assert [path.name for path in barn.parent.iterdir()] == [barn.name]


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(MachineFault, match="could not be written: No such file or directory"):
        write(read_text(FULL), tmp_path / "none" / "shop.yaml")


def test_the_rights_of_the_file_stay(barn):
    barn.chmod(0o640)
    rewrite(barn, {"shop": "New"})
    assert barn.stat().st_mode & 0o777 == 0o640


def test_a_link_stays_a_link(barn):
    link = barn.parent / "link.yaml"
    os.symlink(barn, link)
    rewrite(link, {"shop": "New"})
    assert link.is_symlink()
    assert read(barn).name == "New"


PATHS = sorted(read_text(FULL).lines)
IN_BRACKETS = ("wishes.keep", "machines[0].runs_with")


def holder_of(tree, path: str):
    """The list or mapping in plain data that holds the last step of a path."""
    *way, _ = steps(path)
    for step in way:
        tree = tree[step]
    return tree


@pytest.mark.parametrize("path", PATHS)
def test_what_is_taken_away_is_gone_and_all_else_is_there(path):
    expected = data(FULL)
    holder = holder_of(expected, path)
    if len(holder) == 1 and path.endswith("]") and path[:-3] not in IN_BRACKETS:
        with pytest.raises(UsageError, match="is the last of its kind here"):
            changed(FULL, {path: None}, "f")
        return
    del holder[steps(path)[-1]]
    assert data(changed(FULL, {path: None}, "f")) == expected


@pytest.mark.parametrize("path", PATHS)
def test_what_is_put_in_its_place_is_there_and_all_else_too(path):
    expected = data(FULL)
    holder_of(expected, path)[steps(path)[-1]] = "Something: else"
    assert data(changed(FULL, {path: "Something: else"}, "f")) == expected


@pytest.mark.parametrize("path", [path for path in PATHS if "." in path])
def test_what_is_added_is_there_and_all_else_too(path):
    expected = data(FULL)
    holder = holder_of(expected, path)
    if isinstance(holder, list):
        holder.append({"name": "new"})
        where = f"{path.rpartition('[')[0]}[{len(holder) - 1}]"
    else:
        holder["new"] = {"name": "new"}
        where = f"{path.rpartition('.')[0]}.new"
    assert data(changed(FULL, {where: {"name": "new"}}, "f")) == expected


@settings(deadline=None, max_examples=80)
@given(st.text(min_size=1, max_size=40).filter(lambda text: text.isprintable() and text.strip()))
def test_any_name_is_written_so_that_it_reads_back(name):
    assert read_text(changed(FULL, {"shop": name}, "f")).shop == name
