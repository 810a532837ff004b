"""The stream: a player in a process of its own, fed through a pipe, read through a board in shared memory."""
