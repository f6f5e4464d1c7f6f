"""Packages that load their names on demand offer what they say, and nothing else."""

from __future__ import annotations

import sys
from importlib import import_module

import pytest

from tests.all_cases import all_cases

PACKAGES = ("hangar.store", "hangar.rules", "hangar.survey")


@all_cases("package", PACKAGES)
def test_every_offered_name_can_be_fetched(package: str) -> None:
    module = import_module(package)
    assert sorted(module._HOMES) == sorted(module.__all__)
    for name in module.__all__:
        assert getattr(module, name) is not None


@all_cases("package", PACKAGES)
def test_a_name_that_is_not_offered_is_refused(package: str) -> None:
    with pytest.raises(AttributeError, match="has no attribute 'wheelbarrow'"):
        sys.modules.get(package, import_module(package)).wheelbarrow  # noqa: B018
