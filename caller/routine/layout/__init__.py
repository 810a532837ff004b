"""From the text of a sheet to its blocks: which line is a heading, a step line, an event, a header, a note."""
