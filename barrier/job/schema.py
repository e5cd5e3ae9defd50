"""What a job file may say, whole: the document, and every table of it in one place to import from."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from barrier.job.entries import Choice, Day, Flag, TableOfEntries, Text
from barrier.job.glass import Interlayer, Layer, Panel
from barrier.job.mount import BasePlate, Mount, MountType, Packer, Pad, Rating, ScrewInMount, ScrewKind, ServiceHole
from barrier.job.rail import Rail, RailEnd, RailOpening, RailPlace, RailSplice
from barrier.job.site import Editions, Limits, Loads, OtherBasis, Site, Situation
from barrier.job.timber import Blocking, BoardScrews, Decking, EndFixing, Joists, JoistSupport, Ties, TimberCode
from barrier.job.wind import Wind

__all__ = [
    "BasePlate",
    "Blocking",
    "BoardScrews",
    "Decking",
    "Document",
    "Editions",
    "EndFixing",
    "File",
    "Interlayer",
    "JoistSupport",
    "Joists",
    "Layer",
    "Limits",
    "Loads",
    "Mount",
    "MountType",
    "OtherBasis",
    "Packer",
    "Pad",
    "Panel",
    "Rail",
    "RailEnd",
    "RailOpening",
    "RailPlace",
    "RailSplice",
    "Rating",
    "ScrewInMount",
    "ScrewKind",
    "ServiceHole",
    "Site",
    "Situation",
    "Ties",
    "TimberCode",
    "Wind",
]


class Document(TableOfEntries):
    """A job file with its mount types written into its mounts."""

    title: Annotated[str, Text()]
    date: Annotated[str | None, Day()] = None
    invented: Annotated[bool, Flag(default=False, reason="not marked as invented", weight=9)]
    units: Annotated[str, Choice(choices=("metric", "us"), default="metric", reason="units of the sheet not named", weight=9)]
    basis: Annotated[
        str,
        Choice(
            choices=("en", "us", "au", "nz"),
        ),
    ]  # fmt: skip
    national: Annotated[str, Text(default="", reason="no national table of loads is named", weight=1)]
    tables: Annotated[str | None, Text()] = None
    editions: Editions
    site: Site
    loads: Loads
    wind: Wind | None = None
    panels: Annotated[tuple[Panel, ...], Field(min_length=1, max_length=100)]
    mounts: Annotated[tuple[Mount, ...], Field(min_length=1, max_length=400)]
    rail: Rail | None = None
    decking: Decking
    blocking: dict[str, Blocking] = Field(default_factory=dict)
    joists: Joists
    timber: TimberCode | None = None
    limits: Limits
    bases: dict[str, OtherBasis] = Field(default_factory=dict)
    situations: Annotated[tuple[Situation, ...], Field(max_length=100)] = ()


class File(Document):
    """A job file as it is written: the document, and the mount types its mounts refer to."""

    mount_types: dict[str, MountType] = Field(default_factory=dict)
