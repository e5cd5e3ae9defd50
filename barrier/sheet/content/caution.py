"""The caution: first and last on every sheet. What this tool makes is a figure sheet, and glass that breaks kills."""

from __future__ import annotations

from barrier.sheet.blocks import Caution
from barrier.sheet.in_words import in_words

TITLE = "CAUTION"
LONG: tuple[str, ...] = (
    "This is a sheet of figures for a conversation with an engineer. It is not a design, not a certificate and not a "
    "permit document. Do not order glass, cut timber or drill a hole from it.",
    "Glass that breaks and a barrier that lets go kill people. Local codes and a licensed engineer decide whether this "
    "barrier may be built; nothing on this sheet does. A utilisation below 1.00 says only that one comparison came out so.",
    "The supplier's tested rating of the mount governs over anything computed here. Where it is missing, ask for it.",
    "Toughened glass can break without warning and without a load. Keep the edge protected for as long as the barrier is "
    "open, and never lean on glass that is not fixed. A panel of a usual size weighs 40 kg to 60 kg.",
    "Common practice measured by the book often EXCEEDS. That is information to take to the engineer, not a reason to "
    "trim the input until it does not.",
)
SHORT: tuple[str, ...] = (
    "Figures for a conversation with an engineer: no design, no certificate, no permit document. Do not order, cut or "
    "drill from them. Local codes and a licensed engineer decide; the supplier's tested rating governs; what was not "
    "checked is not known; the edge stays protected while the barrier is open.",
)
ONE_LINE = "Figures for a conversation with an engineer: no design, no certificate, no permit document."


def first(style: str = "metric") -> Caution:
    """The caution at the top of a sheet, in its units."""
    return Caution(TITLE, tuple(in_words(text, style) for text in LONG))


def short() -> Caution:
    """The caution of a page that is filled in on site."""
    return Caution(TITLE, SHORT)


def last() -> Caution:
    """The caution at its end."""
    return Caution("CAUTION, AGAIN", SHORT)
