"""How old a reader has to be, by the Flesch-Kincaid grade.

J. P. Kincaid, R. P. Fishburne, R. L. Rogers and B. S. Chissom (1975), Derivation of new readability
formulas for Navy enlisted personnel, Research Branch Report 8-75: 0.39 words a sentence + 11.8
syllables a word - 15.59 is the school grade in the United States, whose first grade is entered at
six; a grade and five is about the age. Syllables are counted by groups of vowels, as programs do.
"""

from __future__ import annotations

import re

_VOWELS = re.compile(r"[aeiouyà-ÿ]+")
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")
_AGE_OF_GRADE = 5


def syllables(word: str) -> int:
    """Count the syllables of a word; a number counts as the digits that are said, at least one."""
    if re.fullmatch(r"[\d.,]+", word):
        return max(len(re.sub(r"\D", "", word)), 1)
    letters = re.sub(r"[^a-zà-ÿ]", "", word.casefold())
    groups = len(_VOWELS.findall(letters))
    is_silent = letters.endswith("e") and not letters.endswith(("le", "ee", "ie", "ye"))
    if is_silent and groups > 1:
        groups -= 1
    if re.search(r"[^aeioutd]ed$", letters) and groups > 1:
        groups -= 1
    return max(groups, 1)


def grade(text: str) -> float:
    """Give the Flesch-Kincaid grade of running text."""
    sentences = [each for each in _SENTENCE_END.split(text.strip()) if re.search(r"\w", each)]
    words = re.findall(r"[\w’'.,-]*\w", text)
    spoken = sum(syllables(part) for word in words for part in word.split("-") if part)
    return 0.39 * len(words) / len(sentences) + 11.8 * spoken / len(words) - 15.59


def age(text: str) -> float:
    """Give the age at which the grade is reached."""
    return grade(text) + _AGE_OF_GRADE
