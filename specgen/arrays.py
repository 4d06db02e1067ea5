"""NumPy, loaded when the first array is needed: a wall without a weather file needs none, and loading it takes long.

Modules write ``from specgen.arrays import np`` in place of ``import numpy as np``; what stands at the top of a module
must not ask it for anything.
"""

from __future__ import annotations

from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray
else:
    ArrayLike = NDArray = Any  # stand in annotations only

    class _NumPy(ModuleType):
        def __getattr__(self, name: str) -> Any:
            import numpy

            vars(self).update(vars(numpy))
            return getattr(numpy, name)

    np = _NumPy("numpy")

__all__ = ["ArrayLike", "NDArray", "np"]
