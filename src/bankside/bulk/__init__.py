"""Whole archives at once: the kernel, compiled by Numba, over columns of many gaugings."""

from importlib.util import find_spec

from bankside.gauging.faults import BanksideError

_MISSING = [name for name in ("numba", "numpy", "pyarrow") if find_spec(name) is None]
if _MISSING:
    raise BanksideError(
        f"Whole archives need {' and '.join(_MISSING)}, which a plain install has not: "
        "pip install 'bankside[bulk]' adds them."
    )
