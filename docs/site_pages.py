"""The pages of the site that stand at the top of the project: what MkDocs calls while it builds.

They are written for the folder they lie in; on the site they lie among the others.
"""

import re
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

ROOT = Path(__file__).parents[1]
PAGES = {
    "README.md": "index.md",
    "CONTRIBUTING.md": "contributing.md",
    "SECURITY.md": "security.md",
    "CHANGELOG.md": "changelog.md",
}


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add those pages, with their links made to fit."""
    for source, page in PAGES.items():
        text = moved((ROOT / source).read_text(encoding="utf-8"))
        files.append(File.generated(config, page, content=text))
    return files


def moved(text: str) -> str:
    """Return a page's text with its links as they are on the site."""
    text = re.sub(r'(\]\(|src=")docs/', r"\1", text)
    for source, page in PAGES.items():
        text = text.replace(f"]({source}", f"]({page}")
    return text
