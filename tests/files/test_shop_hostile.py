"""Files that nobody wrote by mistake: a clear refusal, soon, and never a crash."""

import os
import sys
import time

import pytest
from files.shop_texts import FULL

from phasewright.files.shop_file import read, read_text
from phasewright.files.yaml_tree import decoded
from phasewright.quantities.errors import ShopFileError

TEN = "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]\n"
    for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
SOON_S = 4.0  # the bound for a busy machine; each takes well under a second by itself

HOSTILE = {
    "an alias bomb": ("a: &a [x]\n" + TEN, "an anchor ('&') stands here"),
    "an alias of nothing": ("shop: *x\n", "an alias ('*') stands here"),
    "a merge": ("<<: &x {b: 1}\n", "an anchor ('&') stands here"),
    "a tag": ("shop: !!python/object:os.system x\n", "a tag ('!') stands here"),
    "deep brackets": ("[" * 100_000, "is nested deeper than 20 levels"),
    "deep braces": ("{a: " * 20_000, "is nested deeper than 20 levels"),
    "deep dashes": ("- " * 50_000, "is nested deeper than 20 levels"),
    "deep keys": ("\n".join(" " * i + "a:" for i in range(1300)), "is nested deeper than 20"),
    "nothing": ("", "is empty"),
    "a comment": ("# only\n", "is empty"),
    "a list on top": ("- 1\n", "has no keys on top"),
    "one word": ("hello", "has no keys on top"),
    "two documents": (f"{FULL}---\n{FULL}", "a second document begins"),
    "a key twice": (f"{FULL}shop: again\n", "the key 'shop' stands here again, first in line 2"),
    "a tab": (FULL.replace("  kind: single", "\tkind: single"), "a tab stands in this line"),
    "too large": ("a" * 1_000_001, "is larger than 1 MB"),
    "large in letters of two bytes": ("é" * 600_000, "is larger than 1 MB"),
    "100,000 machines": ("machines:\n" + "- {}\n" * 100_000, "holds more than 30000 values"),
    "100,000 keys": ("".join(f"k{i}: \n" for i in range(100_000)), "holds more than 30000 values"),
    "an open bracket": ("shop: [1, 2\n", "is no YAML here: expected ',' or ']'"),
    "an open quote": ("shop: 'a\n", "is no YAML here: found unexpected end of stream"),
    "a control letter": ("shop: \x01\n", "is no YAML: unacceptable character"),
    "half a letter": ("shop: \ud800\n", "is no YAML: unacceptable character"),
    "a list as key": ("? [a]\n: b\n", "a key is a list or a mapping"),
    "not a number": (FULL.replace("energy: 0.27", "energy: .nan"), "tariff.energy: '.nan'"),
    "no end": (FULL.replace("energy: 0.27", "energy: .inf"), "tariff.energy: '.inf'"),
    "beyond all numbers": (FULL.replace("energy: 0.27", "energy: 1e999"), "'1e999' is out"),
    "1e308": (FULL.replace("service_rating: 80 A", "service_rating: 1e308 A"), "'1e308 A' is not"),
    "an exponent of 60 nines": (
        FULL.replace("service_rating: 80 A", f"service_rating: 1e{'9' * 60} A"),
        "is not credible here; between 1 A and 2 kA",
    ),
    "012": (FULL.replace("year: 1968", "year: 01968"), "'01968' begins with a nought"),
    "a long value": ("shop: " + "x" * 900_000, "shop: 'xxx"),
    "a long key": ("x" * 900_000 + ": 1", "mapping values are not allowed here"),
    "many blanks": ("shop:\n" + " " * 900_000, "shop: is empty"),
    "many question marks": ("? " * 300_000, "a key is a list or a mapping"),
    "many colons": (":" * 500_000, "is no YAML here"),
    "many quotes": ("'" * 900_000, "has no keys on top"),
    "many lines": ("shop: >\n" + "  x\n" * 200_000, "shop: 'x x x"),
    "letters out of order": ("shop: a\u202eb\n", "shop: 'a?b'"),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_is_refused_soon_and_in_words(name):
    text, words = HOSTILE[name]
    begun = time.perf_counter()
    with pytest.raises(ShopFileError) as refusal:
        read_text(text, "f")
    slowed = 1.0 if sys.gettrace() is None else 10.0  # every line is watched for coverage
    assert time.perf_counter() - begun < SOON_S * slowed
    assert words in str(refusal.value)
    assert all(len(str(mistake)) < 2000 for mistake in refusal.value.mistakes)
    assert len(refusal.value.mistakes) <= 200


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        ("shop: x\n".encode("utf-16"), "f: the file: is not plain text; text in UTF-8"),
        (b"\x7fELF\x00\x01", "f: the file: is not plain text; text in UTF-8"),
        (b"a: b\nshop: caf\xe9\n", "f:2: the file: holds a letter that is not UTF-8"),
        (b"a" * 1_000_001, "f: the file: is larger than 1 MB"),
    ],
)
def test_what_is_no_text_is_refused(raw, words):
    with pytest.raises(ShopFileError) as refusal:
        decoded(raw, "f")
    assert str(refusal.value).startswith(words)


def test_a_byte_order_mark_does_no_harm():
    assert read_text(decoded(b"\xef\xbb\xbf" + FULL.encode(), "f")) == read_text(FULL)


def test_a_text_of_the_largest_kind_that_is_read():
    head = FULL[: FULL.index("machines:")]
    machines = "".join(
        f"  - {{name: m{i}, motors: [{{name: a, plate: {{power: 1 kW}}}}]}}\n" for i in range(1000)
    )
    assert len(read_text(f"{head}machines:\n{machines}").machines) == 1000


def test_no_file_a_folder_and_a_pipe_are_mistakes_of_the_file(tmp_path):
    with pytest.raises(ShopFileError, match=r"cannot be read: No such file"):
        read(tmp_path / "none.yaml")
    with pytest.raises(ShopFileError, match=r"is no ordinary file"):
        read(tmp_path)
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(ShopFileError, match=r"is no ordinary file"):
        read(tmp_path / "pipe")
