"""Many residents at once, and a writer killed in the middle: nothing acknowledged is lost, nothing is doubled."""

from __future__ import annotations

from pathlib import Path

from fifty_residents import community, killed_in_the_middle, rush


def test_residents_who_submit_at_once_and_twice_are_stored_once(tmp_path: Path) -> None:
    """Twelve threads, each answer sent twice under its own name: all there, each once."""
    homes = community(tmp_path, 60)
    found = rush(tmp_path, homes, residents=12, each=3)

    assert found.sent == 72
    assert (found.stored, found.lost, found.doubled) == (36, 0, 0)


def test_a_writer_killed_outright_loses_nothing_it_had_acknowledged(tmp_path: Path) -> None:
    """After SIGKILL every answer that was acknowledged is in the store, which opens without complaint."""
    homes = community(tmp_path, 60)
    said, missing = killed_in_the_middle(tmp_path, homes, after=8)

    assert said >= 8
    assert missing == 0
