"""Compiled: the main flux when two sequences turn against each other.

The main-flux law is nu(psi) = (1 + (psi/psi_k)^s)/lu. Under unbalance the flux vector is
psi_p e^(jwt) + psi_n e^(-jwt) and its modulus pulsates; the balance of the two fundamentals
gives each sequence a chord inductance of its own, lu/(1 + F_p) and lu/(1 + F_n), with

    F_p = mean over a turn of (|z|/psi_k)^s z / psi_p,    z = psi_p + psi_n e^(-j theta),

and F_n the same with the two exchanged. Both are power series in the ratio of the squares
that end by themselves for an even s (binomial theorem) and converge for every s > 0.
"""

from __future__ import annotations

from phasewright.network.compiled import jit

_MOST_TERMS = 400


@jit
def power(base: float, exponent: float) -> float:
    """base^exponent for a base >= 0, by multiplication where the exponent is a small integer."""
    if exponent == 1.0:
        return base
    if exponent == 2.0:
        return base * base
    if exponent == 3.0:
        return base * base * base
    raised: float = base**exponent
    return raised


@jit
def sequence_saturation(
    x: float, y: float, s: float
) -> tuple[float, float, float, float, float, float]:
    """F_p, F_n and their slopes for the squared fluxes x, y (each over psi_k squared).

    Returns (F_p, F_n, dF_p/dx, dF_p/dy, dF_n/dx, dF_n/dy).
    """
    if x == 0.0 and y == 0.0:
        return 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    if x >= y:
        big, small, big_x, big_y, small_x, small_y = _ordered(x, y, 0.5 * s)
        return big, small, big_x, big_y, small_x, small_y
    big, small, big_y, big_x, small_y, small_x = _ordered(y, x, 0.5 * s)
    return small, big, small_x, small_y, big_x, big_y


@jit
def _ordered(x: float, y: float, n: float) -> tuple[float, float, float, float, float, float]:
    """The same for x >= y, x > 0 and n = s/2: sums over k of c_k x^(n-k) y^k.

    c_k = C(n,k) C(n+1,k) for the greater flux, d_k = C(n,k) C(n+1,k+1) for the smaller.
    """
    ratio = y / x
    c, d, r = 1.0, n + 1.0, 1.0
    big = small = big_0 = small_0 = big_1 = small_1 = 0.0
    k = 0.0
    for _ in range(_MOST_TERMS):
        big += c * r
        small += d * r
        big_0 += c * (n - k) * r
        small_0 += d * (n - k) * r
        step = (n - k) / (k + 1.0)
        c_next = c * step * (n + 1.0 - k) / (k + 1.0)
        d_next = d * step * (n - k) / (k + 2.0)
        big_1 += c_next * (k + 1.0) * r
        small_1 += d_next * (k + 1.0) * r
        c, d = c_next, d_next
        r *= ratio
        k += 1.0
        if abs(d * k * r) < 1e-15 and abs(c * k * r) < 1e-15:
            break
    lower = power(x, n - 1.0)
    whole = lower * x
    return (
        whole * big, whole * small,
        lower * big_0, lower * big_1, lower * small_0, lower * small_1,
    )  # fmt: skip


def warm() -> None:
    """Compile the kernels of this module."""
    sequence_saturation(1.0, 0.5, 6.0)
