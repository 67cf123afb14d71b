"""The language: one module for each section of a board."""
