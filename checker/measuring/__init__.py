"""What the commands that measure the checker (gauntlet, mutation, fuzz, bench) share."""
