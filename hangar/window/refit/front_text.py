"""One refit of a front in words: its changes, what it does to the findings, and what was refused."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from hangar.window.kit.judging import Difference
from hangar.window.kit.words import level_word, put, say
from hangar.window.refit.front_view import FrontView

if TYPE_CHECKING:
    from hangar.refit import Front
    from hangar.refit.front import Point

_MOST_REFUSED = 40


def point_html(chart: FrontView, point: Point, front: Front, reasons: tuple[str, ...] | None) -> str:
    """A refit in full: its changes, what it does to the findings, and why."""
    from hangar.refit.front import change_words

    title = escape(chart.words_of(chart.chosen))
    changes = change_words(point.changes, front.aircraft)
    lines = "".join(f"<li>{escape(put(words))}</li>" for words in changes)
    difference = Difference.between(front.today.findings_after, point.findings_after)
    parts = [f"<p><b>{title}</b></p>"]
    parts.append(
        f"<p><b>{say('Changes')}</b></p><ul>{lines}</ul>" if lines else f"<p>{say('Changes nothing.')}</p>"
    )
    for words, found in (
        (say("Findings that go"), difference.gone),
        (say("Findings that come"), difference.new),
    ):
        if found:
            rows = "".join(f"<li>{level_word(one.level)}: {escape(put(one.message))}</li>" for one in found)
            parts.append(f"<p><b>{words}</b></p><ul>{rows}</ul>")
    left = [one for one in point.findings_after if one.is_open and one.level == "warning"]
    parts.append(f"<p>{say('Warnings left: {count}', count=len(left))}</p>")
    if point.changes:
        why = reasons if reasons is not None else (say("Working out why…"),)
        told = "".join(f"<p>{escape(put(each))}</p>" for each in why)
        parts.append(f"<p><b>{say('Why')}</b></p>{told}")
    else:
        parts.append(_refusals(front))
    return "".join(parts)


def _refusals(front: Front) -> str:
    """What is not possible, each with the first rule it breaks."""
    refused = (*front.refused, *front.cut)
    if not refused:
        return ""
    rows = "".join(
        f"<li><b>{escape(put(one.what))}</b>: {escape(put(one.why))}</li>" for one in refused[:_MOST_REFUSED]
    )
    title = say("Refused ({count})", count=len(refused))
    return f"<p><b>{title}</b></p><ul>{rows}</ul>"
