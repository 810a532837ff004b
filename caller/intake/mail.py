"""Mails (.eml), by the standard library: a sheet that is attached, else what the mail says."""

from __future__ import annotations

from collections.abc import Callable
from email import message_from_bytes, policy
from email.message import EmailMessage

from caller.intake.encoding import decode
from caller.intake.found import SheetText, UnreadableFile, joined
from caller.intake.kinds import FileKind, kind_of
from caller.intake.web import read_web

_SHEETS = frozenset((FileKind.PDF, FileKind.WORD, FileKind.OPENDOCUMENT, FileKind.RTF))
_MOST_PARTS = 200
_MOST_BOUNDARIES = 4_000  # the standard library's time grows with their square


def read_mail(raw: bytes, attached: Callable[[bytes, FileKind], SheetText]) -> SheetText:
    """attached: reads a document of a kind."""
    if raw.count(b"\n--") > _MOST_BOUNDARIES:
        raise UnreadableFile("this mail has far too many parts; save the sheet that it holds as a file of its own")
    mail = message_from_bytes(raw, policy=policy.default)
    try:
        return _attached(mail, attached) or _said(mail)
    except (LookupError, ValueError, AttributeError, TypeError, RecursionError):
        raise UnreadableFile("this mail is damaged; save the sheet that it holds as a file of its own") from None


def _attached(mail: EmailMessage, attached: Callable[[bytes, FileKind], SheetText]) -> SheetText | None:
    for number, one in enumerate(mail.walk()):
        if number > _MOST_PARTS:
            return None
        if one.get_content_maintype() in ("multipart", "text") and not one.get_filename():
            continue
        payload = one.get_payload(decode=True)
        if isinstance(payload, bytes) and (kind := kind_of(payload)) in _SHEETS:
            found = attached(payload, kind)
            name = one.get_filename() or "the attachment"
            return SheetText(
                found.text,
                f"{found.kind} in a mail",
                found.left_out,
                (f"read from {name}, which is attached to this mail", *found.told),
            )
    return None


def _said(mail: EmailMessage) -> SheetText:
    body = mail.get_body(preferencelist=("plain", "html"))
    payload = body.get_payload(decode=True) if body is not None else None
    if body is None or not isinstance(payload, bytes) or not payload.strip():
        raise UnreadableFile(
            "this mail holds no text and no sheet that can be read; save its attachment as a file of its own"
        )
    left_out = tuple(f"{name}: {mail[name]}" for name in ("From", "Date", "Subject") if mail[name])
    if body.get_content_subtype() == "html":
        page = read_web(payload)
        return SheetText(page.text, FileKind.MAIL.value, (*left_out, *page.left_out), page.told)
    code = body.get_content_charset()
    try:
        text, told = (payload.decode(code), "") if code and code != "us-ascii" else decode(payload)
    except (LookupError, UnicodeDecodeError):
        text, told = decode(payload)
    return SheetText(
        joined(text.replace("\r\n", "\n").replace("\r", "\n").split("\n")),
        FileKind.MAIL.value,
        left_out,
        (told,) if told else (),
    )
