"""The server: the dashboard behind its wall, beside the door's own pages.

Started with `streamlit run asgi.py` by `roundelay open`.
"""

from __future__ import annotations

import streamlit as st
from starlette.middleware import Middleware

from app import access, classroom, door, hand_out
from app.entrance import own_door, rules

app = st.App(
    "main.py",
    routes=[
        *door.routes(own_door(), rules().base),
        *hand_out.routes(rules().base, has_door=own_door() is not None),
        *classroom.routes(own_door(), rules().base, access.workspace_setting()),
    ],
    middleware=[Middleware(door.Wall, rules=rules(), door=own_door())],
)
