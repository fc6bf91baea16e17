"""The interface described by OpenAPI 3.1, its schemas made from the very types that read and write it."""

from __future__ import annotations

from typing import Any

import msgspec

from kailyard import __version__
from kailyard.desk.receive import MOST_ENTRIES, Answered, Sent
from kailyard.web.later import MOST_FORMS, Became, Typed

_JSON = "application/json"


def description() -> dict[str, Any]:
    """The whole description."""
    _, parts = msgspec.json.schema_components(
        [Sent, Answered, Typed, Became], ref_template="#/components/schemas/{name}"
    )
    error = {"type": "object", "properties": {"error": {"type": "string"}}, "required": ["error"]}
    refused = {str(status): _content("#/components/schemas/Error", words) for status, words in _ERRORS.items()}
    return {
        "openapi": "3.1.0",
        "info": {"title": "Kailyard", "version": __version__},
        "components": {
            "schemas": {**parts, "Error": error},
            "securitySchemes": {"session": {"type": "apiKey", "in": "cookie", "name": "__Host-kailyard"}},
        },
        "security": [{"session": []}],
        "paths": {
            "/entries": {
                "post": _takes(
                    "entries",
                    "Take entries; each is answered on its own and kept once, however often it is sent",
                    ("Sent", MOST_ENTRIES, "Answered"),
                    refused,
                )
            },
            "/entries/typed": {
                "post": _takes(
                    "forms",
                    "Take forms that waited for signal, as they were typed; each is answered on its own and kept once",
                    ("Typed", MOST_FORMS, "Became"),
                    refused,
                )
            },
            "/api/session": {
                "get": {
                    "operationId": "session",
                    "summary": "Who is in, and the token that the next sending carries",
                    "responses": {
                        "200": {"description": "Who", "content": {_JSON: {"schema": _strings("person", "token")}}},
                        "401": refused["401"],
                    },
                }
            },
        },
    }


_ERRORS = {
    400: "The content type or the number of entries is off",
    401: "A stranger asks",
    403: "The token is missing or not this device's",
    413: "Too long",
    422: "No list of entries",
    503: "The garden cannot be used just now; nothing was changed, send it again",
}


def _takes(name: str, summary: str, what: tuple[str, int, str], refused: dict[str, Any]) -> dict[str, Any]:
    """`what`: (schema of one sent, how many at most, schema of its answer)."""
    sent, most, answered = what
    listed = {"type": "array", "maxItems": most, "items": {"$ref": f"#/components/schemas/{sent}"}}
    answers = _listed("answers", f"#/components/schemas/{answered}")
    token = {"name": "X-Kailyard-Token", "in": "header", "required": True, "schema": {"type": "string"}}
    well = {"description": "What became of each, in the order sent", "content": {_JSON: {"schema": answers}}}
    return {
        "operationId": name,
        "summary": summary,
        "parameters": [token],
        "requestBody": {"required": True, "content": {_JSON: {"schema": listed}}},
        "responses": {"200": well, **refused},
    }


def _content(ref: str, words: str) -> dict[str, Any]:
    return {"description": words, "content": {_JSON: {"schema": {"$ref": ref}}}}


def _listed(name: str, ref: str) -> dict[str, Any]:
    return {
        "type": "object",
        "required": [name],
        "properties": {name: {"type": "array", "items": {"$ref": ref}}},
    }


def _strings(*names: str) -> dict[str, Any]:
    return {"type": "object", "required": list(names), "properties": {name: {"type": "string"} for name in names}}
