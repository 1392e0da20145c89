import math
import random
import struct
from typing import Any

import numpy as np
import pytest

from .calls import ALONG_THE_TAPE, ALONG_THE_TAPE_ULPS, REFUSED, WITHIN_ONE_ULP, calls
from .compiled import compiled_functions, public_functions
from .sections import random_section

SECTIONS = 10_000


def _as_arrays(arguments: tuple[Any, ...]) -> tuple[Any, ...]:
    return tuple(np.array(a) if isinstance(a, list) else a for a in arguments)


def _bits(value: float) -> bytes:
    return struct.pack("<d", value)


def test_compiled_and_interpreted_functions_agree_to_the_last_bit() -> None:
    """On 10,000 random sections every public function gives the same bits compiled or not."""
    plain, compiled = public_functions(), compiled_functions()
    rng = random.Random(20260714)
    called = set()
    differing = []
    for _ in range(SECTIONS):
        section = random_section(rng)
        for name, arguments in calls(rng, section):
            expected = plain[name](*arguments)
            found = compiled[name](*_as_arrays(arguments))
            budget = math.ulp(expected) if name in WITHIN_ONE_ULP else None
            if name in ALONG_THE_TAPE:
                budget = ALONG_THE_TAPE_ULPS * math.ulp(max(abs(expected), 1e-6))
            same = _bits(found) == _bits(expected)
            if not same and (budget is None or abs(found - expected) > budget):
                differing.append((name, arguments, expected, found))
            called.add(name)

    assert differing == []
    assert called == set(plain)


@pytest.mark.parametrize(
    ("name", "arguments"),
    REFUSED,
)
def test_compiled_functions_refuse_with_the_same_words(name: str, arguments: Any) -> None:
    """Compiled code reads past the end of an array unless the kernel itself refuses."""
    with pytest.raises((ValueError, IndexError)) as plain:
        public_functions()[name](*arguments)
    with pytest.raises(plain.type) as compiled:
        compiled_functions()[name](*_as_arrays(arguments))

    assert str(compiled.value) == str(plain.value)
