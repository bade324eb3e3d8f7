"""Pages for the printer, by Typst. Data go in as JSON, so that nothing anyone typed is read as markup."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

import typst

__all__ = ["pdf"]


def pdf(template: str, content: Mapping[str, Any], *, pictures: Mapping[str, bytes] = {}) -> bytes:
    """A document from one of the templates in ``typst/``.

    Parameters
    ----------
    template
        The template's name without its ending.
    content
        Plain data, written to ``content.json`` beside the template.
    pictures
        Files the template shows, by name (svg or png).
    """
    source = (files(__package__) / "typst" / f"{template}.typ").read_bytes()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        (place / "main.typ").write_bytes(source)
        (place / "content.json").write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8", errors="replace")
        for name, data in pictures.items():
            (place / name).write_bytes(data)
        made = typst.compile(str(place / "main.typ"), root=str(place))
    if not isinstance(made, bytes):
        raise TypeError("The PDF maker gave no single document.")
    return made
