"""The list of other people's licences names all that the program needs."""

from __future__ import annotations

from packaging.requirements import Requirement

from tests.licences import EXTRAS, LIST, asked, licence_of, needed, plain


def listed() -> dict[str, str]:
    rows = [line.strip("| ").split(" | ") for line in LIST.read_text(encoding="utf-8").splitlines()]
    return {plain(row[0]): row[2] for row in rows if len(row) == 4 and row[0] != "package"}


def test_every_package_that_hangar_asks_for_is_listed_with_a_licence() -> None:
    names = {plain(Requirement(line).name) for extra in EXTRAS for line in asked(extra)}
    assert {"numpy", "pyside6-essentials", "reportlab"} <= names
    assert not names - set(listed())
    assert all(listed().values())


def test_packages_that_come_along_are_listed_as_they_describe_themselves() -> None:
    distributions = needed("")
    assert "sqlalchemy" in distributions
    assert "pillow" in distributions
    assert {
        name: licence_of(distribution) for name, distribution in distributions.items()
    }.items() <= listed().items()


def test_what_only_the_tests_need_is_not_listed() -> None:
    assert "pytest" not in listed()
