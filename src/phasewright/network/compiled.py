"""One typed door to the compiler, and where compiled kernels are kept.

A kernel module says `from phasewright.network.compiled import jit` and offers `warm()`, which
calls each of its entry kernels once. What is compiled is kept in a folder of the user's cache
named by a hash of every kernel source: a compiled caller of a changed kernel would otherwise
go on giving the old answer. Nothing here imports numba until the first `@jit`.
"""

from __future__ import annotations

import functools
import hashlib
import importlib
import importlib.metadata
import os
import platform
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

Kernel = TypeVar("Kernel", bound=Callable[..., Any])
Progress = Callable[[str, int, int], None]

_MARK = "from phasewright.network.compiled import jit"
_PACKAGE = Path(__file__).resolve().parents[1]
_STAMP = "compiled"


@functools.cache
def kernel_modules() -> tuple[str, ...]:
    """Full names of the modules that hold kernels, in a fixed order."""
    names = []
    for path in sorted(_PACKAGE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if any(line.startswith(_MARK) for line in text.splitlines()):
            parts = path.relative_to(_PACKAGE.parent).with_suffix("").parts
            names.append(".".join(parts))
    return tuple(names)


@functools.cache
def cache_folder() -> Path:
    """Where compiled kernels are kept; its name changes with any kernel source.

    The environment variable PHASEWRIGHT_CACHE names another place for the cache.
    """
    digest = hashlib.sha256()
    digest.update(importlib.metadata.version("numba").encode())
    digest.update(f"{sys.version_info[:3]} {platform.machine()}".encode())
    for name in (*kernel_modules(), __name__):
        digest.update(name.encode())
        digest.update(_PACKAGE.parent.joinpath(*name.split(".")).with_suffix(".py").read_bytes())
    return _user_cache() / f"kernels-{digest.hexdigest()[:16]}"


def compiled() -> bool:
    """True when every kernel of this version has been compiled on this computer."""
    return (cache_folder() / _STAMP).is_file()


def compile_kernels(progress: Progress | None = None) -> None:
    """Compile every kernel, telling `progress(module, done, of)` before each and at the end."""
    names = kernel_modules()
    for done, name in enumerate(names):
        if progress is not None:
            progress(name, done, len(names))
        importlib.import_module(name).warm()
    if progress is not None:
        progress("", len(names), len(names))
    if _writable():
        (cache_folder() / _STAMP).write_text("\n".join(names) + "\n", encoding="utf-8")


def jit(function: Kernel) -> Kernel:
    """Compile a kernel: no interpreter, no lock, IEEE arithmetic in the order it is written.

    Without a writable cache folder kernels are compiled anew in every process.
    """
    return _compile(function, inlined=False)


def jit_inlined(function: Kernel) -> Kernel:
    """The same for a small kernel whose body is copied into its callers; it makes no array."""
    return _compile(function, inlined=True)


def _compile(function: Kernel, *, inlined: bool) -> Kernel:
    kept = _writable()
    if kept:
        os.environ["NUMBA_CACHE_DIR"] = str(cache_folder())
    import numba

    _without_matrix_library()
    if kept:
        vars(numba.config)["CACHE_DIR"] = str(cache_folder())
        _keep_by_content()
    options: dict[str, Any] = {"cache": kept, "nogil": True, "error_model": "numpy"}
    if inlined:
        # It makes no arrays of its own, so it need not count who holds those it is given: counting
        # at every call cost a step of a run in time five sixths of its time.
        options |= {"forceinline": True, "_nrt": False}
    made = numba.njit(**options)(function)
    return cast(Kernel, made)


@functools.cache
def _without_matrix_library() -> None:
    """Have the compiler not load scipy, a quarter of what it takes to be ready: it asks for it to
    multiply matrices, which no kernel here does. A kernel of others that does so still loads it."""
    from numba.np import linalg

    asked = vars(linalg)["ensure_blas"]
    vars(linalg)["ensure_blas"] = lambda: None
    from numba.np import arraymath

    vars(linalg)["ensure_blas"] = vars(arraymath)["ensure_blas"] = asked


@functools.cache
def _keep_by_content() -> None:
    """Have what is compiled found again wherever these very sources lie.

    The compiler's own place goes by the path and the time of a file, so that a fresh clone would
    compile anew; the cache folder already goes by what the files say.
    """
    from numba.core import caching

    class ByContent(caching._CacheLocator):
        """One place for all kernels of these sources."""

        def __init__(self, line: int) -> None:
            self._line = line

        def get_cache_path(self) -> str:
            return str(cache_folder())

        def get_source_stamp(self) -> str:
            return cache_folder().name

        def get_disambiguator(self) -> str:
            return str(self._line)

        @classmethod
        def from_function(cls, function: Any, file: str) -> Any:
            ours = Path(file).is_relative_to(_PACKAGE)
            return cls(function.__code__.co_firstlineno) if ours else None

    places: list[Any] = caching.CacheImpl._locator_classes
    places.insert(0, ByContent)


@functools.cache
def _writable() -> bool:
    folder = cache_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return False
    return os.access(folder, os.W_OK)


def _user_cache() -> Path:
    named = os.environ.get("PHASEWRIGHT_CACHE")
    if named:
        return Path(named)
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
        return Path(base) / "phasewright"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "phasewright"
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "phasewright"
