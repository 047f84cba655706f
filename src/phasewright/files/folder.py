"""A folder written as a whole: it holds one study or it is not there."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from phasewright.files.kept import free_name, refused, umask
from phasewright.quantities.errors import MachineFault, UsageError


@contextlib.contextmanager
def renewed(folder: Path) -> Iterator[Path]:
    """Give an empty folder to write in; on success it takes the place of `folder`.

    What stood there before is kept as a whole under the first free name FOLDER.1, FOLDER.2 and
    so on. When the writing fails nothing changes. Raises UsageError where `folder` is a file,
    MachineFault where the computer refuses to write.
    """
    target = Path(os.path.abspath(folder))
    if target.exists() and not target.is_dir():
        raise UsageError(f"{folder} is a file; --out names a folder")
    if target == Path(target.anchor):
        raise UsageError(f"{folder} is the root of the disk; --out names a folder of its own")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        room = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
    except OSError as fault:
        raise MachineFault(refused(folder, fault)) from fault
    try:
        yield room
        room.chmod(0o777 & ~umask())
        if target.exists():
            target.rename(free_name(target))
        room.rename(target)
    except OSError as fault:
        raise MachineFault(refused(folder, fault)) from fault
    finally:
        shutil.rmtree(room, ignore_errors=True)
