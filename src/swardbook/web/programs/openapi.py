"""The ways in for programs, as an OpenAPI 3.1 document made from what they are made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from swardbook import __version__
from swardbook.web.asking.questions import Asked, Question, Sort, questions
from swardbook.web.forms import FORMS
from swardbook.web.page import Role

Plain = dict[str, Any]
_JSON = "application/json"
_REFUSALS = {
    "400": "What was sent is no JSON, or no object.",
    "401": "No key, or one that holds no more.",
    "403": "The key may not do this.",
    "404": "There is nothing of that name.",
    "409": "Refused; the sentence says why.",
    "413": "Too much at once.",
    "415": "Something else was sent than JSON.",
    "422": "What was sent cannot be read; the sentence says what is allowed.",
}


def document(base: str) -> Plain:
    """Make the document.

    Parameters
    ----------
    base : str
        Address of the ground, with its last stroke.
    """
    paths: Plain = {
        "api/entries/": {"post": _entry()},
        "api/entries/{entry}/take-back/": {"post": _take_back()},
        "api/files/": {"post": _file()},
        "api/left/{zone}/": {"get": _left()},
        "api/kept/": {"get": _kept()},
        "api/diary/": {"get": _diary()},
    }
    for question in questions().values():
        if not question.takes_a_file:
            paths[f"api/ask/{question.path}/"] = _question(question)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "swardbook", "version": __version__,
            "description": "One ground of a book. Every question of the command line is asked here"
            " too, and answered with the object that the command prints as JSON.",
        },
        "servers": [{"url": base.rstrip("/") or "/"}],
        "security": [{"key": []}],
        "paths": {f"/{path}": told for path, told in paths.items()},
        "components": {
            "securitySchemes": {"key": {"type": "http", "scheme": "bearer"}},
            "schemas": {
                "Refusal": _object({"refusal": {"type": "string"}}, ["refusal"]),
                "Entry": _entry_schema(),
                "Taken": _object(
                    {
                        "id": {"type": "string", "format": "uuid"}, "kind": {"type": "string"},
                        "was_there": {"type": "boolean"}, "needs_a_look": {"type": "string"},
                    },
                    ["id", "kind", "was_there", "needs_a_look"],
                ),
            },
        },
    }  # fmt: skip


def _question(question: Question) -> Plain:
    about = {
        "summary": question.title,
        "description": question.says,
        "tags": [question.shelf.value],
    }
    name = "_".join(question.words).replace("-", "_")
    told: Plain = {}
    if not question.writes:
        told["get"] = {
            **about, "operationId": f"ask_{name}",
            "parameters": [_parameter(each) for each in question.fields],
            "responses": _responses({"200": ("The answer.", {"type": "object"})}),
        }  # fmt: skip
    if question.writes or question.keeps or question.sometimes is not None:
        properties = {each.name: _schema(each) for each in question.fields}
        needed = [each.name for each in question.fields if each.is_needed]
        body = {**_object(properties, needed), "additionalProperties": False}
        told["post"] = {
            **about, "operationId": f"keep_{name}",
            "parameters": [{
                "name": "Idempotency-Key", "in": "header", "required": False,
                "description": "The same key with the same body is answered as before and writes"
                " nothing; with another body it is refused.",
                "schema": {"type": "string", "maxLength": 100, "pattern": "^[!-~]*$"},
            }],
            "requestBody": {"required": True, "content": {_JSON: {"schema": body}}},
            "responses": _responses({"200": ("The answer; it is kept.", {"type": "object"})}),
        }  # fmt: skip
    return told


def _parameter(asked: Asked) -> Plain:
    return {
        "name": asked.name, "in": "query", "required": asked.is_needed,
        "description": asked.hint or asked.label, "schema": _schema(asked),
    }  # fmt: skip


def _schema(asked: Asked) -> Plain:
    """Describe one value; several stand in one text, each on a line of its own."""
    if asked.sort is Sort.FLAG:
        return {"type": "string", "enum": ["", "yes"]}
    if asked.sort is Sort.CHOICE:
        return {"type": "string", "enum": ["", *(value for value, _ in asked.choices)]}
    told: Plain = {"type": "string", "maxLength": 20_000}
    if asked.default:
        told["default"] = asked.default
    return told


def _entry() -> Plain:
    return {
        "summary": "Keep one entry of the diary", "operationId": "keep_entry",
        "description": "Kept under the id that is sent: a second time changes nothing. What cannot"
        " be read is kept as a note that needs a look, and never refused.",
        "requestBody": {
            "required": True,
            "content": {_JSON: {"schema": {"$ref": "#/components/schemas/Entry"}}},
        },
        "responses": _responses({
            "201": ("It is kept.", {"$ref": "#/components/schemas/Taken"}),
            "200": ("It was there already.", {"$ref": "#/components/schemas/Taken"}),
        }),
    }  # fmt: skip


def _take_back() -> Plain:
    return {
        "summary": "Take an entry back", "operationId": "take_back_entry",
        "description": "It stays in the diary as taken back.",
        "parameters": [{
            "name": "entry", "in": "path", "required": True,
            "schema": {"type": "string", "format": "uuid"},
        }],
        "responses": _responses({"200": ("It is taken back.", {"type": "object"})}),
    }  # fmt: skip


def _file() -> Plain:
    about = _object(
        {
            "id": {"type": "string", "format": "uuid"},
            "of": {"type": "string"},
            "private": {"type": "boolean"},
            **_texts("peg", "plot"),
        },
        ["id"],
    )
    sent = _object(
        {"about": {"type": "string", "contentMediaType": _JSON, "contentSchema": about},
         "file": {"type": "string", "contentMediaType": "application/octet-stream"}},
        ["about", "file"],
    )  # fmt: skip
    return {
        "summary": "Keep a picture or a voice note", "operationId": "keep_file",
        "description": "Kept under the id that is sent: a second time changes nothing.",
        "requestBody": {"required": True, "content": {"multipart/form-data": {"schema": sent}}},
        "responses": _responses({
            "201": ("It is kept.", _object({"id": {"type": "string"}}, ["id"])),
            "202": ("It is left for an owner to decide about.", _object({}, [])),
        }),
    }  # fmt: skip


def _left() -> Plain:
    return {
        "summary": "How many plants are left after two passes of pulling",
        "operationId": "left_after_pulling",
        "parameters": [
            {"name": "zone", "in": "path", "required": True, "schema": {"type": "string"}},
            {"name": "species", "in": "query", "schema": {"type": "string", "maxLength": 200}},
        ],
        "responses": _responses({
            "200": ("What is left, in words.", _object({"words": {"type": "array"}}, [])),
        }),
    }  # fmt: skip


def _kept() -> Plain:
    page = _object({"at": {"type": "string"}, "title": {"type": "string"}}, ["at", "title"])
    return {
        "summary": "The pages that a phone keeps for days without signal",
        "operationId": "kept_pages",
        "responses": _responses({
            "200": ("The pages.", _object({"pages": {"type": "array", "items": page}}, ["pages"])),
        }),
    }  # fmt: skip


def _diary() -> Plain:
    return {
        "summary": "The diary", "operationId": "diary",
        "description": "The entries that stand, in the order in which things happened.",
        "parameters": [
            {"name": "zone", "in": "query", "schema": {"type": "string", "maxLength": 200}},
            {"name": "kind", "in": "query", "schema": {"type": "string", "maxLength": 200}},
            {"name": "from", "in": "query", "schema": {"type": "string", "format": "date"}},
        ],
        "responses": _responses({
            "200": ("The entries.", _object({"entries": {"type": "array"}}, ["entries"])),
        }),
    }  # fmt: skip


def _entry_schema() -> Plain:
    return _object(
        {
            "id": {"type": "string", "format": "uuid"},
            "kind": {"type": "string", "description": ", ".join(FORMS)},
            "fields": {"type": "object", "additionalProperties": {"type": "string"}},
            "said_on": {"type": "string", "format": "date"},
            "private": {"type": "boolean"},
            **_texts("hours", "at"),
        },
        ["id", "kind"],
    )


def _texts(*more: str) -> Plain:
    names = ("zone", "when", "who", "note", *more)
    return {name: {"type": "string", "maxLength": 4_000} for name in names}


def _responses(good: Mapping[str, tuple[str, Plain]]) -> Plain:
    told = {
        status: {"description": words, "content": {_JSON: {"schema": schema}}}
        for status, (words, schema) in good.items()
    }
    refusal = {"$ref": "#/components/schemas/Refusal"}
    return told | {
        status: {"description": words, "content": {_JSON: {"schema": refusal}}}
        for status, words in _REFUSALS.items()
    }


def _object(properties: Plain, needed: list[str]) -> Plain:
    return {"type": "object", "properties": properties, "required": needed}


def role_of(question: Question, writes: bool) -> Role:
    """Give the least role that asking takes, or keeping what is answered."""
    return (question.least_to_write or question.role) if writes else question.role
