"""The gauntlet: boards that are good by construction, and the same boards with a known fault put in.

What builds boards and what breaks them knows the language of boards and the trade, and nothing of how the checker decides:
neither imports any of it. Only `trial` meets the checker, through its front door.
"""
