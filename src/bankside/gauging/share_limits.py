"""How much of the discharge one panel should carry at the most."""

from __future__ import annotations

from typing import Final

import attrs

from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.kernel.limits import printed_above as above

__all__ = ["SHARE_AIM", "SHARE_LIMIT", "USUAL_LIMITS", "ShareLimits", "above", "limits_of"]

SHARE_AIM: Final = 5
SHARE_LIMIT: Final = 10
"""In percent. USGS practice as quoted in MDPI Water 2018, 10, 1010: 5 % the aim, 10 % the limit."""


@attrs.frozen
class ShareLimits:
    """What share of the discharge a panel should keep to, and be above at no time; percent."""

    aim: float
    limit: float


USUAL_LIMITS: Final = ShareLimits(SHARE_AIM, SHARE_LIMIT)
"""The limits where no rule set is asked."""


def limits_of(rules: RuleSet | None) -> ShareLimits:
    """Return the limits of a rule set, the usual ones without one."""
    if rules is None:
        return USUAL_LIMITS
    return ShareLimits(rules.si("panel_share_aim"), rules.si("panel_share_limit"))
