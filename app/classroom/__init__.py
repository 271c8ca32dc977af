"""In class: a page for phones and tablets that works without a net, and what it talks to.

It gives out names only through the scope of the visit, and writes only through `app.capture`.
"""

from app.classroom.routes import routes

__all__ = ["routes"]
