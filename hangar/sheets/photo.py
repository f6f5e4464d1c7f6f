"""The photo of an aircraft that its sheets show, chosen from its papers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from hangar.base.errors import HangarError
from hangar.base.picture_head import NoPicture, picture_head
from hangar.base.text import Text, text
from hangar.parts import Attachment


@dataclass(frozen=True)
class AircraftPhoto:
    """The first photo of an aircraft whose bytes can be had; ``troubles`` say why others could not.

    ``others`` is how many more pictures lie among its papers.
    """

    name: str
    content: bytes | None = None
    others: int = 0
    troubles: tuple[Text, ...] = ()


LookForPhoto = Callable[[], AircraftPhoto | None]
"""Finds the photo of an aircraft when it is drawn: the photos of a whole fleet are too much to hold."""


def photos_of(papers: Iterable[Attachment], read: Callable[[str], bytes]) -> Callable[[str], LookForPhoto]:
    """How the photo of an aircraft is found by its code among the papers of a fleet; see :func:`photo_of`."""
    papers_of: dict[str | None, list[Attachment]] = {}
    for paper in papers:
        papers_of.setdefault(paper.aircraft, []).append(paper)
    return lambda code: lambda: photo_of(code, papers_of.get(code, ()), read)


def photo_of(code: str, papers: Iterable[Attachment], read: Callable[[str], bytes]) -> AircraftPhoto | None:
    """The photo that sheets of an aircraft show: the oldest picture among its papers; None without any.

    ``read`` gives the bytes of a paper by its name, or raises a HangarError that says why it cannot.
    """
    pictures = sorted(
        (paper for paper in papers if paper.aircraft == code and paper.media_type.startswith("image/")),
        key=lambda attachment: (attachment.added_on or date.min, attachment.name),
    )
    troubles: list[Text] = []
    for picture in pictures:
        try:
            content = read(picture.name)
            picture_head(content)
        except HangarError as fault:
            troubles.append(fault.text)
        except NoPicture as fault:
            troubles.append(text("Photo {name} is not shown: {fault}.", name=picture.name, fault=fault.text))
        else:
            return AircraftPhoto(picture.name, content, len(pictures) - 1, tuple(troubles))
    return AircraftPhoto(pictures[0].name, None, len(pictures) - 1, tuple(troubles)) if pictures else None
