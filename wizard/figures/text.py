"""How wide a line of text is, and where it breaks. No font is loaded: widths are those of a wide sans serif, so that others fit as well."""

from __future__ import annotations

import re
import unicodedata

FONTS = "sans-serif"
POINT = 25.4 / 72.0  # mm
SMALLEST = 9.0 * POINT  # mm; text in print is never smaller
TITLE = 11.0 * POINT
LINE = 1.28  # distance of two lines, of the size of the text
BOLD = 1.14  # bold is so much wider
RISE, FALL = 0.78, 0.24  # of the size, above and below the line that letters stand on
UNBROKEN = "\u00a0"  # a space at which no line breaks
MISSING = 60  # percent of the size, for a sign that the table lacks

# Advance widths of DejaVu Sans, percent of the size, from the space to the tilde.
_WIDTHS = (
    32, 40, 46, 84, 64, 95, 78, 27, 39, 39, 50, 84, 32, 36, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 53,
    100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79, 60, 79, 69, 63, 61, 73, 68, 99, 69, 61, 69, 39, 34, 39, 84, 50,
    50, 61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, 63, 63, 41, 52, 39, 63, 59, 82, 59, 59, 52, 64, 34, 64, 84,
)  # fmt: skip
_OTHER = {UNBROKEN: 32, "°": 50, "²": 40, "³": 40, "×": 84, "–": 50, "₂": 38, "…": 100, "·": 32, "±": 84}
_KNOWN = dict(zip(map(chr, range(32, 127)), _WIDTHS, strict=True)) | _OTHER


def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line [mm] at a size [mm]; careful for signs that the table lacks."""
    total = sum([_KNOWN[sign] if sign in _KNOWN else _sign(sign) for sign in text])
    return total / 100.0 * size * (BOLD if bold else 1.0)


def _sign(sign: str) -> int:
    """Width of a sign that the table lacks, percent of the size."""
    if unicodedata.combining(sign):
        return 0
    plain = unicodedata.normalize("NFD", sign)[0]
    if ord(plain) < 127 and plain in _KNOWN:
        return _KNOWN[plain]
    return MISSING if ord(sign) < 0x500 else 110


def clean(text: object) -> str:
    """Any text on one line, without the signs that XML forbids or that turn the writing direction round."""
    line = re.sub(r"[ \t\r\n\f\v]+", " ", str(text)).strip(" ")
    if line.isprintable():
        return line
    return "".join(sign for sign in line if sign.isprintable() or sign == UNBROKEN)


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """A line that keeps within ``room`` [mm], its end left out where it must be."""
    if width(text, size, bold) <= room:
        return text
    kept = text
    while kept and width(kept + "…", size, bold) > room:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def wrapped(text: str, size: float, room: float) -> list[str]:
    """Lines that keep within ``room`` [mm], broken at spaces; a single word that does not fit is shortened."""
    lines: list[str] = []
    for word in text.split(" "):
        if lines and width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(shortened(word, size, room))
    return lines
