"""The design value against XFOIL itself, on cases drawn at random inside the model's limits."""

from __future__ import annotations

import os
import random
import re
import shutil
import subprocess
from pathlib import Path
from typing import NamedTuple

import pytest

from hangar.physics.hinge_band import Profile, bubble_allowance, coefficients
from hangar.physics.surface import hinge_coefficient, section_slopes

XFOIL, COMPILER = shutil.which("xfoil"), shutil.which("gcc")

pytestmark = [
    pytest.mark.judge,
    pytest.mark.slow,
    pytest.mark.skipif(XFOIL is None or COMPILER is None, reason="XFOIL or gcc is not installed"),
]

CASES, CAMBERED = 14, 10
SECONDS_A_RUN = 8
MOST_OUTPUT = 4_000_000

# WORKAROUND XFOIL 6.99 as Debian builds it: it traps division by zero and dies when it repanels an
# aerofoil; drop when a run of the program without this library survives.
NO_TRAPS = """
void _gfortran_set_fpe(int traps) { (void)traps; }
int feenableexcept(int traps) { (void)traps; return 0; }
"""


class Case(NamedTuple):
    thickness_percent: int
    flap_ratio: float
    deflection_deg: float
    alpha_deg: int
    reynolds: int
    camber_percent: int = 0

    @property
    def aerofoil(self) -> str:
        """Its four digits; of a cambered one the mean line is highest at 0.4 of the chord."""
        camber = f"{self.camber_percent}4" if self.camber_percent else "00"
        return f"{camber}{self.thickness_percent:02d}"


@pytest.fixture(scope="module")
def untrapped(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("xfoil")
    source, library = folder / "no_traps.c", folder / "no_traps.so"
    source.write_text(NO_TRAPS)
    subprocess.run(
        [str(COMPILER), "-shared", "-fPIC", "-o", str(library), str(source)], check=True, timeout=900
    )
    return library


def _commands(case: Case, *, viscous: bool) -> str:
    flap = ["GDES", "FLAP", f"{1.0 - case.flap_ratio:.4f}", "0.0", f"{case.deflection_deg}", "EXEC", ""]
    lines = [
        "PLOP",
        "G",
        "",
        f"NACA {case.aerofoil}",
        "PPAR",
        "N 240",
        "",
        "",
        *flap,
        "PANE",
        "OPER",
    ]
    if viscous:
        lines += [f"VISC {case.reynolds}", "ITER 150"]
    return "\n".join([*lines, f"ALFA {case.alpha_deg}", "FMOM", "", "QUIT", ""])


def _coefficient(case: Case, library: Path, *, viscous: bool) -> float | None:
    """Coefficient on flap chord squared; None where XFOIL does not converge in time."""
    folder = library.parent
    commands, output = folder / "commands.txt", folder / "output.txt"
    commands.write_text(_commands(case, viscous=viscous))
    with commands.open() as stdin, output.open("w") as stdout:
        try:
            subprocess.run(
                [str(XFOIL)],
                stdin=stdin,
                stdout=stdout,
                stderr=subprocess.DEVNULL,
                env={**os.environ, "LD_PRELOAD": str(library)},
                cwd=folder,
                timeout=SECONDS_A_RUN,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return None
    with output.open(errors="replace") as file:
        text = file.read(MOST_OUTPUT)
    match = re.search(r"Hinge moment/span = *([-\d.]+)", text)
    if match is None or "VISCAL:  Convergence failed" in text:
        return None
    return -float(match.group(1)) / case.flap_ratio**2


def _draw(count: int) -> list[Case]:
    draw = random.Random(20261)
    return [
        Case(
            draw.randint(6, 15),
            round(draw.uniform(0.12, 0.60), 3),
            round(draw.uniform(0.0, 20.0), 1),
            draw.randint(-4, 4),
            int(10.0 ** draw.uniform(4.95, 6.3)),
        )
        for _ in range(count)
    ]


def test_the_design_value_is_above_every_converged_xfoil_run(untrapped: Path) -> None:
    seen = 0
    for case in _draw(CASES):
        coefficient = _coefficient(case, untrapped, viscous=True)
        if coefficient is None:
            continue
        seen += 1
        band = hinge_coefficient(case.flap_ratio, case.deflection_deg, case.alpha_deg, reynolds=case.reynolds)
        assert abs(coefficient) <= band.design, case
    assert seen >= CASES // 2


def test_a_cambered_section_lies_inside_the_band_of_its_camber(untrapped: Path) -> None:
    draw = random.Random(20262)
    seen = 0
    for _ in range(CAMBERED):
        case = Case(
            draw.randint(9, 15), round(draw.uniform(0.18, 0.35), 3), round(draw.uniform(8.0, 18.0), 1),
            draw.randint(-2, 4), int(10.0 ** draw.uniform(5.3, 6.3)), draw.choice((2, 3, 4)),
        )  # fmt: skip
        coefficient = _coefficient(case, untrapped, viscous=True)
        if coefficient is None:
            continue
        seen += 1
        profile = Profile(case.flap_ratio, None, case.camber_percent / 100, 2.0, 4.0)
        table = coefficients(profile, case.deflection_deg, trailing_edge_down=True)
        band = table.at(case.deflection_deg, bubble_allowance(case.reynolds))
        assert band.low <= abs(coefficient) <= band.design, case
    assert seen >= CAMBERED // 2


@pytest.mark.parametrize("ratio", [0.22, 0.35, 0.48])
def test_a_thin_section_without_viscosity_has_the_thin_slope(untrapped: Path, ratio: float) -> None:
    coefficient = _coefficient(Case(6, ratio, 4.0, 0, 0), untrapped, viscous=False)
    assert coefficient is not None
    assert coefficient == pytest.approx(section_slopes(ratio).b2_per_rad * 0.0698132, rel=0.05)
