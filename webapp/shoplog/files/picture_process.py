"""Decodes a picture from a phone in a process of its own.

Run as a program with a task and the most pixels each way that a picture may have, it reads a JPEG
from standard input. `redraw` writes a new JPEG that holds the picture and nothing else, `read_tag`
writes what the QR code in it says. A picture that was made to harm whoever decodes it harms this
process, which has little memory and little time, and no other.
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


def qr_text(body: bytes, most_pixels: int) -> bytes:
    """What a QR code in a JPEG says, in UTF-8; empty where none can be read.

    Raises as `redrawn`.
    """
    # Only this task needs it, and it takes a tenth of a second to load.
    import zxingcpp

    formats = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    with Image.open(io.BytesIO(body), formats=["JPEG"]) as picture:
        if max(picture.size) > most_pixels:
            raise ValueError("too large")
        found = zxingcpp.read_barcodes(picture.convert("L"), formats=formats)
    return found[0].text.encode() if found else b""


TASKS = {"redraw": redrawn, "read_tag": qr_text}


def bound() -> None:
    """Let this process have no more memory and time than a photo needs; Windows has no such way."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def main() -> int:
    """Do the task with what comes in; the exit code."""
    bound()
    try:
        made = TASKS[sys.argv[1]](sys.stdin.buffer.read(), int(sys.argv[2]))
    except (OSError, ValueError, SyntaxError, MemoryError, Image.DecompressionBombError):
        return NO_PICTURE
    sys.stdout.buffer.write(made)
    return 0


if __name__ == "__main__":
    sys.exit(main())
