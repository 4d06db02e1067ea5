"""Block tridiagonal systems of 2 × 2 blocks, many at once, in NumPy: every second node goes, level by level."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def eliminate(lower: Array, diagonal: Array, upper: Array, left: Array) -> Array:
    """The x of L x(i-1) + D x(i) + U x(i+1) = r, odd nodes first put in terms of the even ones beside them.

    Args:
        lower, diagonal, upper: blocks (2, 2, nodes, walls); the first lower and the last upper are not read.
        left: right sides r (2, nodes, walls).

    Returns:
        x (2, nodes, walls); not finite where a block cannot be divided by.

    Reference: cyclic reduction (Hockney 1965; Golub and Van Loan, Matrix Computations, 4.5) (M).
    """
    nodes = diagonal.shape[2]
    if nodes == 1:
        return _times(_inverse(diagonal), left[:, None])[:, 0]
    odd, pairs, between = nodes // 2, nodes // 2, (nodes + 1) // 2 - 1
    sides = np.concatenate((lower[:, :, 1::2], upper[:, :, 1::2], left[:, None, 1::2]), axis=1)
    known = _times(_inverse(diagonal[:, :, 1::2]), sides)
    d, r = diagonal[:, :, ::2].copy(), left[:, ::2].copy()
    further_l, further_u = np.zeros(d.shape), np.zeros(d.shape)
    by_left = _times(lower[:, :, 2::2], known[:, :, :between])
    further_l[:, :, 1:] = -by_left[:, :2]
    d[:, :, 1:] -= by_left[:, 2:4]
    r[:, 1:] -= by_left[:, 4]
    by_right = _times(upper[:, :, : 2 * pairs : 2], known)
    d[:, :, :pairs] -= by_right[:, :2]
    further_u[:, :, :pairs] = -by_right[:, 2:4]
    r[:, :pairs] -= by_right[:, 4]
    even = eliminate(further_l, d, further_u, r)
    x = np.empty(left.shape)
    x[:, ::2] = even
    rest = known[:, 4] - _times(known[:, :2], even[:, None, :odd])[:, 0]
    rest[:, :between] -= _times(known[:, 2:4, :between], even[:, None, 1:])[:, 0]
    x[:, 1::2] = rest
    return x


def _times(block: Array, columns: Array) -> Array:
    """Blocks (2, 2, …) times columns (2, c, …)."""
    return np.asarray(block[:, 0, None] * columns[0] + block[:, 1, None] * columns[1])


def _inverse(block: Array) -> Array:
    a, b, c, d = block[0, 0], block[0, 1], block[1, 0], block[1, 1]
    out = np.empty(block.shape)
    whole = a * d - b * c
    out[0, 0], out[0, 1], out[1, 0], out[1, 1] = d / whole, -b / whole, -c / whole, a / whole
    return out
