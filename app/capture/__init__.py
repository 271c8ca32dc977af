"""Forms made from contracts: one file a record in the inbox, durably, and what still waits there.

A record that was written down here goes through the same door as any row of any file; nothing here
writes a store or a snapshot. Who may write what is told by the scope that the door gave out.
"""

from app.capture.checks import Fault, faults_of
from app.capture.forms import Blank, Form, form_of
from app.capture.keep import AlreadyKept, CannotKeep, NotRight, keep, new_key
from app.capture.land import LAST_REVISION, Sent, land
from app.capture.pending import Waiting, waiting
from app.capture.writers import may_write

__all__ = [
    "LAST_REVISION",
    "AlreadyKept",
    "Blank",
    "CannotKeep",
    "Fault",
    "Form",
    "NotRight",
    "Sent",
    "Waiting",
    "faults_of",
    "form_of",
    "keep",
    "land",
    "may_write",
    "new_key",
    "waiting",
]
