"""JSON that was sent, read strictly: what two readers could understand differently is refused."""

import json
from typing import Any


def read_json(data: bytes) -> Any:
    """The value in these bytes (RFC 8259).

    Raises ValueError, which says what the body is or does, for text that is not UTF-8, a name twice in one
    object, NaN or Infinity, half a surrogate pair, or nesting that is too deep.
    """
    try:
        read = json.loads(data.decode("utf-8-sig"), object_pairs_hook=_once, parse_constant=_no_constant)
        json.dumps(read, ensure_ascii=False).encode()
    except UnicodeDecodeError as fault:
        detail = f"is not UTF-8 text (byte {fault.start}); save it as UTF-8"
    except UnicodeEncodeError:
        detail = "holds half a character (a lone surrogate escape); write the character itself"
    except json.JSONDecodeError as fault:
        detail = f"is not JSON: {fault.msg} in line {fault.lineno}, column {fault.colno}"
    except RecursionError:
        detail = "is nested too deep"
    except _Unclear as fault:
        detail = str(fault)
    except ValueError:
        detail = "holds a number of thousands of digits; write fewer"
    else:
        return read
    raise ValueError(detail)


class _Unclear(ValueError):
    """Something that JSON has no single meaning for."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            msg = f"says '{ascii(name[:40])[1:-1]}' twice in one object; say it once"
            raise _Unclear(msg)
        found[name] = value
    return found


def _no_constant(word: str) -> Any:
    msg = f"holds {word}, which is no JSON number"
    raise _Unclear(msg)
