"""Hostile input: texts made to break the checker, each judged in a process of its own that is watched from outside."""
