"""What the terminal shows beside words."""

import qrcode


def qr(address: str) -> str:
    """The address as a QR code in half-block characters, light on a dark terminal."""
    code = qrcode.QRCode(border=2)
    code.add_data(address)
    rows = code.get_matrix()
    if len(rows) % 2:
        rows.append([False] * len(rows[0]))
    blocks = {(False, False): "█", (False, True): "▀", (True, False): "▄", (True, True): " "}
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return "\n".join("".join(blocks[pair] for pair in zip(*two, strict=True)) for two in pairs)
