"""Steps are taken back and made again in order, and the history keeps them all."""

from __future__ import annotations

from datetime import date

from hangar.parts import (
    Airframe,
    Servo,
)
from hangar.store import Fleet

DAY = date(2025, 6, 1)


def test_undo_and_redo_go_back_and_forth_step_by_step(trainer: Fleet) -> None:
    trainer.edit("First", lambda edit: edit.change(Servo, ("0801",), bin="A1"))
    trainer.edit("Second", lambda edit: edit.change(Servo, ("0801",), bin="B2"))

    def bin_now() -> str | None:
        servo = trainer.record(Servo, "0801")
        assert servo is not None
        return servo.bin

    assert (trainer.undo_label, trainer.redo_label) == ("Second", None)
    trainer.undo()
    assert (bin_now(), trainer.undo_label, trainer.redo_label) == ("A1", "First", "Second")
    trainer.undo()
    assert (bin_now(), trainer.redo_label) == (None, "First")
    trainer.redo()
    trainer.redo()
    assert (bin_now(), trainer.redo_label) == ("B2", None)
    assert trainer.redo() is None


def test_a_new_edit_drops_what_could_be_redone_but_not_from_the_history(trainer: Fleet) -> None:
    trainer.edit("First", lambda edit: edit.change(Servo, ("0801",), bin="A1"))
    trainer.undo()
    trainer.edit("Other", lambda edit: edit.change(Servo, ("0801",), bin="C3"))
    assert trainer.redo_label is None
    labels = [(change.label, change.undone) for change in trainer.history(Servo, ("0801",))]
    assert labels[:2] == [("Other", False), ("First", True)]


def test_an_empty_fleet_has_nothing_to_undo_or_redo(fleet: Fleet) -> None:
    assert (fleet.undo_label, fleet.redo_label, fleet.undo(), fleet.redo()) == (None, None, None, None)


def test_history_tells_a_parts_life_before_and_after(trainer: Fleet) -> None:
    trainer.edit("Bin it", lambda edit: edit.change(Servo, ("0802",), bin="A1"))
    newest, oldest = trainer.history("servo", ("0802",))
    assert oldest.before is None
    assert newest.before is not None
    assert newest.after is not None
    assert (newest.label, newest.before["bin"], newest.after["bin"]) == ("Bin it", None, "A1")


def test_history_follows_a_renamed_part_and_aircraft(trainer: Fleet) -> None:
    trainer.edit("Retag", lambda edit: edit.rename(Servo, ("0801",), ("A801",)))
    assert [change.label for change in trainer.history(Servo, ("A801",))][-1] == "Build the trainer"
    count = len(trainer.history(aircraft="DUN"))
    trainer.edit("Recode", lambda edit: edit.rename(Airframe, ("DUN",), ("NOW",)))
    assert len(trainer.history(aircraft="NOW")) == count + 1
    assert trainer.history(aircraft="DUN") == ()
    trainer.undo()
    assert len(trainer.history(aircraft="DUN")) == count + 1
