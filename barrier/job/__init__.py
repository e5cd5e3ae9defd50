"""The job file: what the reader described, validated once, in base units. The only place that parses a number.

>>> from barrier.job.read import job_from_text
>>> from barrier.worked import example_text
>>> job = job_from_text(example_text(), "garden_deck.toml")
>>> job.panels[0].width.x, job.panels[0].width.origin.text, job.mounts[0].screw.diameter.origin.path
(1000.0, '1000 mm', 'mount_types.deep.screw.diameter')
"""

from __future__ import annotations

from barrier.job.job import Job
from barrier.job.read import job_from_text, read_job
from barrier.job.unread import mark

__all__ = ["Job", "job_from_text", "read_job"]

mark()
