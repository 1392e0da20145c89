"""Why of how sure a discharge is, and of what to do next for it."""

from __future__ import annotations

from typing import Final

from bankside.bank.reasons.reason import Reason, source_of_check

__all__ = ["CERTAINTY"]

CERTAINTY: Final = (
    Reason(
        "interval",
        "± of the discharge, the interval of 95 %",
        "It says how far the discharge may be off: of twenty such gaugings about nineteen hold "
        "the true one.",
        "It is worked out from how even this section is by its own readings, and from what "
        "readings may be wrong by.",
        "ours, docs/uncertainty.md; covariances: Matérn's of smoothness 3/2 and 1/2, from memory",
    ),
    Reason(
        "standard uncertainty",
        "One standard uncertainty, the interval of 68 %",
        "It is the smaller measure of how far the discharge may be off: about two gaugings in "
        "three hold the true one.",
        "The word for the quality is held against it and not against ±, and which of the two "
        "the publications mean they do not say.",
        source_of_check("Held to be better than it is"),
    ),
    Reason(
        "published uncertainty",
        "The uncertainty by published methods",
        "They stand beside the interval because an office may ask for a method that was published.",
        "ISO 748 counts verticals, points and seconds, interpolated variance holds each vertical "
        "against its neighbours, and components are incomplete.",
        "ISO 748:2007, 9.3 (from memory, high); Cohn, Kiang and Mason 2013, Journal of Hydraulic "
        "Engineering 139(5), from memory; Sauer and Meyer 1992, USGS Open-File Report 92-144, from "
        "memory",
    ),
    Reason(
        "quality",
        "The word for the quality",
        "It tells a reader in one word how good the crew holds the gauging to be.",
        "Each word stands for an uncertainty up to which it may be used, and the readings "
        "suggest the best word that they bear out.",
        source_of_check("Held to be better than it is"),
        ("quality_excellent", "quality_good", "quality_fair"),
    ),
    Reason(
        "target",
        "The ± that is wanted",
        "It says how sure the discharge has to be for what it is needed for.",
        "The leader chooses it, and without one the advice goes on until nothing more is worth "
        "its time.",
        "ours, docs/advice.md",
    ),
    Reason(
        "next",
        "What to do next",
        "It names the act that makes the interval smaller by most for the time that it takes.",
        "The section is worked out as the act would leave it, and nobody is sent where the "
        "water is, or may well be, too strong.",
        "ours, docs/advice.md",
        ("wade_product_caution", "wade_depth_caution", "spacing_least"),
    ),
    Reason(
        "missing",
        "Still missing",
        "What was not written at the stream is asked for in the office, when nobody knows it "
        "any more.",
        "The list holds what a header needs, and an exclamation mark stands where the gauging "
        "is worth little without it.",
        source_of_check("Header gaps"),
    ),
)
"""Reasons of the uncertainty, the word for the quality, and the advice."""
