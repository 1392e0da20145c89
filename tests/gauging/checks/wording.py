"""What every sentence of a finding keeps to, whichever check it comes from."""

import re

from bankside.gauging.checks.finding import Finding

SENTENCE_END = (".", "?", "!")
_ABBREVIATIONS = {"ISO"}


def hold_wording(finding: Finding) -> None:
    """Hold a finding to sentences: they begin with a capital or a figure, end, and never shout.

    Where one tells a tape position, the finding carries it and its channel for the page to show.
    """
    for words in (finding.found, finding.advice):
        assert re.match(r"[A-Z\d]", words) and words.endswith(SENTENCE_END), words
        assert re.search(r"[.?!] [a-z]", words) is None, words
        assert set(re.findall(r"[A-Z]{2,}", words)) <= _ABBREVIATIONS, words
    if re.search(r"\btapes? [-\d]", finding.found):
        assert finding.tapes, finding
        assert finding.channel is not None or "of channel 2" in finding.found, finding
