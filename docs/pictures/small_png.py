"""Makes screenshots small: one byte a pixel with a palette of the 256 colors that matter most.

A page of the browser reads the picture, so that no library is needed for that.
"""

import base64
import struct
import zlib
from typing import Any

from playwright.sync_api import Page

COLORS = 256

# The picture's pixels as indexes into its most frequent colors; the rest take the nearest one.
INDEX = """
async ({png, most}) => {
  const blob = await (await fetch(`data:image/png;base64,${png}`)).blob();
  const image = await createImageBitmap(blob, {colorSpaceConversion: 'none'});
  const {width, height} = image;
  const context = new OffscreenCanvas(width, height).getContext('2d');
  context.drawImage(image, 0, 0);
  const pixels = context.getImageData(0, 0, width, height).data;
  const counts = new Map();
  for (let at = 0; at < pixels.length; at += 4) {
    const color = pixels[at] << 16 | pixels[at + 1] << 8 | pixels[at + 2];
    counts.set(color, (counts.get(color) ?? 0) + 1);
  }
  const byCount = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  const palette = byCount.slice(0, most).map(([color]) => color);
  const places = new Map(palette.map((color, place) => [color, place]));
  const parts = (color) => [color >> 16, color >> 8 & 255, color & 255];
  const far = (a, b) =>
    parts(a).reduce((sum, part, index) => sum + (part - parts(b)[index]) ** 2, 0);
  const nearest = (color) => palette.reduce((best, each, place) =>
    far(each, color) < far(palette[best], color) ? place : best, 0);
  for (const [color] of byCount.slice(most)) places.set(color, nearest(color));
  let text = '';
  for (let at = 0; at < pixels.length; at += 4) {
    const color = pixels[at] << 16 | pixels[at + 1] << 8 | pixels[at + 2];
    text += String.fromCharCode(places.get(color));
  }
  return {width, height, palette: palette.flatMap(parts), pixels: btoa(text)};
}
"""


def squeeze(reader: Page, png: bytes) -> bytes:
    """The same picture as a smaller PNG; `reader` is a page of no matter what."""
    asked = {"png": base64.b64encode(png).decode(), "most": COLORS}
    return written(reader.evaluate(INDEX, asked))


def written(picture: dict[str, Any]) -> bytes:
    """An indexed PNG of {width, height, palette, pixels}."""
    width, height = picture["width"], picture["height"]
    pixels = base64.b64decode(picture["pixels"])
    lines = b"".join(b"\0" + pixels[at : at + width] for at in range(0, len(pixels), width))
    head = struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)
    parts = [
        (b"IHDR", head),
        (b"PLTE", bytes(picture["palette"])),
        (b"IDAT", zlib.compress(lines, 9)),
        (b"IEND", b""),
    ]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(name, data) for name, data in parts)


def chunk(name: bytes, data: bytes) -> bytes:
    """One part of a PNG, with its length and checksum."""
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
