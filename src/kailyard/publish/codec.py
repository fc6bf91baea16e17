"""Documents as JSON: with their schema's name, stable to the byte, and described by a JSON Schema."""

from __future__ import annotations

import json
from typing import Any

import msgspec

from kailyard import discover
from kailyard.errors import DataError

_REGISTER = "kailyard.documents"


def document_types() -> dict[str, type[Any]]:
    """Every kind of document by its schema's name, such as 'kailyard.sheet/1'."""
    types = [module.DOCUMENT for module in discover.modules(_REGISTER)]
    return {kind.schema: kind for kind in types}


def to_json(document: Any) -> bytes:
    """`document` as UTF-8 JSON on one line: its schema's name first, then its fields in their order.

    Equal documents give equal bytes: numbers are written as the field's type has them (20 minutes as 20.0).

    Raises
    ------
    DataError
        If a field holds what its type does not allow, or a number that is none (NaN, infinite).
    """
    kind = type(document)
    try:
        exact = msgspec.convert(msgspec.to_builtins(document), kind)
        fields = {"schema": kind.schema, **msgspec.to_builtins(exact)}
        return (json.dumps(fields, allow_nan=False, ensure_ascii=False, separators=(",", ":")) + "\n").encode()
    except (msgspec.ValidationError, ValueError, TypeError) as err:
        name = getattr(kind, "schema", kind.__name__)
        raise DataError(f"{name}: cannot be written as JSON: {err}. Mend the part that made this document.") from err


def from_json(data: bytes) -> Any:
    """The document that `to_json` wrote.

    Raises
    ------
    DataError
        If it is no JSON, names no schema known here, or breaks that schema.
    """
    try:
        fields = msgspec.json.decode(data)
    except (msgspec.DecodeError, UnicodeDecodeError) as err:
        raise DataError(f"The document is not JSON: {err}. Hand over a file that kailyard wrote.") from err
    name = fields.get("schema") if isinstance(fields, dict) else None
    types = document_types()
    if not isinstance(name, str) or name not in types:
        known = ", ".join(sorted(types))
        raise DataError(f"The document's schema {name!r} is not known; this version reads {known}.")
    try:
        return msgspec.convert(fields, types[name])
    except msgspec.ValidationError as err:
        raise DataError(f"The document breaks its schema {name}: {err}.") from err


def json_schema(document_type: type[Any]) -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of one kind of document, made from its dataclass."""
    made = msgspec.json.schema(document_type)
    whole = made["$defs"][document_type.__name__]
    whole["properties"] = {"schema": {"const": document_type.schema}, **whole["properties"]}
    whole["required"] = ["schema", *whole.get("required", [])]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": f"urn:{document_type.schema}", **made}
