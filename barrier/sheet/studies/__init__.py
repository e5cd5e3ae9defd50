"""The pages of a study: the ladder of blocking rung by rung, and the faults of a site beside the sound job."""

from __future__ import annotations

from barrier.sheet.studies.faults import faults_content
from barrier.sheet.studies.ladder import ladder_content

__all__ = ["faults_content", "ladder_content"]
