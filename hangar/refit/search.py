"""The best plan of one aircraft, proved by what judged plans teach of all others."""

from __future__ import annotations

from hangar.refit.goal import Goal
from hangar.refit.judge import Progress, Stop, never, no_progress
from hangar.refit.knowledge import Knowledge
from hangar.refit.nodes import Outcome
from hangar.refit.question import Question

MOST_LOOKS = 400
"""Looks that one question may take before its answer is told with a gap."""
MOST_NODES = 1_500
"""Nodes that it may bound."""


class Search(Knowledge):
    """What is known of an aircraft's plans, asked for the best of them."""

    def best(
        self,
        goal: Goal,
        *,
        progress: Progress = no_progress,
        stop: Stop = never,
        most_looks: int = MOST_LOOKS,
        most_nodes: int = MOST_NODES,
    ) -> Outcome:  # fmt: skip
        """The plan that costs least, with its proof or its gap."""
        return Question(self, goal, progress, stop, most_looks, most_nodes).answer()
