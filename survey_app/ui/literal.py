"""Words that came from a person, a file or the records, shown as the words they are.

Streamlit reads the text of most elements, the labels of fields and buttons included, as Markdown. There a picture makes
the reader's browser fetch it from wherever it names, which tells a stranger who read what, and when; so nothing that a
page did not write itself goes into such a text but through :func:`literal` (OWASP Cross Site Scripting Prevention Cheat
Sheet, "Output Encoding": encode for the place where it is shown). Tables of `st.dataframe`, values of fields and the
options of select boxes show words as they are; `st.table` does not.
"""

from __future__ import annotations

import re

__all__ = ["literal", "plain"]

_MARKUP = re.compile(r"[\\`*_\[\]{}<>#~|&]|:(?=[A-Za-z])")


def literal(text: object) -> str:
    r"""A text within Markdown that shows as itself, on one line.

    Examples
    --------
    >>> literal("![x](http://192.0.2.9) at $5")
    '!\\[x\\](http://192.0.2.9) at &#36;5'
    """
    words = " ".join(str(text).split())
    # A dollar as a reference: pages put a backslash before those of their own sentences.
    return _MARKUP.sub(lambda sign: "\\" + sign.group(), words).replace("$", "&#36;")


def plain(*lines: str, between: str = "\n\n") -> str:
    """The app's own sentences as Markdown: two dollar signs in them are no formula.

    One alone is left, since a screen reader reads a label's backslash.
    """
    text = between.join(lines)
    return text.replace("$", "\\$") if text.count("$") > 1 else text
