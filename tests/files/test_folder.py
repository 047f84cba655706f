"""A folder is written as a whole or not at all, and what stood there is kept."""

import os

import pytest

from phasewright.files.folder import renewed
from phasewright.quantities.errors import MachineFault, UsageError


def write(folder, words):
    with renewed(folder) as room:
        (room / "study.json").write_text(words)


def test_a_new_folder_with_its_parents(tmp_path):
    write(tmp_path / "a" / "answer", "one")
    assert (tmp_path / "a" / "answer" / "study.json").read_text() == "one"
    assert [entry.name for entry in (tmp_path / "a").iterdir()] == ["answer"]


def test_what_stood_there_is_kept_under_the_first_free_name(tmp_path):
    answer = tmp_path / "answer"
    for words in ("one", "two", "three"):
        write(answer, words)
    told = {entry.name: (entry / "study.json").read_text() for entry in tmp_path.iterdir()}
    assert told == {"answer": "three", "answer.1": "one", "answer.2": "two"}


def test_a_folder_never_mixes_two_studies(tmp_path):
    answer = tmp_path / "answer"
    answer.mkdir()
    (answer / "other.txt").write_text("mine")
    write(answer, "one")
    assert [entry.name for entry in answer.iterdir()] == ["study.json"]
    assert (tmp_path / "answer.1" / "other.txt").read_text() == "mine"


def test_writing_that_fails_changes_nothing(tmp_path):
    answer = tmp_path / "answer"
    write(answer, "one")

    def stop():
        with renewed(answer) as room:
            (room / "study.json").write_text("half")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stop()
    assert [entry.name for entry in tmp_path.iterdir()] == ["answer"]
    assert (answer / "study.json").read_text() == "one"


def test_a_disk_that_refuses_is_told_in_words(tmp_path):
    answer = tmp_path / "answer"

    def full():
        with renewed(answer):
            raise OSError(28, "No space left on device")

    with pytest.raises(MachineFault, match="No space left on device"):
        full()
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_no_folder(tmp_path):
    (tmp_path / "answer").write_text("a file")
    with pytest.raises(UsageError, match="is a file"):
        write(tmp_path / "answer", "one")
    assert (tmp_path / "answer").read_text() == "a file"


def test_a_parent_that_is_a_file_is_told_in_words(tmp_path):
    (tmp_path / "a").write_text("a file")
    with pytest.raises(MachineFault, match="could not be written"):
        write(tmp_path / "a" / "answer", "one")


def test_others_may_read_what_the_mask_lets_them(tmp_path):
    mask = os.umask(0o022)
    try:
        write(tmp_path / "answer", "one")
    finally:
        os.umask(mask)
    assert (tmp_path / "answer").stat().st_mode & 0o777 == 0o755
