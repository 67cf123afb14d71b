"""Mutation: one small wrong step put into a formula, a rule or a limit at a time, to see whether any test notices.

cosmic-ray makes the mutants. Its own runner starts Python and pytest anew for each, which is seconds for thousands of them; here the
tests are imported and collected once, and each mutant is put into a forked copy of that process.
"""
