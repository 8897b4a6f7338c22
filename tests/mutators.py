"""Entry errors made by a machine: what is removed, hidden, duplicated, misspelt or moved in any text. No tests here.

Each mutator takes a source of chance and a text and gives another text, or the same where it finds nothing to do.
"""

from collections.abc import Callable
from random import Random

Mutator = Callable[[Random, str], str]

SIGNS = "-?#*_~|/\\.,;:()[]\"'<>=+&%$@!^"
INVISIBLE = "\u200b\u00ad\u202e\u2066\ufeff\x00\x07"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"


def _place(random: Random, text: str) -> int:
    return random.randrange(len(text)) if text else 0


def remove_character(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + text[at + 1 :]


def remove_stretch(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + text[at + random.randint(2, 12) :]


def cut_end(random: Random, text: str) -> str:
    return text[: _place(random, text)]


def hide_behind_sign(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + random.choice(SIGNS) * random.randint(1, 3) + text[at + random.randint(0, 2) :]


def insert_invisible(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + random.choice(INVISIBLE) + text[at:]


def duplicate_character(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[: at + 1] + text[at:]


def duplicate_stretch(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + text[at : at + random.randint(2, 12)] + text[at:]


def misspell(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + random.choice(LETTERS) + text[at + 1 :]


def insert_letter(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + random.choice(LETTERS) + text[at:]


def exchange_neighbours(random: Random, text: str) -> str:
    at = _place(random, text)
    return text[:at] + text[at : at + 2][::-1] + text[at + 2 :]


CHARACTERS: tuple[Mutator, ...] = (
    remove_character, remove_stretch, cut_end, hide_behind_sign, insert_invisible, duplicate_character,
    duplicate_stretch, misspell, insert_letter, exchange_neighbours,
)  # fmt: skip


def change_parts(separator: str) -> tuple[Mutator, ...]:
    """Mutators of the parts of a text between separators: words, lines, cells."""

    def remove(random: Random, text: str) -> str:
        parts = text.split(separator)
        del parts[random.randrange(len(parts))]
        return separator.join(parts)

    def duplicate(random: Random, text: str) -> str:
        parts = text.split(separator)
        at = random.randrange(len(parts))
        return separator.join([*parts[: at + 1], *parts[at:]])

    def move(random: Random, text: str) -> str:
        parts = text.split(separator)
        part = parts.pop(random.randrange(len(parts)))
        parts.insert(random.randint(0, len(parts)), part)
        return separator.join(parts)

    def hide(random: Random, text: str) -> str:
        parts = text.split(separator)
        at = random.randrange(len(parts))
        parts[at] = random.choice(("#" + parts[at], "---", "???", "", f"({parts[at]})", f'"{parts[at]}'))
        return separator.join(parts)

    return remove, duplicate, move, hide


def mutate(random: Random, text: str, mutators: tuple[Mutator, ...]) -> str:
    """One mutation, now and then two."""
    for _ in range(random.choice((1, 1, 1, 2))):
        text = random.choice(mutators)(random, text)
    return text
