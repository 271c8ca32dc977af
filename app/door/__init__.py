"""Who may come in: accounts, visits, the sign-in pages, and the wall around every address.

This room knows no other; only the way its file is kept is shared (`app.sqlite_file`). It says who
is asking; `app.access` decides what that reader may read.
"""

from app.door.identity import Door, Identity, open_door
from app.door.routes import routes
from app.door.rules import Rules, read
from app.door.wall import Wall

__all__ = ["Door", "Identity", "Rules", "Wall", "open_door", "read", "routes"]
