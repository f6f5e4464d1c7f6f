"""The best plan of one aircraft, proved by what judged plans teach of all others."""

from __future__ import annotations

from dataclasses import replace

from hangar.refit.goal import Goal
from hangar.refit.judge import Progress, Stop, never, no_progress
from hangar.refit.knowledge import Knowledge
from hangar.refit.narrow import promising
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
        """The plan that costs least, with its proof or its gap.

        In a large library it is looked for first among the few servos that most plans want: what is found and
        learned there leaves less to look at among all.
        """
        looks, types = self.judge.looks, self.judge.library.servo_types
        masks = tuple((at, promising(choice_list, types, goal)) for at, choice_list in enumerate(self.lists))
        masks = tuple((at, mask) for at, mask in masks if mask >= 0)
        if masks:
            first, progress = _halves(progress)
            Question(self, goal, first, stop, most_looks // 2, most_nodes // 2, masks).answer()
        left = most_looks - (self.judge.looks - looks)
        outcome = Question(self, goal, progress, stop, left, most_nodes).answer()
        return replace(outcome, looks=self.judge.looks - looks)


def _halves(progress: Progress) -> tuple[Progress, Progress]:
    """What tells the first and the second half of the way."""
    return (
        lambda share, words: progress(share / 2.0, words),
        lambda share, words: progress(0.5 + share / 2.0, words),
    )
