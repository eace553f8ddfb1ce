"""What live readings need of the files the program brings along."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.domain.finding import Finding
    from deskapp.session.live.rules import LiveRules
    from deskapp.session.live.training_data import Training


class LiveKit(NamedTuple):
    """The house rules for steadiness, and what training draws from."""

    rules: LiveRules
    training: Training


def load_kit(resources: Path | None = None) -> LiveKit | Finding:
    """Read both, by default from the program's own folder; say why if that cannot be."""
    from deskapp.domain.data_files import resources_folder
    from deskapp.domain.finding import Finding
    from deskapp.session.live.rules import load_house_rules
    from deskapp.session.live.training_data import load_training

    folder = resources or resources_folder()
    rules, training = load_house_rules(folder), load_training(folder)
    if isinstance(rules, Finding):
        return rules
    return training if isinstance(training, Finding) else LiveKit(rules, training)
