"""Forged sheets of every language, shape and kind of file: what is called sure is right."""

from __future__ import annotations

from pathlib import Path

from tests.store.intake.forge_trials import Marks, log_trial, stock_trial, trial

SHEETS = 60
FIRST = 5_000


def test_what_is_called_sure_in_forged_sheets_is_right(tmp_path: Path) -> None:
    whole = Marks()
    languages: set[str] = set()
    for number in range(FIRST, FIRST + SHEETS):
        marks, how, made = trial(number, tmp_path)
        languages.add(how.language)
        whole.sure += marks.sure
        whole.sure_right += marks.sure_right
        whole.asked += marks.asked
        whole.wrong += marks.wrong
        assert made.facts
    assert languages == {"en", "de", "fr", "it", "nl", "es"}
    assert whole.sure_right >= 0.998 * whole.sure, whole.wrong
    # Asking about everything is no reading.
    assert whole.asked <= 0.1 * (whole.sure + whole.asked)
    assert whole.sure > 40 * SHEETS


def test_forged_pack_logs_and_lists_of_spares_are_read_right(tmp_path: Path) -> None:
    whole = Marks()
    for number in range(FIRST, FIRST + SHEETS):
        whole += log_trial(number, tmp_path)
        whole += stock_trial(number, tmp_path)
    assert whole.sure_right >= 0.998 * whole.sure, whole.wrong
    assert whole.asked <= 0.1 * (whole.sure + whole.asked)
    assert whole.sure > 10 * SHEETS
