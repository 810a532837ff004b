"""Any file as the text of a sheet: text in any encoding, PDF, Word, OpenDocument, RTF, web page, mail.

Conventions: bytes in, plain lines out, in reading order; a table's row is one line, its cells parted by two spaces.
What is left out (page numbers, running headers, menus) is told, never dropped in silence. Whatever the bytes are, the
outcome is a :class:`~caller.intake.found.Found` or an :class:`~caller.intake.found.Unreadable` with one sentence.
"""
