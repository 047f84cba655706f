"""A file written as a whole, the version before it kept."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from phasewright.quantities.errors import MachineFault


def put(path: Path, text: str) -> Path | None:
    """Write a text file so that at every moment the old or the new one stands there whole.

    What stood there is kept under the first free name PATH.1, PATH.2 and so on, which is
    returned. Raises MachineFault where the computer refuses to write; then nothing changes.
    """
    target = Path(os.path.realpath(path))
    with _written(path, target, text) as room:
        room.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~umask())
        kept = _keep(target) if target.exists() else None
        room.replace(target)
        _settle(target.parent)
    return kept


def put_new(path: Path, text: str) -> bool:
    """Write a text file that is not there yet, whole or not at all; False where one stands there.

    Only its owner may read it. Raises MachineFault where the computer refuses to write. On a disk
    without links another program may come between the look and the write.
    """
    target = Path(os.path.realpath(path))
    with _written(path, target, text) as room:
        try:
            os.link(room, target)
        except FileExistsError:
            return False
        except (OSError, NotImplementedError):
            if os.path.lexists(target):
                return False
            room.rename(target)
        _settle(target.parent)
    return True


@contextlib.contextmanager
def _written(path: Path, target: Path, text: str) -> Iterator[Path]:
    """The text on the disk under a name beside `target` that nobody reads, gone at the end; raises
    MachineFault for what the computer refuses inside."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}-", dir=target.parent)
    except OSError as fault:
        raise MachineFault(refused(path, fault)) from fault
    room = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        yield room
    except OSError as fault:
        raise MachineFault(refused(path, fault)) from fault
    finally:
        room.unlink(missing_ok=True)


def free_name(target: Path) -> Path:
    """The first of TARGET.1, TARGET.2 and so on that nothing has."""
    number = 1
    while os.path.lexists(name := target.with_name(f"{target.name}.{number}")):
        number += 1
    return name


def umask() -> int:
    """The permissions that the owner takes from new files."""
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def refused(path: Path, fault: OSError) -> str:
    """What is told where the computer does not let something be written."""
    return f"{path} could not be written: {fault.strerror or fault}"


def _keep(target: Path) -> Path:
    kept = free_name(target)
    shutil.copy2(target, kept)
    return kept


def _settle(folder: Path) -> None:
    """Have the folder's new entry on the disk, where the system can do that for a folder."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
