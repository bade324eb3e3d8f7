"""The base of every error of this package whose message is a sentence for the person who asked."""

from __future__ import annotations

__all__ = ["GeoError"]


class GeoError(ValueError):
    """What was asked for is not possible as it is; the message says why and what to do."""
