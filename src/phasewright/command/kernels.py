"""`python -m phasewright.command.kernels`: the kernels compiled ahead, as `make` does."""

from __future__ import annotations

import sys

from phasewright.network.compiled import compile_kernels, compiled


def _tell(module: str, done: int, of: int) -> None:
    if module:
        print(f"  {done + 1} of {of}: {module}", flush=True)


def main() -> int:
    """Compile what this computer has not compiled yet, telling each module."""
    if compiled():
        print("Kernels: compiled already.")
    else:
        print("Kernels: compiling once for this computer.", flush=True)
        compile_kernels(_tell)
    return 0


if __name__ == "__main__":
    sys.exit(main())
