"""The second screen: a page for a television, tablet or phone, which shows what the class screen shows and gives no
orders.

Conventions: what is published is one board at a time as one JSON text; a viewer gets the newest, and misses those it
had no time for. ``publish`` may be called from any thread and never waits.
"""
