"""What the fixtures give: a way to ask the warehouse, and one row of the long table."""

from collections.abc import Callable
from typing import Any

Ask = Callable[..., list[tuple[Any, ...]]]
Figure = Callable[..., dict[str, Any]]
