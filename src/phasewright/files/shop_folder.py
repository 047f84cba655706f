"""The folder of the user's shops: every state of a shop is a file of its own, none is overwritten.

`FOLDER/KEY/00007.shop.yaml` is the seventh state of a shop; the one with the highest number is
the shop as it stands. A state appears whole or not at all, and only where nobody else has made one
of that number, so that two programs on one folder notice each other.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from phasewright.files.kept import put_new, refused
from phasewright.quantities.errors import MachineFault

MOST_STATES = 100
"""States of a shop that are kept; the oldest make room."""
_KEY = re.compile(r"[0-9a-f]{24}")
_NAME = re.compile(r"(\d{5,9})\.shop\.yaml")


@dataclass(frozen=True, slots=True)
class State:
    """A shop at one moment: its number, the text of its file, and when it was made (seconds since
    1970)."""

    number: int
    text: str
    at: float


def data_folder(platform: str, environ: Mapping[str, str], home: Path) -> Path:
    """Where a user's data belongs on this platform.

    Sources: XDG Base Directory Specification 0.8 (an XDG_DATA_HOME that is no absolute path is
    not used); Windows' known folder LocalAppData; Apple's File System Programming Guide.
    """
    if platform == "win32":
        given = environ.get("LOCALAPPDATA", "")
        return (Path(given) if given else home / "AppData" / "Local") / "Phasewright"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "Phasewright"
    given = environ.get("XDG_DATA_HOME", "")
    return (Path(given) if given.startswith("/") else home / ".local" / "share") / "phasewright"


class ShopFolder:
    """The shops of one folder, each found by its key; nothing is made before the first is put."""

    def __init__(self, folder: Path | None = None) -> None:
        """`folder` is the user's own where none is named."""
        self.folder = folder or data_folder(sys.platform, os.environ, Path.home()) / "shops"

    def put(self, key: str, state: State) -> bool:
        """Keep a state; False where the shop already has one of this number.

        Raises MachineFault where the computer refuses to write; then nothing changes.
        """
        at = self.folder / key / f"{state.number:05d}.shop.yaml"
        try:
            at.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError as fault:
            raise MachineFault(refused(at, fault)) from fault
        if not put_new(at, state.text):
            return False
        for old in self._files(key)[:-MOST_STATES]:
            old.unlink(missing_ok=True)
        return True

    def newest(self, key: str) -> int:
        """The number of the last state; 0 where there is no such shop."""
        files = self._files(key)
        return _number(files[-1]) if files else 0

    def states(self, key: str, after: int = 0) -> tuple[State, ...]:
        """The states of a shop with a higher number than `after`, the oldest first.

        Raises MachineFault where one of them cannot be read.
        """
        return tuple(_read(file) for file in self._files(key) if _number(file) > after)

    def keys(self) -> tuple[str, ...]:
        """Every shop, the one changed last first; raises MachineFault for a folder that cannot be
        read."""
        try:
            found = [each.name for each in self.folder.iterdir() if _KEY.fullmatch(each.name)]
        except FileNotFoundError:
            return ()
        except OSError as fault:
            raise MachineFault(f"{self.folder} could not be read: {fault.strerror}") from fault
        last = {key: files[-1].stat().st_mtime for key in found if (files := self._files(key))}
        return tuple(sorted(last, key=lambda key: -last[key]))

    def _files(self, key: str) -> list[Path]:
        """The files of a shop's states, the oldest first."""
        if not _KEY.fullmatch(key):
            return []
        try:
            inside = [each for each in (self.folder / key).iterdir() if _NAME.fullmatch(each.name)]
        except (FileNotFoundError, NotADirectoryError):
            return []
        except OSError as fault:
            raise MachineFault(f"{self.folder} could not be read: {fault.strerror}") from fault
        return sorted(inside, key=_number)


def _number(file: Path) -> int:
    return int(file.name.split(".")[0])


def _read(file: Path) -> State:
    """A state from its file; what is no text in UTF-8 gives an empty text, which is no shop."""
    try:
        raw, at = file.read_bytes(), file.stat().st_mtime
    except OSError as fault:
        raise MachineFault(f"{file} could not be read: {fault.strerror}") from fault
    try:
        return State(_number(file), raw.decode("utf-8"), at)
    except UnicodeDecodeError:
        return State(_number(file), "", at)
