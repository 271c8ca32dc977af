"""What can stand between a reader and a page, each with its own kind screen."""


class NothingBuilt(Exception):  # noqa: N818 - a state of the workspace, not a mistake
    """There is no snapshot yet: the school has still to load and build."""


class Refused(Exception):  # noqa: N818 - an answer, not a mistake
    """This reader may not read that. The message is written for the reader."""


class Broken(Exception):  # noqa: N818 - what happened, in words
    """A snapshot is named but cannot be read. The message says what was found."""
