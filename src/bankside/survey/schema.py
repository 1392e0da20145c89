"""The JSON Schema (2020-12) of a survey on the wire; `python -m bankside.survey.schema` prints it.

What must hold between records, such as a site on a stream of the survey, only reading it tells.
"""

from __future__ import annotations

from typing import Any

from bankside.gauging.schema import schema_of, schema_text
from bankside.survey.document import FORMAT
from bankside.survey.records import Survey

__all__ = ["schema"]


def schema() -> dict[str, Any]:
    """Return the schema of a survey on the wire."""
    return schema_of(Survey, FORMAT)


if __name__ == "__main__":
    print(schema_text(schema()), end="")
