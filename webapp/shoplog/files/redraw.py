"""Draws a photo anew in a process of its own: what comes out holds the picture and nothing else.

Run as a program, with the most pixels each way that a picture may have, it reads a JPEG from
standard input and writes a new one to standard output. A picture that was made to harm whoever
decodes it harms this process, which has little memory and little time, and no other.
"""

import io
import sys

from PIL import Image

NO_PICTURE = 3
MEMORY = 1024 * 1024 * 1024
SECONDS = 20
QUALITY = 90


def redrawn(body: bytes, most_pixels: int) -> bytes:
    """The picture of a JPEG in a new JPEG, without anything else that was in the file.

    Raises OSError, ValueError or SyntaxError for what is no whole picture of a size that is kept.
    """
    with Image.open(io.BytesIO(body), formats=["JPEG"]) as picture:
        if max(picture.size) > most_pixels:
            raise ValueError("too large")
        # A picture that is made new takes over no comment, no EXIF and no color profile.
        clean = Image.new("RGB", picture.size)
        clean.paste(picture.convert("RGB"))
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def bound() -> None:
    """Let this process have no more memory and time than a photo needs; Windows has no such way."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def main() -> int:
    """Redraw what comes in; the exit code."""
    bound()
    try:
        made = redrawn(sys.stdin.buffer.read(), int(sys.argv[1]))
    except (OSError, ValueError, SyntaxError, MemoryError, Image.DecompressionBombError):
        return NO_PICTURE
    sys.stdout.buffer.write(made)
    return 0


if __name__ == "__main__":
    sys.exit(main())
