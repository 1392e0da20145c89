"""The walk through a gauging on the app, step by step, as a crew does it at a stream."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import expect

from .crossing import Called, Crossing
from .recorder import Recorder

STREAM, SITE = "Alder Fork", "above the footbridge"
CREW = (("T. Quayle", "Rod and meter"), ("J. Ostrander", "Recorder"), ("I. Marrow", "Leader"))
LEADER = "I. Marrow"


def without_point_key(recorder: Recorder) -> None:
    """Have digits fill from the right, as the settings offer it."""
    recorder.tap(recorder.page.get_by_role("link", name="Settings"))
    recorder.tap(recorder.page.get_by_text("Type decimals without the point key"))
    recorder.press(re.compile("Back$"))
    expect(recorder.page.get_by_role("heading", name="Gaugings")).to_be_visible()


def start(recorder: Recorder, unit: str) -> None:
    """Start a gauging at a site that is new on the device."""
    recorder.press("Start a new gauging")
    words = {"ft": "feet", "m": "metres"}[unit]
    recorder.choose(words, of="Units of tape, rod and meter")
    recorder.press("Start")
    expect(recorder.page.get_by_role("heading", name="Set out")).to_be_visible()


def name_site(recorder: Recorder) -> None:
    """Say where it is, at a site that is new on the device."""
    recorder.write("Stream", STREAM)
    recorder.write("Site", SITE)
    recorder.press("Measure with this device")
    recorder.press("Stop and take the mean")
    _next(recorder, "Who does what")


def set_out(recorder: Recorder, crossing: Crossing) -> None:
    """Say everything that is said between the site and the plan, part by part."""
    unit = crossing.unit
    page = recorder.page
    for name, role in CREW:
        recorder.press("Add somebody")
        member = page.get_by_role("group", name="Somebody new")
        member.get_by_label("Name").fill(name)
        member.get_by_label("Name").blur()
        recorder.tap(page.get_by_role("group", name=name).get_by_text(role, exact=True))
        recorder.press("Done")
    _next(recorder, "Safe to wade?")
    recorder.choose("Not cold", of="Is the water cold?")
    recorder.choose("Not alone", of="Would anybody wade alone")
    recorder.press(LEADER)
    recorder.press(re.compile("Safe to wade$"))
    _next(recorder, "Units and rules")
    _next(recorder, "Meter")
    recorder.choose("electromagnetic", of="Kind of meter")
    recorder.write("Serial number", "EM-07")
    recorder.write(f"Zero: what it shows in still water, {unit}/s", crossing.zero[0])
    _next(recorder, "Stage")
    recorder.write(f"Stage 1, {unit}", crossing.stages[0])
    _next(recorder, "Section")
    recorder.choose("Yes, all of it", of="Does all the water pass")
    _next(recorder, "Tape and start")
    recorder.choose("left bank", of="The tape's zero hangs at the")
    recorder.choose("left bank", of="The crew starts from the")
    _next(recorder, "Left edge of water")
    recorder.write(f"Tape at the left edge of water, {unit}", crossing.left)
    recorder.choose("sloping", of="The bank there is")
    _next(recorder, "Right edge of water")
    recorder.write(f"Tape at the right edge of water, {unit}", crossing.right)
    recorder.choose("sloping", of="The bank there is")
    _next(recorder, "Plan")


def _next(recorder: Recorder, part: str) -> None:
    recorder.press(f"Next: {part}")


def plan(recorder: Recorder, crossing: Crossing, resolution: str) -> list[str]:
    """Lay the verticals out, begin reading, and return the positions that the screen shows."""
    page = recorder.page
    count = len(crossing.verticals)
    recorder.write("Verticals", str(count))
    recorder.write(f"Finest mark of the tape, {crossing.unit}", resolution)
    recorder.press("Lay out the verticals")
    expect(page.get_by_text(f"{count} verticals from the left bank")).to_be_visible()
    recorder.tap(page.get_by_text("The positions one by one"))
    rows = page.get_by_role("region", name="The plan").get_by_role("listitem")
    expect(rows).to_have_count(count)
    positions = [text.split()[1] for text in rows.all_inner_texts()]
    recorder.press("Begin reading")
    expect(page.get_by_role("heading", name="Read", exact=True)).to_be_attached()
    return positions


def keys_of(figure: str, decimals: int | None) -> str:
    """Return the keys for a figure, where so many decimals need no point; with the point if None.

    A figure with another number of decimals is typed with the point all the same.
    """
    whole, _, part = figure.partition(".")
    if len(part) != decimals:
        return figure
    sign = "-" if whole.startswith("-") else ""
    return sign + (whole.removeprefix("-") + part).lstrip("0")


def read_vertical(recorder: Recorder, called: Called, decimals: int | None) -> int:
    """Call the depth and the velocities of the vertical that is due; return the taps it took.

    Waits until the rod's setting is called out for each velocity, so the engine must be up.
    """
    before = recorder.taps
    _say(recorder, called.depth, decimals)
    call = recorder.page.locator(".box.call")
    expect(call).to_contain_text("Rod for")
    points = list(called.velocity)
    if f"Rod for {points[0]}" not in call.inner_text():
        recorder.other("Other points of the depth")
        recorder.press(f"{', '.join(points)} of the depth", recorder.panel)
    for point, velocity in called.velocity.items():
        expect(call).to_contain_text(re.compile(rf"Rod for {point}|{point} of the depth"))
        _say(recorder, velocity, decimals)
    return recorder.taps - before


def _say(recorder: Recorder, figure: str, decimals: int | None) -> None:
    recorder.type(keys_of(figure, decimals))
    expect(recorder.typed).to_have_text(figure)
    recorder.enter()
    recorder.saved(figure)


def open_vertical(recorder: Recorder, tape: str) -> None:
    """Open a vertical that was read, from the other things."""
    recorder.other("Correct something")
    recorder.press(f"Open {tape}", recorder.panel)


def correct_depth(
    recorder: Recorder, tape: str, depth: str, reason: str, decimals: int | None
) -> None:
    """Put another depth in the place of the one at a tape position."""
    open_vertical(recorder, tape)
    recorder.press(re.compile("^Correct depth"), recorder.panel)
    recorder.press(reason)
    _say(recorder, depth, decimals)


def angle(recorder: Recorder, tape: str, degrees: str) -> None:
    """Say at what angle the water meets the tape at the vertical that was read last."""
    recorder.other(f"Angle of the flow at {tape}")
    recorder.call(degrees)


def remark(recorder: Recorder, tape: str, words: str) -> None:
    """Say one of the usual remarks at the vertical that was read last."""
    recorder.other(f"Remark at {tape}")
    recorder.press(words, recorder.panel)
    recorder.press("Keep the remark", recorder.panel)


def insert(recorder: Recorder, tape: str, called: Called, decimals: dict[str, int] | None) -> None:
    """Read a vertical between two others."""
    recorder.other("Insert a vertical")
    _say(recorder, tape, decimals and decimals["tape"])
    read_vertical(recorder, called, decimals and decimals["depth"])


def answer_findings(recorder: Recorder) -> int:
    """Answer every open finding with the first of the usual reasons; return how many have one."""
    findings = recorder.page.get_by_role("region", name="Findings")
    answers = findings.get_by_text("Answer:", exact=True)
    expect(recorder.page.get_by_text("they are being worked out")).to_have_count(0)
    while not findings.get_by_text("No finding is open.").is_visible():
        count = answers.count()
        recorder.tap(findings.get_by_role("button", name=re.compile("^It is right")).first)
        form = findings.locator("form")
        reasons = form.get_by_role("group", name="Reasons to choose from")
        recorder.tap(reasons.get_by_role("button").first)
        recorder.press("Keep this answer", form)
        expect(answers).to_have_count(count + 1)
    return answers.count()


def finish(recorder: Recorder, crossing: Crossing, photo: Path, quality: str) -> None:
    """Say on the check screen what is said at the end of a visit."""
    page = recorder.page
    recorder.write(f"Stage now, read again, {crossing.unit}", crossing.stages[1])
    zero = f"Zero after use: what it shows in still water, {crossing.unit}/s"
    recorder.write(zero, crossing.zero[1])
    with page.expect_file_chooser() as chooser:
        recorder.tap(page.get_by_label("Take photo: Upstream"))
    chooser.value.set_files(photo)
    expect(page.get_by_role("img", name="Upstream")).to_be_visible()
    recorder.press("Now", page.get_by_role("region", name="When it ended"))
    recorder.choose(quality, of="The crew's word for the quality")
    recorder.write("What a reader should know", "Light rain since nine.")


def close(recorder: Recorder) -> str:
    """Sign and close, and return the discharge that the screen shows, with its unit."""
    page = recorder.page
    recorder.go("Close")
    recorder.press("Sign and close")
    expect(page.get_by_role("heading", name="Closed", level=1)).to_be_visible()
    # What is exported before computing has caught up has no figure with it.
    expect(page.locator("dl.behind")).to_have_count(0)
    return page.locator(".closed .figure").inner_text()


def export(recorder: Recorder, folder: Path) -> Path:
    """Export the gauging, say that the file is there, and return where it is."""
    with recorder.page.expect_download() as download:
        recorder.press("Export it as one file")
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    recorder.press("Yes, it is there")
    expect(recorder.page.get_by_text(f"Exported as {path.name}.")).to_be_visible()
    return path
