"""The door to the compiler: where kernels are kept, and that nothing loads it in vain."""

from __future__ import annotations

import importlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from phasewright.network import compiled


def test_every_kernel_module_can_be_warmed() -> None:
    names = compiled.kernel_modules()
    assert "phasewright.running.kernel" in names
    assert list(names) == sorted(names)
    for name in names:
        assert callable(importlib.import_module(name).warm), name


def test_asking_whether_all_is_compiled_loads_no_compiler() -> None:
    code = (
        "import sys; from phasewright.network.compiled import compiled; compiled();"
        "assert 'numba' not in sys.modules and 'numpy' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, env=_environment())


def test_the_folder_changes_with_any_kernel_source(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    package = tmp_path / "phasewright"
    (package / "network").mkdir(parents=True)
    own = Path(compiled.__file__).read_bytes()
    (package / "network" / "compiled.py").write_bytes(own)
    kernel = package / "network" / "kernel.py"
    kernel.write_text("from phasewright.network.compiled import jit\nX = 1\n")
    monkeypatch.setattr(compiled, "_PACKAGE", package)
    monkeypatch.setenv("PHASEWRIGHT_CACHE", str(tmp_path / "cache"))

    def folder() -> Path:
        compiled.kernel_modules.cache_clear()
        compiled.cache_folder.cache_clear()
        return compiled.cache_folder()

    try:
        first = folder()
        assert first.parent == tmp_path / "cache"
        (package / "network" / "other.py").write_text("X = 5\n")
        assert folder() == first
        kernel.write_text("from phasewright.network.compiled import jit\nX = 2\n")
        assert folder() != first
    finally:
        monkeypatch.undo()
        folder()


def test_compiling_tells_its_progress_and_leaves_a_stamp(tmp_path: Path) -> None:
    code = (
        "from phasewright.network import compiled as c\n"
        "import types, sys\n"
        "calls = []\n"
        "module = types.ModuleType('made_up'); module.warm = lambda: calls.append('warm')\n"
        "sys.modules['made_up'] = module\n"
        "c.kernel_modules = lambda: ('made_up',)\n"
        "import os, pathlib; folder = pathlib.Path(os.environ['PHASEWRIGHT_CACHE']) / 'k'\n"
        "c.cache_folder = lambda: folder\n"
        "assert not c.compiled()\n"
        "c.compile_kernels(lambda *now: calls.append(now))\n"
        "assert calls == [('made_up', 0, 1), 'warm', ('', 1, 1)], calls\n"
        "assert c.compiled()\n"
    )
    environment = _environment() | {"PHASEWRIGHT_CACHE": str(tmp_path)}
    subprocess.run([sys.executable, "-c", code], check=True, env=environment)


def test_a_cache_named_by_a_file_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    code = "from phasewright.network.compiled import jit; assert jit(lambda x: x + 1)(1) == 2"
    environment = _environment() | {"PHASEWRIGHT_CACHE": str(tmp_path / "file")}
    subprocess.run([sys.executable, "-c", code], check=True, env=environment)


def _environment() -> dict[str, str]:
    package = Path(compiled.__file__).resolve().parents[2]
    return dict(os.environ) | {"PYTHONPATH": str(package)}


def test_a_copy_of_the_same_sources_elsewhere_compiles_nothing_anew(tmp_path: Path) -> None:
    """A fresh clone has other paths and other times; what was compiled is found all the same."""
    package = Path(compiled.__file__).resolve().parents[1]
    shutil.copytree(package, tmp_path / "phasewright", copy_function=shutil.copy)
    program = (
        "from phasewright.running import flux; flux.warm()\n"
        "print(sum(flux.sequence_saturation.stats.cache_misses.values()))\n"
    )

    def misses(folder: Path) -> int:
        return int(
            subprocess.run(
                [sys.executable, "-c", program], check=True, capture_output=True, text=True,
                env={**os.environ, "PYTHONPATH": str(folder)},
            ).stdout
        )  # fmt: skip

    misses(package.parent)
    assert misses(tmp_path) == 0


def test_kernels_load_no_library_for_matrices_and_kernels_of_others_still_can() -> None:
    program = (
        "import sys\n"
        "from phasewright.running import flux\n"
        "flux.warm()\n"
        "assert 'scipy.linalg' not in sys.modules\n"
        "import numba, numpy\n"
        "product = numba.njit(lambda a: a @ a)\n"
        "assert (product(2.0 * numpy.eye(2)) == 4.0 * numpy.eye(2)).all()\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True, env=_environment())
