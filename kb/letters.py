"""Letters that a terminal obeys, or that make a text look otherwise than it is kept."""

from unicodedata import category

TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Explicit marks of direction (Unicode Standard Annex 9, section 2)."""


def obeyed(letter: str) -> bool:
    """Control characters but the line feed, separators of lines, halves of characters, turning marks."""
    if " " <= letter <= "~" or letter == "\n":
        return False
    return category(letter) in {"Cc", "Cs", "Zl", "Zp"} or letter in TURNING


def holds_control(text: str) -> bool:
    return any(map(obeyed, text))


def visible(text: str) -> str:
    r"""The text with such letters as escapes: ``\x1b`` is seen, not obeyed."""
    if not holds_control(text):
        return text
    return "".join(ascii(letter)[1:-1] if obeyed(letter) else letter for letter in text)
