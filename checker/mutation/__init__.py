"""Mutation: one small wrong step put into a formula, a rule or a limit at a time, to see whether any test notices.

General tools were tried first. One leaves functions with a decorator alone, which all rules are, and whatever stands outside of
functions, which all limits do; another starts Python and pytest anew for every mutant, which is seconds for thousands of them.
Here the tests are imported and collected once, and each mutant is put into a forked copy of that process.
"""
