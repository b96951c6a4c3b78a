"""Answers that a plant itself would give, and whole talks with the key."""

from __future__ import annotations

from swardbook.handbook.plants import Plant, Question, chances, questions
from swardbook.observations.naming import Looked, next_question, open_questions

ASKED = 8
"""Questions of a talk."""


def truth(plant: Plant, question: Question) -> str:
    """Give the likeliest true answer; empty where the handbook knows none."""
    row = plant.shown.get(question.key)
    if row is None:
        return ""
    if question.cuts:
        told = chances(plant, question)
        return max(told, key=lambda state: told[state])
    return row.usual[0]


def all_truth(plant: Plant) -> Looked:
    """Answer every question about a plant truly."""
    told = {each.key: truth(plant, each) for each in questions().values() if each.asked}
    return Looked({trait: answer for trait, answer in told.items() if answer})


def talk(plant: Plant, wrong_at: int | None = None, step: int = 1) -> Looked:
    """Answer eight questions as the key asks them, at most one of them wrongly.

    `step` chooses the wrong answer: so many places after the true one in the list of answers.
    """
    looked = Looked()
    while len(looked.answers) < ASKED:
        question, _ = next_question(looked)
        question = question or open_questions(looked)[0]
        answer = truth(plant, question)
        if not answer:
            looked = Looked(looked.answers, (*looked.unknown, question.key))
            continue
        if len(looked.answers) == wrong_at:
            states = list(question.states)
            answer = states[(states.index(answer) + step) % len(states)]
        looked = Looked({**looked.answers, question.key: answer}, looked.unknown)
    return looked
