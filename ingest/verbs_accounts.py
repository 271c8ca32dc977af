"""The verbs about people: account add, list, password, role, person, close, sign-out."""

import sys
from pathlib import Path

import click

from ingest.errors import UsageProblem
from ingest.options import json_option, opened, workspace_option
from ingest.terminal import Terminal

_ROLE = click.option(
    "--role",
    required=True,
    type=click.Choice(["principal", "support", "steward", "teacher"]),
    help="Whose pages are shown.",
)
_CLASS = click.option("--class", "class_id", help="A teacher's class, by its key.")
_NAME = click.argument("name")


@click.group(short_help="Say who may sign in.")
def account() -> None:
    """Say who may sign in to the dashboard, and whose pages each person sees.

    As soon as there is an account, "roundelay open" asks for a name and a password.

    \b
    Examples:
      roundelay account add anna.berg --role principal
      roundelay account add m.okoro --role teacher --class room-3
      roundelay account list
      roundelay account person m.okoro st-102
      roundelay account password anna.berg
      roundelay account role m.okoro --role teacher --class room-4
      roundelay account close m.okoro
      roundelay account sign-out --everyone
    """


@account.command(short_help="Let somebody sign in.")
@_NAME
@_ROLE
@_CLASS
@click.option("--shown", default="", help="The name on the page. Left out: the name itself.")
@click.option("--no-password", is_flag=True, help="Only for those who come through the proxy.")
@click.option("--person", "person_id", help="Who this is in the people file: to write down looks.")
@workspace_option
@click.pass_obj
def add(
    terminal: Terminal,
    name: str,
    role: str,
    class_id: str | None,
    shown: str,
    no_password: bool,
    person_id: str | None,
    folder: Path | None,
) -> None:
    """Let somebody sign in. The password is asked for twice, or read from a pipe.

    \b
    Examples:
      roundelay account add anna.berg --role principal --shown "Anna Berg"
      roundelay account add m.okoro --role teacher --class room-3 --person st-102
    """
    from ingest import accounts, known_people, passwords, pointer, serve, snapshot

    workspace, settings = opened(folder)
    if role == "teacher" and class_id and pointer.read(workspace) is not None:
        serve.check_reader(f"teacher:{class_id}", snapshot.current(workspace))
    if person_id:
        known_people.check_adult(workspace, person_id)
    stored = None
    if not no_password:
        own = (accounts.plain_name(name), *shown.split(), settings.school_name, "roundelay")
        stored = passwords.hashed(_password(), own)
    kept = accounts.add(
        workspace, name, shown, role, class_id, stored, terminal.now(), person_id or None
    )
    terminal.say(f"{kept} may sign in and read as {role}{f' of {class_id}' if class_id else ''}.")


@account.command("list", short_help="Show who may sign in.")
@workspace_option
@json_option
@click.pass_obj
def list_(terminal: Terminal, folder: Path | None, is_json: bool) -> None:
    """Show every account: its name, whose pages it shows, whether it is open, and who it is.

    \b
    Examples:
      roundelay account list
      roundelay account list --json
    """
    from ingest import accounts

    found = accounts.listed(opened(folder)[0])
    if is_json:
        terminal.emit([one.as_dict() for one in found])
        return
    for one in found:
        reads = f"{one.role}:{one.class_id}" if one.class_id else one.role
        state = "closed" if one.is_closed else "open"
        who = f"  {one.person_id}" if one.person_id else ""
        terminal.say(f"{one.account_name}  {reads}  {state}  {one.shown_name}{who}")
    if not found:
        terminal.say("Nobody has an account yet: roundelay account add <name> --role <role>")


@account.command(short_help="Give somebody another password.")
@_NAME
@workspace_option
@click.pass_obj
def password(terminal: Terminal, name: str, folder: Path | None) -> None:
    """Give somebody another password. Wherever they are signed in, they sign in again.

    \b
    Examples:
      roundelay account password anna.berg
    """
    from ingest import accounts, passwords

    workspace, settings = opened(folder)
    own = (accounts.plain_name(name), settings.school_name, "roundelay")
    stored = passwords.hashed(_password(), own)
    kept = accounts.set_password(workspace, name, stored, terminal.now())
    terminal.say(f"{kept} has a new password; earlier visits have ended.")


@account.command(short_help="Give somebody another role or class.")
@_NAME
@_ROLE
@_CLASS
@workspace_option
@click.pass_obj
def role(
    terminal: Terminal, name: str, role: str, class_id: str | None, folder: Path | None
) -> None:
    """Give somebody another role or class. Wherever they are signed in, they sign in again.

    \b
    Examples:
      roundelay account role m.okoro --role teacher --class room-4
    """
    from ingest import accounts

    kept = accounts.set_role(opened(folder)[0], name, role, class_id, terminal.now())
    terminal.say(f"{kept} now reads as {role}; earlier visits have ended.")


@account.command(short_help="Say who somebody is in the people file.")
@_NAME
@click.argument("person_id", required=False)
@workspace_option
@click.pass_obj
def person(terminal: Terminal, name: str, person_id: str | None, folder: Path | None) -> None:
    """Say who somebody is in the people file, by the key there; without a key, that nobody knows.

    A look round a class needs to know who looked. Wherever they are signed in, they sign in again.

    \b
    Examples:
      roundelay account person m.okoro st-102
      roundelay account person m.okoro
    """
    from ingest import accounts, known_people

    workspace = opened(folder)[0]
    if person_id:
        known_people.check_adult(workspace, person_id)
    kept = accounts.set_person(workspace, name, person_id or None, terminal.now())
    who = person_id or "nobody in particular"
    terminal.say(f"{kept} is {who} in the people file; earlier visits have ended.")


@account.command(short_help="Let somebody sign in no more.")
@_NAME
@workspace_option
@click.pass_obj
def close(terminal: Terminal, name: str, folder: Path | None) -> None:
    """Let somebody sign in no more. Visits that are under way end with the next click.

    \b
    Examples:
      roundelay account close m.okoro
    """
    from ingest import accounts

    kept = accounts.close(opened(folder)[0], name, terminal.now())
    terminal.say(f"{kept} is closed; visits under way end with the next click.")


@account.command("sign-out", short_help="End visits that are under way.")
@click.argument("name", required=False)
@click.option("--everyone", is_flag=True, help="Of everybody.")
@workspace_option
@click.pass_obj
def sign_out(terminal: Terminal, name: str | None, everyone: bool, folder: Path | None) -> None:
    """End the visits of one person, or of everybody: for a lost tablet.

    \b
    Examples:
      roundelay account sign-out m.okoro
      roundelay account sign-out --everyone
    """
    from ingest import accounts

    if (name is None) != everyone:
        raise UsageProblem(
            "It is not clear whose visits to end.",
            rule="one name, or --everyone",
            remedy="for example: roundelay account sign-out --everyone",
        )
    accounts.end_visits(opened(folder)[0], name, terminal.now())
    terminal.say(f"Visits of {name or 'everybody'} end with the next click.")


def _password() -> str:
    """Asked for twice without showing it; from a pipe, its first line."""
    if sys.stdin.isatty():
        return str(click.prompt("Password", hide_input=True, confirmation_prompt="Once more"))
    return sys.stdin.readline().rstrip("\r\n")


VERBS = (account,)
