"""JSON that was sent, read strictly: what two readers could understand differently is refused."""

import json
from typing import Any


def read_json(data: bytes) -> Any:
    """The value in these bytes (RFC 8259).

    Raises ValueError, which says what the body is or does, for text that is not UTF-8, a name twice in one
    object, NaN or Infinity, a number too large for a double, half a surrogate pair, or nesting too deep.
    """
    try:
        text = data.decode("utf-8-sig")
        read = json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant, parse_float=_finite)
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


LONGEST_SHOWN = 40


def _finite(written: str) -> float:
    number = float(written)
    if number in (float("inf"), float("-inf")):
        msg = f"holds the number {written[:LONGEST_SHOWN]}, which is too large"
        raise _Unclear(msg)
    return number


def _no_constant(word: str) -> Any:
    msg = f"holds {word}, which is no JSON number"
    raise _Unclear(msg)
