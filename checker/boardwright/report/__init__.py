"""What the checker answers: one ``Report``, and how it is written as text, JSON and drawings."""
