"""Photographs of data plates: what may come in, and the picture that is kept instead.

A photograph tells more than the plate: where and when it was taken, with what, and
sometimes what was filmed behind it. So the file that came in is never kept. Its type
is read from its content, not from its name; it is decoded within limits, turned upright
and painted anew as a smaller JPEG without any of its metadata (OWASP File Upload Cheat
Sheet: verify the content, rewrite images, limit the size, keep no name the sender chose).
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps

from survey_app.errors import SurveyError
from survey_app.texts import ENGLISH

__all__ = ["LARGEST_BYTES", "MOST_OF_A_HOME", "CleanPhoto", "UnusablePhoto", "clean_photo"]

LARGEST_BYTES = 10_000_000
"""What a phone sends is below this; the server takes no larger upload at all."""
MOST_OF_A_HOME = 3
"""A plate, its date code nearer, and one for the other half: more would only fill the backup."""
_LARGEST_PIXELS = 80_000_000  # decoded before it is made smaller: 240 MB at most
_SIDE = 1600  # the print of a plate that fills a third of the picture can still be read
_SMALLEST_SIDE = 200
_QUALITY = 80
_TYPES = ("JPEG", "PNG", "WEBP")


class UnusablePhoto(SurveyError, ValueError):
    """A file that is not taken; ``key`` is the message that says why and what to do in every language."""

    def __init__(self, key: str) -> None:
        super().__init__(ENGLISH(key))
        self.key = key


@dataclass(frozen=True, slots=True, kw_only=True)
class CleanPhoto:
    """The picture that is kept: JPEG, upright, without metadata."""

    jpeg: bytes
    width_px: int
    height_px: int


def clean_photo(data: bytes) -> CleanPhoto:
    """The photograph in a file, painted anew.

    Parameters
    ----------
    data
        The file as it came.

    Raises
    ------
    UnusablePhoto
        With the key of the message: ``plate-too-large``, ``plate-not-a-photo`` or ``plate-too-small``.
    """
    if len(data) > LARGEST_BYTES:
        raise UnusablePhoto("plate-too-large")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(data), formats=_TYPES)
            if image.width * image.height > _LARGEST_PIXELS:
                raise UnusablePhoto("plate-too-large")
            if min(image.size) < _SMALLEST_SIDE:
                raise UnusablePhoto("plate-too-small")
            image.draft("RGB", (2 * _SIDE, 2 * _SIDE))  # lets the JPEG decoder skip what would be thrown away
            upright = ImageOps.exif_transpose(image)
            flat = Image.new("RGB", upright.size, "white")
            seen = upright.convert("RGBA") if upright.has_transparency_data else upright.convert("RGB")
            flat.paste(seen, mask=seen.getchannel("A") if seen.mode == "RGBA" else None)
    except UnusablePhoto:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise UnusablePhoto("plate-too-large") from None
    except Exception:  # decoders meet a file made to break them with errors of any kind
        raise UnusablePhoto("plate-not-a-photo") from None
    flat.thumbnail((_SIDE, _SIDE))
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return CleanPhoto(jpeg=out.getvalue(), width_px=flat.width, height_px=flat.height)
