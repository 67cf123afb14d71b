"""What we promise in numbers, measured."""
