"""The account of a reading as lines for people and as a file for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from hangar.base.text import Text, text
from hangar.store.intake.account import Account, State

FORM = 1


def as_data(
    account: Account, taken: Mapping[str, int], changes: Iterable[Mapping[str, Any]] = ()
) -> dict[str, Any]:
    """Every cell with its state, the questions, and what changed against the fleet."""
    cells = [
        {
            "file": entry.grid.file,
            "tab": entry.grid.tab or None,
            "row": entry.cell.row,
            "column": entry.cell.column,
            "heading": entry.heading,
            "text": entry.cell.text,
            "state": str(entry.state),
            "reason": str(entry.reason),
            "question": entry.question or None,
        }
        for entry in account.entries()
    ]
    questions = [
        {
            "key": question.key,
            "about": str(question.about),
            "text": str(question.text),
            "answers": list(question.answers),
            "best": question.best,
            "decides": question.decides,
            "cells": [
                [entry.grid.file, entry.grid.tab or None, entry.cell.row, entry.cell.column]
                for entry in question.cells
            ],
        }
        for question in account.questions()
    ]
    return {
        "form": FORM,
        "taken": dict(taken),
        "cells": cells,
        "questions": questions,
        "changes": list(changes),
    }


def as_json(account: Account, taken: Mapping[str, int], changes: Iterable[Mapping[str, Any]] = ()) -> str:
    """The same as text."""
    return json.dumps(as_data(account, taken, changes), ensure_ascii=False, indent=1) + "\n"


def headline(account: Account) -> Text:
    """How many cells were read, are doubted, are of no use."""
    return text(
        "{cells} cells: {read} read, {doubted} doubted ({questions} questions),"
        " {unused} unused ({left} left)",
        cells=sum(1 for _ in account.entries()),
        read=account.count(State.READ),
        doubted=account.count(State.DOUBTED),
        questions=len(account.questions()),
        unused=account.count(State.UNUSED),
        left=account.left,
    )
