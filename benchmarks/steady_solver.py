"""Points a second of the settled network, and how that compares with scipy's fsolve.

Run: python benchmarks/steady_solver.py (a quiet machine; one core; kernels are compiled first).
Both are timed in the same run on the same equations: an idler and a motor at a random share of
its rated torque with random capacitors. fsolve gets the equations in numpy, as one would write
them for it, and once more in plain Python.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
from scipy.optimize import fsolve

sys.path[:0] = [str(Path(__file__).parents[1] / "tests" / part) for part in ("", "second_opinion")]

from plain_network import solve  # noqa: E402
from reference_machines import (  # noqa: E402
    I4A,
    L2A,
    M1K5,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    uf,
)  # fmt: skip
from test_network_against_fsolve import equations  # noqa: E402

from phasewright.running.network import Between, Network  # noqa: E402
from phasewright.running.settle import settle, settle_many  # noqa: E402

T22 = rated_torque(2200, 1445)
SHOPS = {
    "1 machine, linear": network(TOWN, uf(0, 60, 60), ("idler", M4K0, NO_LOAD)),
    "2 machines, linear": network(
        TOWN, uf(0, 60, 60), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22))
    ),
    "2 machines, saturating": network(
        TOWN, uf(0, 60, 60), ("idler", I4A, NO_LOAD), ("motor", L2A, constant(T22))
    ),
    "4 machines, linear": network(
        TOWN, uf(0, 60, 60), ("idler", M4K0, NO_LOAD), ("a", M2K2, constant(T22)),
        ("b", M1K5, constant(5.0)), ("c", M1K5, NO_LOAD),
    ),
}  # fmt: skip
POINTS, PLAIN = 20_000, 100


def main() -> None:
    rng = np.random.default_rng(20261125)
    for name, shop in SHOPS.items():
        banks = np.zeros((POINTS, 3))
        banks[:, 1:] = rng.uniform(20e-6, 150e-6, (POINTS, 2))
        shares = rng.uniform(0.0, 1.0, (POINTS, len(shop.machines)))
        settle_many(shop, banks[:2], shares[:2])
        ours = min(_swept(shop, banks, shares) for _ in range(7))
        line = f"{name:24s} {1 / ours:9.0f} points/s"
        if "linear" in name:
            numpy_s = min(_with_fsolve(shop, banks, shares) for _ in range(3))
            plain_s = min(_plain(shop, banks, shares) for _ in range(3))
            line += f"   fsolve, numpy: {1 / numpy_s:6.0f}/s, ratio {numpy_s / ours:5.0f}"
            line += f"   fsolve, plain Python: {1 / plain_s:6.0f}/s, ratio {plain_s / ours:5.0f}"
        print(line)
    begun = time.perf_counter()
    for _ in range(200):
        settle(SHOPS["2 machines, saturating"])
    print(f"one settle() call: {1e6 * (time.perf_counter() - begun) / 200:.0f} us")


def _swept(shop: Network, banks: np.ndarray, shares: np.ndarray) -> float:
    begun = time.perf_counter()
    sweep = settle_many(shop, banks, shares)
    spent = (time.perf_counter() - begun) / len(banks)
    if not sweep.settled.all():
        raise SystemExit(f"{(~sweep.settled).sum()} points did not settle")
    return spent


def _each(shop: Network, banks: np.ndarray, shares: np.ndarray) -> list[Network]:
    return [
        replace(
            shop, capacitance_f=Between(*map(float, bank)),
            machines=tuple(
                replace(m, load=replace(m.load, torque_nm=m.load.torque_nm * float(part)))
                for m, part in zip(shop.machines, share, strict=True)
            ),
        )
        for bank, share in zip(banks[:PLAIN], shares[:PLAIN], strict=True)
    ]  # fmt: skip


def _with_fsolve(shop: Network, banks: np.ndarray, shares: np.ndarray) -> float:
    shops = [equations(each) for each in _each(shop, banks, shares)]
    begun = time.perf_counter()
    for net in shops:
        fsolve(net, np.full(len(shop.machines), 0.02))
    return (time.perf_counter() - begun) / PLAIN


def _plain(shop: Network, banks: np.ndarray, shares: np.ndarray) -> float:
    shops = _each(shop, banks, shares)
    begun = time.perf_counter()
    for each in shops:
        solve(each, 0.02)
    return (time.perf_counter() - begun) / PLAIN


if __name__ == "__main__":
    main()
