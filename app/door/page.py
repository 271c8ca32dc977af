"""The door's own pages: plain HTML in our look. They need no script and allow none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from urllib.parse import quote, urlsplit

from starlette.responses import HTMLResponse, Response

from app.door.accounts import Account
from app.door.rules import Rules

FORM_SECONDS = 3600
_ROLES = {
    "principal": "Principal",
    "support": "Support team",
    "steward": "Data steward",
    "teacher": "Teacher",
}
_FOOT = (
    "Roundelay describes teaching and classrooms, never a child. If you cannot sign in, ask "
    "whoever looks after Roundelay in your school."
)


@dataclass(frozen=True)
class Trouble:
    """What was not right with a form: the field (or none) and what to do, in words; or news."""

    text: str
    field: str = ""
    is_news: bool = False


def document(rules: Rules, title: str, inner: str, status: int = 200) -> HTMLResponse:
    """A whole page; no other site may frame it, feed it or be sent its form."""
    school = f'<p class="school">{escape(rules.school_name)}</p>' if rules.school_name else ""
    text = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{escape(title)} · Roundelay</title>"
        f'<link rel="icon" href="{rules.base}/door/mark.png">'
        f'<link rel="stylesheet" href="{rules.base}/door/door.css"></head>'
        '<body><header><p class="name"><span class="mark" aria-hidden="true"><i></i><i></i></span>'
        f"Roundelay</p>{school}</header><main><h1>{escape(title)}</h1>{inner}</main>"
        f"<footer><p>{_FOOT}</p></footer></body></html>"
    )
    policy = (
        "default-src 'none'; style-src 'self'; font-src 'self'; img-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    )
    return HTMLResponse(text, status, {"Content-Security-Policy": policy})


def sign_in(
    rules: Rules, form: str, wanted: str, typed: str = "", trouble: Trouble | None = None
) -> str:
    """The form for a name and a password."""
    return (
        f"{_alert(trouble)}"
        f'<form method="post" action="{rules.base}/signin" novalidate>{_hidden(form, wanted)}'
        f"{_field('name', 'Name', 'text', 'username', trouble, typed)}"
        f"{_field('password', 'Password', 'password', 'current-password', trouble)}"
        '<button type="submit">Sign in</button></form>'
    )


def of_demo(
    rules: Rules,
    form: str,
    wanted: str,
    accounts: Sequence[Account],
    trouble: Trouble | None = None,
) -> str:
    """One button for each invented person."""
    buttons = "".join(
        f'<li><form method="post" action="{rules.base}/signin/demo">{_hidden(form, wanted)}'
        f'<input type="hidden" name="name" value="{escape(one.account_name)}">'
        f'<button type="submit">{escape(_ROLES[one.role])}'
        f"<small>{escape(one.shown_name)}</small></button></form></li>"
        for one in accounts
    )
    return (
        f"{_alert(trouble)}"
        '<p class="note">This is an <b>invented school only</b>: nobody in it is real, and no '
        "password is asked. Look around as</p>"
        f'<ul class="people">{buttons}</ul>'
    )


def pair(rules: Rules, form: str, trouble: Trouble | None = None) -> str:
    """The form for the code of a class tablet."""
    marks = ' aria-invalid="true" aria-describedby="trouble"' if trouble else ""
    return (
        f"{_alert(trouble)}<p>A teacher makes the code on her own device: In class, This tablet. "
        "Until this evening this tablet can then be used for her class, and for nothing else.</p>"
        f'<form method="post" action="{rules.base}/classroom/pair" novalidate>'
        f'<input type="hidden" name="form" value="{form}">'
        '<label for="code">Code</label><input id="code" name="code" type="text" '
        'autocomplete="one-time-code" autocapitalize="characters" spellcheck="false" '
        f'maxlength="12" required autofocus{marks}>'
        '<button type="submit">Pair this tablet</button></form>'
        f'<p><a href="{rules.base}/signin?next=%2Fclassroom">Sign in instead</a></p>'
    )


def set_cookie(rules: Rules, answer: Response, name: str, value: str, seconds: int | None) -> None:
    """A cookie that no script reads; without `seconds` it goes with the browser."""
    answer.set_cookie(
        name, value, seconds, path="/", secure=rules.is_secure, httponly=True, samesite="lax"
    )


def forget_cookie(rules: Rules, answer: Response, name: str) -> None:
    """Take a cookie of ours back."""
    answer.delete_cookie(name, path="/", secure=rules.is_secure, httponly=True, samesite="lax")


def by_provider(rules: Rules, wanted: str, trouble: Trouble | None = None) -> str:
    """One link to the school's own sign-in."""
    where = urlsplit(rules.provider.issuer).netloc if rules.provider else ""
    return (
        f"{_alert(trouble)}<p>You sign in where you do for the school’s other services"
        f" ({escape(where)}), and come back here.</p>"
        f'<p><a class="button" href="{rules.base}/signin/provider?next={quote(wanted, safe="")}">'
        "Go and sign in</a></p>"
    )


def message(text: str) -> str:
    """A page that only says something."""
    return f"<p>{escape(text)}</p>"


def again(rules: Rules) -> str:
    """A way back to the sign-in."""
    return f'<p><a class="button" href="{rules.base}/signin">Back to the sign-in</a></p>'


def sign_out(rules: Rules, form: str, who: str) -> str:
    """The two ways of leaving."""
    return (
        f"<p>You are signed in as <b>{escape(who)}</b>.</p>"
        f'<form method="post" action="{rules.base}/signout">'
        f'<input type="hidden" name="form" value="{form}">'
        '<button type="submit" name="where" value="here">Sign out</button>'
        '<button type="submit" name="where" value="everywhere" class="second">'
        "Sign out on every device</button></form>"
        f'<p><a href="{rules.base}/">Stay signed in and go back</a></p>'
    )


def _hidden(form: str, wanted: str) -> str:
    return (
        f'<input type="hidden" name="form" value="{form}">'
        f'<input type="hidden" name="next" value="{escape(wanted)}">'
    )


def _alert(trouble: Trouble | None) -> str:
    if trouble is None:
        return ""
    if trouble.is_news:
        return f'<p class="news" role="status">{escape(trouble.text)}</p>'
    return f'<p class="trouble" id="trouble" role="alert">{escape(trouble.text)}</p>'


def _field(
    name: str, label: str, kind: str, fill: str, trouble: Trouble | None, typed: str = ""
) -> str:
    """A labelled field; when the trouble is about it, it says so and takes the keyboard."""
    is_wrong = trouble is not None and trouble.field in (name, "both")
    marks = ' aria-invalid="true" aria-describedby="trouble"' if is_wrong else ""
    first = trouble.field if trouble and trouble.field == "password" else "name"
    focus = " autofocus" if name == first else ""
    shown = f' value="{escape(typed)}"' if typed else ""
    return (
        f'<label for="{name}">{label}</label><input id="{name}" name="{name}" type="{kind}" '
        f'autocomplete="{fill}" autocapitalize="none" spellcheck="false" required'
        f"{marks}{focus}{shown}>"
    )
