"""What is missing before a release, and what is open, as text for the board."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.text import Text
from hangar.window.kit.plain_words import Markup, markup, plain
from hangar.window.kit.words import put, say


def missing_html(gaps: Sequence[Text], unticked: Sequence[str], left_open: Sequence[str] = ()) -> Markup:
    """What is missing before release, and what is open, each as a list, one to a line.

    Args:
        gaps: all that is missing; the sentences of the gates stand last.
        unticked: codes of the gates that are not ticked: their sentences stand beside the boxes already.
        left_open: what does not hinder a release, but is asked about; in words.
    """
    if not gaps and not left_open:
        return plain(say("Every proof is ticked and every reading entered."))
    told = [put(gap) for gap in gaps[: len(gaps) - len(unticked)]]
    if unticked:
        told.append(say("Proofs to tick: {codes}.", codes=", ".join(unticked)))
    lists = [(say("Missing before release:"), told), (say("Open, and asked about at release:"), left_open)]
    return Markup().joined(_list(heading, lines) for heading, lines in lists if lines)


def _list(heading: str, lines: Sequence[str]) -> Markup:
    return markup(
        "<p>{heading}</p><ul style='margin-left: 0px; -qt-list-indent: 1'>{lines}</ul>",
        heading=heading,
        lines=Markup().joined(markup("<li>{words}</li>", words=words) for words in lines),
    )
