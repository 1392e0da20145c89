"""How sure a sum and difference of discharges is, from how sure each of them is."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs

from bankside.survey.site_flow import SiteFlow

__all__ = ["Spread", "Term", "spread_of"]


@attrs.frozen
class Term:
    """A discharge that is added (+1) or taken away (-1)."""

    sign: int
    flow: SiteFlow


@attrs.frozen
class Spread:
    """The combined standard uncertainty of terms in m³/s, taken in two ways.

    `independent_m3s` is √Σu², as the published rule for balances has it. `one_meter_m3s` counts
    what gaugings with the same meter have in common once, with its sign: it cancels between what
    comes in and what goes out, and adds up between two that both come in. `shared_by` are the
    serial numbers of the meters that made more than one of them.
    """

    independent_m3s: float
    one_meter_m3s: float
    shared_by: tuple[str, ...]

    @property
    def deciding_m3s(self) -> float:
        """The larger of the two: a change that one of them can explain is not claimed (ours)."""
        return max(self.independent_m3s, self.one_meter_m3s)


def spread_of(terms: Sequence[Term]) -> Spread | None:
    """Return how sure the sum of terms is, None where one of them states no uncertainty.

    The law of propagation: with c = ±1 and r = 1 for what is common to one meter, 0 otherwise,
    u² = Σ c² u² + 2 ΣΣ c_i c_j r u_i u_j (ISO/IEC Guide 98-3, 5.1 and 5.2, from memory).
    """
    stated = [u for term in terms if (u := term.flow.standard_uncertainty_m3s) is not None]
    if len(stated) < len(terms):
        return None
    common: dict[str, list[float]] = {}
    own: list[float] = []
    for term, u in zip(terms, stated, strict=True):
        shared = min(abs(term.flow.shared_m3s), u)
        if term.flow.meter is None:
            own.append(u)
            continue
        own.append(math.sqrt(max(0.0, u * u - shared * shared)))
        signed = math.copysign(shared, term.flow.shared_m3s) * term.sign
        common.setdefault(term.flow.meter, []).append(signed)
    return Spread(
        independent_m3s=math.hypot(*stated),
        one_meter_m3s=math.hypot(*own, *map(math.fsum, common.values())),
        shared_by=tuple(meter for meter, parts in common.items() if len(parts) > 1),
    )
