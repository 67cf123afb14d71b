"""Hostile input: texts made to break the checker, each judged in a process of its own, and visits made to break the site's pages in a browser."""
