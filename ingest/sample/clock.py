"""Times of day and moments as the feeds write them."""

from datetime import date

from ingest.sample.school_year import offset_text


def local_time(seconds: int) -> str:
    """`HH:MM:SS` of a number of seconds after midnight."""
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def moment(day: date, seconds: int) -> str:
    """An instant by the school's clock with its offset from UTC."""
    return f"{day.isoformat()}T{local_time(seconds)}{offset_text(day)}"
