"""What is shown below the help of each command: command lines as people type them.

The tests hold every line against the parser; `docs/commands.md` prints them too.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

__all__ = ["EXAMPLES", "examples"]

EXAMPLES: Final[Mapping[str, tuple[tuple[str, str], ...]]] = {
    "": (
        ("Where to stand between edges of water at 3.2 and 27.1 ft", "plan 3.2 27.1"),
        ("The discharge of what came back", "compute sheet.xlsx"),
        ("What is doubtful, and what to do about it", "check sheet.xlsx"),
        ("The note to sign", "report sheet.xlsx"),
        ("More about one command", "compute --help"),
    ),
    "plan": (
        ("25 verticals between edges at 3.2 and 27.1 ft", "plan 3.2 27.1"),
        ("The same in metres, from the right bank", "plan 0.4 8.2 --unit m --start right"),
        (
            "Closer where an earlier gauging found more water",
            "plan 3.2 27.1 --rule equal-flow --from last.csv",
        ),
    ),
    "sheet": (
        ("A sheet without tape positions", "sheet -o blank.pdf"),
        (
            "With those of a plan, two readings a vertical",
            "sheet 3.2 27.1 --points 2 -o alder.pdf",
        ),
    ),
    "compute": (
        ("Panel by panel, and a total on the sheet explained", "compute sheet.xlsx"),
        ("A sheet that leaves the unit of the depth open", "compute old.csv --unit depth=ft"),
        ("A season, for other programs", "compute season/*.csv --json"),
    ),
    "check": (
        ("Everything that is doubtful", "check sheet.xlsx"),
        ("While the crew is still in the water", "check half.csv --unfinished"),
        ("What to do next there, to ± 8 %", "check half.csv --unfinished --target 8"),
        (
            "Answer a finding by its key, and keep the answer with the record",
            'check sheet.csv --accept k7q2x="spotter" --by "I. Marrow" -o kept.json',
        ),
    ),
    "report": (
        ("The note as a PDF, to print and sign", "report sheet.xlsx"),
        ("Every figure as a formula to follow", "report sheet.xlsx --workbook"),
        ("Notes of a season", "report season/*.csv --output-folder notes"),
    ),
    "convert": (
        ("The whole record", "convert sheet.xlsx -o sheet.json"),
        ("One tidy table, a row a reading", "convert season/*.csv -o season.xlsx"),
        ("For a map", "convert season/*.csv -o season.gpkg"),
    ),
    "survey": (
        ("The report of a season", "survey report --survey survey.json sheets/"),
        ("Three crews at one section", "survey crews crew-a.csv crew-b.csv crew-c.csv"),
    ),
    "survey report": (
        ("From sheets and journals", "survey report --survey survey.json sheets/ phones/"),
        (
            "From an archive, with the tables",
            "survey report --archive season.db --survey upper-2026 --tables out",
        ),
    ),
    "survey crews": (
        ("Printed", "survey crews sheets/"),
        ("One day of an archive", "survey crews --archive season.db --site AF-01 -o crews.pdf"),
    ),
    "archive": (
        ("Make one", "archive init season.db"),
        ("Take in sheets and the files of phones", "archive import season.db sheets/ phones/"),
        ("See what is in it", "archive list season.db --survey none"),
    ),
    "archive init": (
        ("In one file", "archive init season.db"),
        ("In an empty PostgreSQL database", "archive init postgresql://bank@host/season"),
        ("From a backup", "archive init new.db --from backup.db"),
    ),
    "archive import": (
        (
            "Whole folders, and who handed them in",
            'archive import season.db survey.json sheets/ --by "I. Marrow"',
        ),
    ),
    "archive list": (
        ("The surveys", "archive list season.db"),
        ("The gaugings of one", "archive list season.db --survey upper-2026"),
        ("Those of a crew at a stream", 'archive list season.db --search "alder marrow"'),
    ),
    "archive export": (
        ("Every entry, with the photos", "archive export season.db -o journals"),
        ("The sheets as they came", "archive export season.db --what sheets -o sheets"),
    ),
    "archive verify": (("Is all well with it?", "archive verify season.db"),),
    "archive rework": (("After a new version of Bankside", "archive rework season.db"),),
    "archive backup": (
        ("To a new file, while others work", "archive backup season.db /backup/season.db"),
        ("And is that in order?", "archive verify /backup/season.db"),
    ),
    "archive refile": (
        (
            "One gauging, by the first letters of its id",
            'archive refile season.db s3f2 --by "I. Marrow" --reason "Own edges."',
        ),
    ),
    "bulk": (
        ("One table of an archive", "bulk gather --archive season.db -o all.parquet"),
        ("All its figures", "bulk compute all.parquet figures"),
    ),
    "bulk gather": (
        ("Everything of an archive", "bulk gather --archive season.db -o all.parquet"),
        ("Sheets", "bulk gather season/*.csv -o season.parquet"),
    ),
    "bulk simulate": (
        ("A million gaugings of no real stream", "bulk simulate 1000000 -o many.parquet"),
    ),
    "bulk compute": (
        ("One row a gauging, one a panel", "bulk compute all.parquet figures"),
        ("By two processes", "bulk compute all.parquet figures --workers 2"),
    ),
    "bulk check": (
        ("By common practice", "bulk check all.parquet found"),
        (
            "By another rule set",
            "bulk check all.parquet found-florida --rules after-florida-ft-1800",
        ),
    ),
    "bulk compare": (
        ("What another rule set changes", "bulk compare found found-florida"),
        (
            "What the other method changes",
            "bulk compare figures figures --against mean_section_m3s",
        ),
    ),
    "rules": (
        ("What there is", "rules list"),
        ("Where two differ", "rules compare after-usgs-tm-3-a8 after-iso-748"),
    ),
    "rules list": (("With how far they can be trusted", "rules list"),),
    "rules show": (
        ("What one says itself", "rules show after-iso-748 --own"),
        ("Is all well with one of your own?", "rules show crew.toml"),
    ),
    "rules compare": (
        ("Side by side, in one unit", "rules compare after-usgs-tm-3-a8 after-iso-748"),
    ),
    "rules start": (
        ("A file to edit", "rules start after-iso-748 -o crew.toml"),
        ("Then go by it", "check sheet.xlsx --rules crew.toml"),
    ),
    "practice": (
        ("The streams", "practice streams"),
        ("How far off somebody was", "practice debrief session.json"),
    ),
    "practice streams": (("From easy to hard", "practice streams"),),
    "practice debrief": (
        ("On the screen", "practice debrief session.json"),
        ("To print", "practice debrief session.json -o debrief.pdf"),
    ),
    "practice readiness": (
        ("Everybody's sessions", "practice readiness sessions/"),
        (
            "By what a leader asks for, with papers",
            "practice readiness done/ --requirements asked.json --certificates out",
        ),
        ("Of an archive, and kept there", "practice readiness --archive season.db --keep"),
    ),
    "practice keep": (("Everybody's sessions", "practice keep season.db sessions/"),),
    "practice list": (("Who has practised", "practice list season.db"),),
    "practice export": (
        ("The files as they came, and the records", "practice export season.db -o practice/"),
    ),
    "practice requirements": (("A file to change", "practice requirements"),),
    "serve": (
        ("The app for the bank, on this machine", "serve --open"),
        ("With an archive, and the desk of the office", "serve --archive season.db --open"),
    ),
    "app": (
        ("The files, for any web host", "app /srv/bankside"),
        ("Let devices forget the app", "app /srv/bankside --withdraw"),
    ),
    "people": (("Let somebody in", 'people add season.db "I. Marrow" --role lead'),),
    "people add": (
        ("Who asks the questions", 'people add season.db "I. Marrow" --role lead'),
        (
            "Without a terminal",
            'people add season.db "J. Ostrander" --role crew --password-file pw',
        ),
    ),
    "people list": (("With their roles", "people list season.db"),),
    "people remove": (("And out at once", 'people remove season.db "J. Ostrander"'),),
    "people password": (("Asked for here", 'people password season.db "J. Ostrander"'),),
    "devices": (
        ("Pair a phone", "devices code season.db"),
        ("See which are paired", "devices list season.db"),
    ),
    "devices code": (
        ("For a phone of a crew", 'devices code season.db --name "Crew A"'),
        ("For the leader's", "devices code season.db --role lead"),
    ),
    "devices list": (("The last one first", "devices list season.db"),),
    "devices revoke": (("A phone that was lost", "devices revoke season.db d7k2"),),
    "completion": (
        ("For this bash alone", "completion bash > bankside.bash"),
        ("For every zsh", "completion zsh > ~/.zfunc/_cyclopts_bankside"),
    ),
}
"""Command → what is done by a command line, and the line itself without the program's name."""


def examples(command: str) -> str:
    """Return the examples of a command as Markdown: a sentence, and below it the line to type."""
    shown = (f"{what}:  \n`bankside {line}`" for what, line in EXAMPLES[command])
    return "\n\n".join(("**Examples**", *shown))
