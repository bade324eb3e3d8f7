"""An invented community with a known truth. Nothing in here is real."""

from synthetic_community.community import Paths, build

__all__ = ["Paths", "build"]
