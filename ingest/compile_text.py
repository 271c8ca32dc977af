"""One text field of a contract: keys, codes, lists and free text."""

from ingest.compile_faults import Fault, matches
from ingest.compile_sql import text, texts
from ingest.contracts import Field

_SCIENTIFIC = r"[0-9]([.,][0-9]+)?[eE]\+[0-9]+"
_SPACED = r"(?s)([\s\p{Z}].*|.*[\s\p{Z}])"


def compile_text(field: Field, value: str) -> tuple[str, str, list[Fault]]:
    """How a text cell is typed, the cheap test, and its faults (see `compile_cells`)."""
    codes = field.item_enum or field.enum
    faults = _key_faults(field, value) if field.is_key else []
    if not faults:
        faults = [Fault("formula_in_cell", f"starts_with({value}, '=')")]
    if codes:
        faults += _code_faults(field, value, codes)
    faults += _text_faults(field, value)
    return _typed_text(field, value), _plain_text(field, value, codes), faults


def _typed_text(field: Field, value: str) -> str:
    def alias(item: str) -> str:
        if not field.alias:
            return item
        cases = " ".join(f"when {text(a)} then {text(b)}" for a, b in field.alias.items())
        return f"case {item} {cases} else {item} end"

    if not field.is_list:
        return alias(value)
    items = f"list_transform(string_split({value}, ';'), lambda e: {alias('trim(e)')})"
    return f"array_to_string({items}, ';')"


def _plain_text(field: Field, value: str, codes: tuple[str, ...]) -> str:
    if codes:
        words = texts((*codes, *field.alias))
        return f"{value} in ({words})"
    longest = min(field.max_length or 1 << 20, 1 << 20)
    parts = [f"strlen({value}) <= {longest}"]
    if field.min_length and field.min_length > 1:
        parts.append(f"length({value}) >= {field.min_length}")
    if field.is_key:
        # The first character is no space, no '=' and no other mark, the last one no space either.
        parts.append(f"{value} >= '0' and ({value} < ':' or {value} between 'A' and 'zz')")
        parts.append(f"right({value}, 1) between '-' and 'z' and not contains({value}, '+')")
    else:
        # At or above '!' there is no space in front; formulas begin with '='.
        parts.append(f"{value} >= '!' and not starts_with({value}, '=')")
    if field.pattern:
        parts.append(matches(value, field.pattern))
    return " and ".join(parts)


def _key_faults(field: Field, value: str) -> list[Fault]:
    number = matches(value, _SCIENTIFIC)
    return [
        Fault("formula_in_cell", f"starts_with({value}, '=')"),
        Fault("scientific_notation", number),
        Fault("space_or_case_in_key", f"{matches(value, _SPACED)} and trim({value}) <> ''"),
    ]


def _code_faults(field: Field, value: str, codes: tuple[str, ...]) -> list[Fault]:
    """A code must be on the list; one that lacks only a zero in front gets its own rule."""
    allowed = texts((*codes, *field.alias))
    items = f"list_transform(string_split({value}, ';'), lambda e: trim(e))"
    if not field.is_list:
        items = f"[{value}]"
    wrong = f"list_filter({items}, lambda e: e not in ({allowed}))"
    zero = [code[1:] for code in codes if code.startswith("0") and len(code) > 1]
    bad = f"{value} is not null and not starts_with({value}, '=') and len({wrong}) > 0"
    if not zero:
        return [Fault("unknown_code", bad, allowed=codes)]
    lost = f"len(list_filter({wrong}, lambda e: e not in ({texts(zero)}))) = 0"
    return [
        Fault("leading_zero_lost", f"{bad} and {lost}", allowed=codes),
        Fault("unknown_code", f"{bad} and not {lost}", allowed=codes),
    ]


def _text_faults(field: Field, value: str) -> list[Fault]:
    faults = []
    if field.max_length is not None:
        limit = str(field.max_length)
        faults.append(Fault("too_long", f"length({value}) > {limit}", limit))
    if field.min_length is not None and field.min_length > 1:
        limit = str(field.min_length)
        faults.append(Fault("too_short", f"length({value}) < {limit}", limit))
    if field.pattern:
        faults.append(Fault("bad_pattern", f"not {matches(value, field.pattern)}"))
    return faults
